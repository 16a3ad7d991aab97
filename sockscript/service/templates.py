"""Lines and parts of lines to fill in, with stops at what is to be written."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple, Union

from sockscript.tree.line_kinds import BLANK


class TabStop(NamedTuple):
    """A place to fill in; ``text`` stands there until then."""

    text: str


TemplatePart = Union[str, TabStop]

NEEDLES: tuple[tuple[str, str], ...] = (
    ("left <2> of <front>", "The outermost stitches at the left."),
    ("right <2> of <front>", "The outermost stitches at the right."),
    ("left <1> working of <front>", "The outermost needles at the left that are in work and not "
     "held."),
    ("right <1> working of <front>", "The outermost needles at the right that are in work and "
     "not held."),
    ("left <1> held of <front>", "The held needles at the left next to the working ones."),
    ("right <1> held of <front>", "The held needles at the right next to the working ones."),
    ("carriage side <1> working of <front>", "The needles in work nearest to the carriage."),
    ("far side <1> held of <front>", "The held needles next to the working ones, at the end "
     "opposite the carriage."),
    ("centre <36> of <front>", "So many needles about the middle of the bed."),
    ("<L18> to <R18> of <front>", "From one needle to another, counted from the centre."),
    ("every other of <all> of <front>", "Every second needle, from the left."),
    ("all of <front>", "All needles that are not out of work."),
    ("held of <front>", "All needles in hold."),
    ("empty of <front>", "All needles in work that have no stitch."),
)
"""Sets of needles, with what they are."""

ROUNDINGS: tuple[tuple[str, str], ...] = (
    ("to nearest even", "Rounded to the nearest even number."),
    ("to nearest multiple of <4>", "Rounded to the nearest number that can be divided so."),
    ("to nearest whole", "Rounded to the nearest whole number."),
    ("to nearest odd", "Rounded to the nearest odd number."),
    ("up to even", "Rounded up to an even number."),
    ("down to even", "Rounded down to an even number."),
)
"""Endings of a number, with what they do."""


def parts_of(template: str, known: Mapping[str, Sequence[str]] | None = None
             ) -> tuple[TemplatePart, ...]:
    """A template as text and stops.

    A stop ``<yarn:main>`` takes the first name that is ``known`` of its kind, if there is one.
    """
    parts: list[TemplatePart] = []
    position = 0
    for match in BLANK.finditer(template):
        if match.start() > position:
            parts.append(template[position:match.start()])
        names = known.get(match.group(1), ()) if known is not None and match.group(1) else ()
        parts.append(TabStop(names[0] if names else match.group(2)))
        position = match.end()
    if position < len(template):
        parts.append(template[position:])
    return tuple(parts)


def text_of(parts: Sequence[TemplatePart]) -> str:
    """What stands there before anything is filled in."""
    return "".join(part.text if isinstance(part, TabStop) else part for part in parts)
