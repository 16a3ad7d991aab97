"""A finding: one thing that the author should know, with where, when and for which sizes."""

from __future__ import annotations

from typing import NamedTuple

from sockscript.findings.kind import Severity
from sockscript.text.mend import Mend
from sockscript.text.source import Span

IN_TECHNIQUE = "in this technique"
"""The label of the line in a technique where a finding of its call happened."""
BY_WAY_OF = "by way of this line"
"""The label of a line in a technique that calls the one where it happened."""
CALLED_BY = "called by this line"
"""The label of a call by which the line of a finding was reached."""

IN_CONTRACT = "the technique says"
"""The label of the line in a technique that tells what it needs or leaves."""


class SecondPlace(NamedTuple):
    """Another line that matters, and why."""

    at: Span
    label: str


class Cause(NamedTuple):
    """An earlier finding from which another may only follow: its name and place."""

    kind: str
    at: Span


class Finding(NamedTuple):
    """What the check found.

    ``sizes``: the sizes concerned (empty: all, or it has nothing to do with sizes).
    ``choices``: for which reader's choices only.  ``step``: the printed step.
    ``counter``: the row counter then.  ``times``: how often it happens.
    ``drawing``: the needles concerned, in plain characters.
    ``mend``: a change of the script that surely takes it away.
    ``when``: its place in the order of the work.  ``stops``: nothing is knitted after it.
    ``cause``: what was told before and may be all that is wrong.
    """

    kind: str
    severity: Severity
    at: Span
    message: str
    advice: str
    sizes: tuple[str, ...] = ()
    choices: str = ""
    step: int | None = None
    counter: int | None = None
    times: int = 1
    others: tuple[SecondPlace, ...] = ()
    drawing: str = ""
    mend: Mend | None = None
    when: tuple[int, int] = (1, 0)
    stops: bool = False
    cause: Cause | None = None
