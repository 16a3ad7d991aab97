"""What the author expected or allowed, and what is not so."""

from __future__ import annotations

from sockscript.findings.kind import Kind, LineOut
from sockscript.findings.origins import NEEDLES_CHANGED

EXPECTATION_NOT_MET = Kind(
    "expectation-not-met", "fault",
    "{expected}, but {found}.",
    "{since}",
    echo=True,
    counts=True)

NEVER_TRUE = Kind(
    "never-true", "fault",
    "The repeat never ends: it waits for {wanted}, but {found}.",
    "Look at what the repeated lines change, and by how much each time.",
    led=NEEDLES_CHANGED,
    counts=True)

ALLOW_WITHOUT_EFFECT = Kind(
    "allow-without-effect", "advice",
    "'{name}' is allowed here, but is not found here any more.",
    "Take the allow line out; it might hide the next one.",
    mend=LineOut())
