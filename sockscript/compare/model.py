"""What a comparison found: changes in parts, and what someone half way through must know."""

from __future__ import annotations

from typing import Literal

from attrs import frozen

from sockscript.numbers.quantity import Exact

Sameness = Literal["same-script", "same-knitting", "differs", "not-known"]
"""``same-script``: but for comments, layout and files' names; ``same-knitting``: written
otherwise, knitted stitch for stitch alike; ``not-known``: one of them cannot be knitted."""


@frozen
class Numbers:
    """A number in both versions, for each of the sizes that both have (None: it has none)."""

    unit: Literal["stitches", "rows", "loops", "pieces", "mm", "m", "g"]
    was: tuple[Exact | None, ...]
    now: tuple[Exact | None, ...]


@frozen
class Difference:
    """One thing that changed, in a sentence.

    ``what``: its kind, for other tools.  ``sizes``: those that it is for, of those that both
    versions have.  ``choice``: with which choice it is so (empty: with the usual ones).
    ``detail``: told only to whoever asks for every step.  ``rule``: the same without the values
    that were and are (empty: there are none in it).
    """

    what: str
    words: str
    sizes: tuple[str, ...]
    numbers: Numbers | None = None
    choice: str = ""
    detail: bool = False
    rule: str = ""


@frozen
class Part:
    """Changes of one kind under a heading."""

    name: str
    title: str
    changes: tuple[Difference, ...]


@frozen
class HalfWay:
    """What someone who has begun one of some sizes by the old version must know.

    ``until``: the last step before anything differs (0: none); ``after``: the last step at which
    anything differs (None: nothing does); steps are those of the old version.
    ``change_at``: sections at whose beginning the needles stand alike in both.
    """

    sizes: tuple[str, ...]
    words: str
    until: int
    after: int | None
    change_at: tuple[str, ...] = ()


@frozen
class Version:
    """One of the two: what its file is called, what stands at its head, and its fingerprint
    (empty: it cannot be understood)."""

    file: str
    title: str
    version: str
    mark: str
    knits: bool


@frozen
class Comparison:
    """Everything that differs.  ``limits``: what could not be compared, and why."""

    was: Version
    now: Version
    sameness: Sameness
    sizes: tuple[str, ...]
    limits: tuple[str, ...] = ()
    parts: tuple[Part, ...] = ()
    half_way: tuple[HalfWay, ...] = ()
