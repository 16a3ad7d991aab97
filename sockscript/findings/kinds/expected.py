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

TECHNIQUE_OUT_OF_PLACE = Kind(
    "technique-out-of-place", "fault",
    "The technique '{technique}' needs {wanted}, but {found}.",
    "Look at what comes before this line, and at the values that the technique is called with.",
    echo=True,
    counts=True)

TECHNIQUE_PROMISE_BROKEN = Kind(
    "technique-promise-broken", "fault",
    "The technique '{technique}' is to leave {wanted}, but {found}.",
    "Look at the values that it is called with, and at its lines; or its 'leaves' line is old.",
    echo=True)

OF_CONTRACTS = (TECHNIQUE_OUT_OF_PLACE, TECHNIQUE_PROMISE_BROKEN)
"""These are told of the line that calls the technique; the last place is what it says itself."""

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
