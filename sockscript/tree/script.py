"""The whole of a script: its header and its sections."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, NamedTuple

from attrs import field, frozen

from sockscript.numbers.quantity import Exact, InchLength, Quantity
from sockscript.text.source import Problem, Source, Span
from sockscript.tree.expressions import Compare
from sockscript.tree.statements import Allow, Let, Section, Statement, Technique


@frozen
class OwnSwatch:
    """What a member has knitted on her machine: a fabric of a yarn at a stitch size of its dial."""

    at: Span = field(eq=False, repr=False)
    fabric: str
    yarn: str
    stitches: Exact
    rows: Exact
    over: Quantity
    size: Exact


@frozen(eq=False, repr=False)
class MachineNeeds:
    """What a pattern asks of a machine, or a profile says of one.  None: not said."""

    at: Span | None = None
    name: str | None = None
    beds: int | None = None
    needles: int | None = None
    spacing: Exact | None = None
    dial: tuple[Exact, Exact, Exact] | None = None
    pitches: tuple[str, ...] | None = None
    racking: int | None = None
    abilities: tuple[str, ...] = ()
    front_circular: Literal["left", "right"] | None = None
    words: Mapping[str, str] = field(factory=dict)
    word_places: Mapping[str, Span] = field(factory=dict)
    swatches: tuple[OwnSwatch, ...] = ()


@frozen(eq=False, repr=False)
class Yarn:
    """A yarn: its script name, what it is, metres per gram if known, and its role."""

    at: Span
    name: str
    text: str
    metres_per_gram: Exact | None
    role: Literal["main", "waste", "cord"]
    ball_grams: Exact | None = None


@frozen(eq=False, repr=False)
class Gauge:
    """Stitches and rows per millimetre of a fabric."""

    at: Span
    fabric: str
    stitches_per_mm: Exact
    rows_per_mm: Exact
    stitches: Exact
    rows: Exact
    over: Quantity
    state: Literal["dry", "wet", "washed"] = "washed"
    """How far the swatch was relaxed when it was measured."""
    stretch: Exact | None = None
    """How wide the fabric can be pulled, as a multiple of its width (None: not said)."""


@frozen(eq=False, repr=False)
class Weighed:
    """A swatch on the scales: how much yarn so many stitches and rows of a fabric took."""

    at: Span
    fabric: str
    stitches: Exact
    rows: Exact
    grams: Exact
    yarn: str


@frozen(eq=False, repr=False)
class Option:
    """A choice left to the reader; the first value is the default unless one is named.

    ``words``: what a value is called where it is printed, for those that have words of their own.
    """

    at: Span
    name: str
    values: tuple[Quantity | str, ...]
    default: Quantity | str
    words: Mapping[Quantity | str, str]


@frozen(eq=False, repr=False)
class Sizes:
    """The table of sizes: one mapping of measurements for each, in the order of the columns."""

    at: Span
    names: tuple[str, ...]
    measures: Mapping[str, tuple[Quantity, ...]]
    places: Mapping[str, Span]
    from_feet: frozenset[str] = frozenset()
    """Measurements that the author took from the built-in table of feet."""


@frozen(eq=False, repr=False)
class Range:
    """Values that a measurement or count (or the stitches or rows of a gauge) may have."""

    at: Span
    what: Literal["value", "stitches", "rows"]
    name: str
    values: tuple[Quantity, ...]

    @property
    def label(self) -> str:
        """How it is called in tables: ``foot-round``, ``gauge plain stitches``."""
        return self.name if self.what == "value" else f"gauge {self.name} {self.what}"


@frozen(eq=False, repr=False)
class WorksFor:
    """The ranges for which a pattern is said to knit, and what their values must fulfil."""

    at: Span
    ranges: tuple[Range, ...]
    where: tuple[Compare, ...]


class Exchange(NamedTuple):
    """A technique that stands in the place of another one."""

    at: Span
    name: str
    name_at: Span
    other: str
    other_at: Span


class BuiltOn(NamedTuple):
    """A script that another builds on; ``name``: its file, from the folder of that other."""

    name: str
    script: Script


@frozen(eq=False, repr=False)
class Script:
    """A script that could be read, at least in part (see ``problems``)."""

    source: Source
    title: str = ""
    author: str = ""
    version: str = ""
    licence: str = ""
    machine: MachineNeeds = MachineNeeds()
    yarns: tuple[Yarn, ...] = ()
    gauges: tuple[Gauge, ...] = ()
    swatches: tuple[Weighed, ...] = ()
    sizes: Sizes | None = None
    options: tuple[Option, ...] = ()
    works_for: WorksFor | None = None
    lets: tuple[Let, ...] = ()
    remarks: tuple[Statement, ...] = ()
    allows: tuple[Allow, ...] = ()
    techniques: Mapping[str, Technique] = field(factory=dict)
    uses: tuple[tuple[str, Span], ...] = ()
    exchanges: tuple[Exchange, ...] = ()
    builds_on: tuple[str, Span] | None = None
    based_on: tuple[BuiltOn, ...] = ()
    """The scripts that it builds on, the nearest first, after all was put together."""
    sections: tuple[Section, ...] = ()
    problems: tuple[Problem, ...] = ()
    spoiled: frozenset[str] = frozenset()
    """Names that a line with a slip would have defined."""

    def wrote(self, at: Span) -> bool:
        """Whether a line stands in the script, or in one that it builds on."""
        return at.source is self.source or any(
            at.source is one.script.source for one in self.based_on)

    @property
    def yarn_words(self) -> dict[str, str]:
        """What each yarn is called in print, by its name; with it where two are called the same."""
        texts = [yarn.text.lower() for yarn in self.yarns]
        return {yarn.name: yarn.text
                + (f" ({yarn.name})" if texts.count(yarn.text.lower()) > 1 else "")
                for yarn in self.yarns}

    @property
    def inches(self) -> bool:
        """Whether its author measures in inches: in the table of sizes, or else for the gauge."""
        measured = [value for name, values in self.sizes.measures.items() for value in values
                    if value.unit == "mm" and name not in self.sizes.from_feet
                    ] if self.sizes is not None else []
        measured += [gauge.over for gauge in self.gauges]
        return bool(measured) and isinstance(measured[0], InchLength)
