"""Tree nodes that hold a script together: values, sections, words, checks, repeats, techniques.

``at`` is the line, ``body`` the block under it.  What is done at the machine is in
``instructions``.
"""

from __future__ import annotations

from typing import Literal, Union

from sockscript.operations.model import node
from sockscript.text.source import Span
from sockscript.tree.expressions import BedName, Condition, Expr
from sockscript.tree.instructions import WorkStatement

Block = tuple["Statement", ...]


@node
class Words:
    """Printed words: plain text and, between braces, values."""

    at: Span
    parts: tuple[str | Expr, ...]


# ---- glue


@node
class Let:
    """A name for a value: ``let half = around / 2``."""

    at: Span
    name: str
    value: Expr


@node
class Section:
    """A titled part of the pattern; ``fabric`` names its gauge."""

    at: Span
    title: str
    fabric: str | None
    body: Block


@node
class Step:
    """Words that are printed for what the body does."""

    at: Span
    words: Words
    body: Block


@node
class Remark:
    """A note or a caution."""

    at: Span
    kind: Literal["note", "caution"]
    words: Words


@node
class Expect:
    """What the author is sure of at this point."""

    at: Span
    condition: Condition


@node
class Target:
    """What the section (or foot, heel, toe) should measure, and how far off it may be."""

    at: Span
    what: Literal["girth", "length", "foot length", "heel depth", "heel width", "toe depth"]
    value: Expr
    within: Expr | None


@node
class Allow:
    """A finding that the author knows of and wants to stay, with her reason."""

    at: Span
    name: str
    reason: str
    name_at: Span


@node
class RepeatTimes:
    """The body so many times over."""

    at: Span
    times: Expr
    body: Block


@node
class RepeatUntil:
    """The body until a condition holds; it is looked at before each time round."""

    at: Span
    until: Condition
    body: Block


@node
class When:
    """One block if a condition holds, another if not."""

    at: Span
    condition: Condition
    body: Block
    otherwise: Block


@node
class Parameter:
    """A value that a technique takes; without ``default`` it must be given."""

    at: Span
    name: str
    default: Expr | None


@node
class Technique:
    """A named piece of a pattern with values."""

    at: Span
    name: str
    parameters: tuple[Parameter, ...]
    body: Block


@node
class Contract:
    """What must be so when a technique is called, or what it leaves when it is done."""

    at: Span
    which: Literal["needs", "leaves"]
    condition: Condition


@node
class Do:
    """A call of a technique; ``arguments`` are name, value and place."""

    at: Span
    name: str
    name_at: Span
    bed: BedName | None
    arguments: tuple[tuple[str, Expr, Span], ...]


Statement = Union[
    Let, Section, Step, Remark, Expect, Target, Allow, RepeatTimes, RepeatUntil, When,
    Technique, Contract, Do, WorkStatement,
]
