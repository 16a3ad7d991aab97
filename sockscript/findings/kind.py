"""What is known of a finding before it is found: one object for each, beside its rule.

The sentences are filled in with the needles and numbers of the first size concerned:
``{needles}`` names the needles (``L16 to R16``), ``{stitches}`` counts them (``3 stitches``),
``{bed}``, ``{other}``, ``{amount}``, ``{name}`` come from the fault (``filled_in``), and whatever
else a rule gives by name as the detail of its mishap.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, NamedTuple, Union

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.operations.beds import Bed
from sockscript.text.mend import Mend
from sockscript.trace.faults import Fault, FindingName

Severity = Literal["fault", "warning", "advice"]


class LineBefore(NamedTuple):
    """The mend is a line before the one told; its text may name fields as a sentence does."""

    text: str


class LineOut(NamedTuple):
    """The mend is to take the line out."""


class LedBy(NamedTuple):
    """How the operation is told that led to a mishap, and what to say of its line.

    ``noticed_before``: the mishap is noticed before the machine does anything, so that the last
    operation may have led to it.  ``first``: the first such operation, not the last.
    """

    leads: Callable[[Transition, Mishap], bool]
    label: str
    noticed_before: bool = False
    first: bool = False


class LedMost(NamedTuple):
    """The line that has most to do with it, by what each operation weighs; what to say of it."""

    weight: Callable[[Transition], int]
    label: str


Leading = Union[LedBy, LedMost]


class Kind(NamedTuple):
    """One kind of finding.

    ``mend``: a change that surely takes it away; a function looks for one.
    ``led``: which earlier line is shown with it; a function chooses by the mishap.
    ``counts``: it is about a number, so the lines are shown where the values were worked out that
    its line speaks of.
    ``follows``: names of findings from which it only follows when they are told of the same line
    (``follows_anywhere``: of any line); then it is not told.
    ``echo``: not told when it came about in just the moment of another finding.
    ``since``: the version of Sockscript that told it first.
    """

    name: str
    severity: Severity
    sentence: str
    advice: str
    mend: Union[LineBefore, LineOut, Callable[[Mishap, Run], Mend | None], None] = None
    led: Union[Leading, Callable[[Mishap], Leading], None] = None
    follows: tuple[str, ...] = ()
    follows_anywhere: tuple[str, ...] = ()
    echo: bool = False
    counts: bool = False
    since: str = "0.1"

    def fault(self, bed: Bed | None = None, needles: int = 0, amount: int = 0,
              name: str = "") -> Fault:
        """A fault of this kind: where on the machine, how many, and of what name."""
        return Fault(FindingName(self.name), bed, needles, amount, name)
