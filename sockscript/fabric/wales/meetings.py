"""What hangs on the needles beside what: joints, stretches, and what would mend them.

The terms are those of ``model.md``.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from itertools import combinations, pairwise
from typing import Literal, NamedTuple, Protocol

from sockscript.fabric.wales.cloth import Cloth, pairs
from sockscript.operations.beds import BACK, FRONT, Bed, Spot

Order = Literal["row", "rib", "round", "graft"]
Wrong = Literal["", "reversed", "exchanged", "crossed", "interleaved", "mixed", "inside-out"]

FEW = 3
"""Stitches out of order that are a slip of the tool and not a group hung wrongly: common practice,
no source."""
CABLE = 6
"""Stitches of each strand of the widest cable: common practice, no source."""
MOST_STRETCHES = 6
"""Parts of the cloth among which a mend is looked for; nobody hangs more at once."""


class Joint(NamedTuple):
    """Where two columns that are no neighbours come side by side.

    Off the needles (groups that are grafted) a column has no place.
    """

    kind: Literal["edges", "jump"]
    one: Spot | None
    two: Spot | None


class Meeting(NamedTuple):
    """Yarn goes for the first time along an order that hands have changed.

    ``moment``: index of that operation.  ``edges``: where edges meet.  ``jumps``: where the
    cloth is crossed.  ``wrong``: what is the matter; ``needles``: what hangs wrongly (for two
    stretches exchanged, both, one after the other).  ``moved``: columns of the ring before that
    hang on the other bed now.
    """

    moment: int
    order: Order
    edges: tuple[Joint, ...]
    jumps: tuple[Joint, ...]
    wrong: Wrong
    needles: tuple[tuple[Spot, ...], ...]
    moved: int


class Before(Protocol):
    """The ring before a meeting."""

    beds: dict[int, Bed]

    def moved(self, places: dict[int, Spot]) -> int:
        """How many of its columns hang on the other bed now."""

    def against(self, part: Sequence[int]) -> bool:
        """Whether a stretch runs the other way round than in it."""


FoundJoint = tuple[Literal["edges", "jump"], int, int]
"""A joint between two columns."""


def meeting(moment: int, shape: Order, cloth: Cloth, order: Sequence[int],
            found: Sequence[FoundJoint], places: dict[int, Spot], ring: Before,
            touched: Collection[int], hanging: Collection[int] | None = None) -> Meeting:
    """A meeting that is more than cloth.

    ``found``: its joints.  ``touched``: columns that hands have moved.  ``hanging``: the columns
    on the needles and those taken off to be grafted, if these are others than ``places`` has.
    """
    jumps = tuple(Joint("jump", places.get(one), places.get(two))
                  for kind, one, two in found if kind == "jump")
    wrong: Wrong = ""
    parts: list[list[int]] = []
    if jumps:
        if shape == "rib":
            faces: Mapping[int, Bed] = {column: place[0] for column, place in places.items()}
        else:
            faces = ring.beds

        def innocent(part: list[int]) -> int:
            return (part[0] not in touched) * 2 + (not ring.against(part))

        wrong, parts = what_is_wrong(cloth, order, shape in ("round", "graft"),
                                     places if hanging is None else hanging, faces, innocent)
    return Meeting(moment, shape,
                   tuple(Joint(kind, places.get(one), places.get(two))
                         for kind, one, two in found if kind == "edges"),
                   jumps, wrong,
                   tuple(tuple(sorted(places[column] for column in part)) for part in parts
                         if all(column in places for column in part)),
                   ring.moved(places))


def joints(cloth: Cloth, order: Sequence[int], closed: bool, hanging: Collection[int],
           fresh: Collection[int] = (), worked: Collection[int] | None = None
           ) -> Iterator[FoundJoint]:
    """The joints of an order that are neither cloth nor new.

    ``hanging``: all columns on the needles.  ``fresh``: those just made.  ``worked``: those that
    the yarn goes along, if not all.
    """
    along = set(pairs(order, closed)) if fresh else ()
    old = [column for column in order if column not in fresh] if fresh else order
    for one, two in pairs(old, closed):
        if one == two or cloth.linked(one, two) or (
                worked is not None and not (one in worked and two in worked)):
            continue
        if not (free(cloth, one, hanging) and free(cloth, two, hanging)) \
                or _upside_down(cloth, one, two, hanging):
            yield "jump", one, two
        elif not fresh or (one, two) in along:
            yield "edges", one, two


def free(cloth: Cloth, column: int, hanging: Collection[int]) -> bool:
    """Whether a column has an edge: a side without a neighbour on the needles."""
    return sum(other in hanging and cloth.linked(column, other)
               for other in cloth.beside[column]) < 2


def _upside_down(cloth: Cloth, one: int, two: int, hanging: Collection[int]) -> bool:
    """Whether a foot meets the end of another column while its own hangs elsewhere."""
    owner = cloth.owner
    for foot, other in ((one, two), (two, one)):
        if foot in owner and other not in owner and owner[foot] != other \
                and owner[foot] in hanging:
            return True
    return False


def stretches(cloth: Cloth, order: Sequence[int], closed: bool) -> list[list[int]]:
    """The parts of an order that hang together, if not all do."""
    parts: list[list[int]] = []
    for column in order:
        if parts and cloth.linked(parts[-1][-1], column):
            parts[-1].append(column)
        else:
            parts.append([column])
    if closed and cloth.linked(parts[-1][-1], parts[0][0]):
        parts[0] = parts.pop() + parts[0]
    return parts


def without_cables(cloth: Cloth, order: Sequence[int], closed: bool) -> list[int]:
    """An order with its cables laid back: two strands that changed places, beside each other or
    over a third."""
    parts = stretches(cloth, order, closed)
    count = len(parts)
    for n in range(count):
        before, one, two, three, after = (
            parts[at % count] if closed or at in range(count) else []
            for at in range(n - 1, n + 4))
        if n + 2 < count and max(len(one), len(two), len(three)) <= CABLE and _fit(
                cloth, before, [three, two, one], after):
            parts[n], parts[n + 2] = three, one
        elif n + 1 < count and max(len(one), len(two)) <= CABLE and _fit(
                cloth, before, [two, one], three):
            parts[n], parts[n + 1] = two, one
        elif len(one) == 2 and _fit(cloth, before, [one[::-1]], two):
            parts[n] = one[::-1]
    return [column for part in parts for column in part]


def _fit(cloth: Cloth, before: list[int], parts: list[list[int]], after: list[int]) -> bool:
    """Whether parts hang together, and with what is beside them at one side at least: beside a
    cable may stand another one.  Beyond the end of a row is nothing."""
    sides = [cloth.linked(a[-1], b[0])
             for a, b in ((before, parts[0]), (parts[-1], after)) if a and b]
    return (any(sides) or not sides) and all(
        cloth.linked(a[-1], b[0]) for a, b in pairwise(parts))


def what_is_wrong(cloth: Cloth, order: Sequence[int], closed: bool, hanging: Collection[int],
                  faces: Mapping[int, Bed], innocent: Callable[[list[int]], int],
                  ) -> tuple[Wrong, list[list[int]]]:
    """Name what would mend an order with jumps, and the stretches that hang wrongly.

    ``faces``: the bed that a column was on before it was moved, if that is known.
    ``innocent``: how unlikely it is that a stretch is the wrong one, where others are as long.
    """
    parts = stretches(cloth, order, closed)
    if len(parts) <= MOST_STRETCHES:
        def fits(arranged: Sequence[list[int]]) -> bool:
            meet = [(a[-1], b[0]) for a, b in pairs(arranged, closed)]
            return all(cloth.linked(a, b) or (
                free(cloth, a, hanging) and free(cloth, b, hanging)
                and not _upside_down(cloth, a, b, hanging)) for a, b in meet)

        turned = _turned(parts, fits, innocent)
        if turned:
            return "crossed" if sum(map(len, turned)) <= FEW else "reversed", turned
        changed = _exchanged(parts, fits)
        if changed:
            return "crossed" if sum(map(len, changed)) <= FEW else "exchanged", changed
    by_turns = sum({faces.get(a), faces.get(b)} == {FRONT, BACK} for a, b in pairwise(order))
    if 2 * by_turns > len(order):
        return "interleaved", []
    jumping = [part for part in parts if len(part) <= FEW]
    return "mixed", jumping if len(parts) > len(jumping) else []


def _by_size(parts: list[list[int]], innocent: Callable[[list[int]], int],
             ) -> list[tuple[int, ...]]:
    """All choices of some parts, those with the fewest stitches first."""
    chosen = [some for count in range(len(parts))
              for some in combinations(range(len(parts)), count)]
    return sorted(chosen, key=lambda some: (
        sum(len(parts[n]) for n in some), sum(innocent(parts[n]) for n in some), len(some), some))


def _turned(parts: list[list[int]], fits: Callable[[Sequence[list[int]]], bool],
            innocent: Callable[[list[int]], int]) -> list[list[int]]:
    """The fewest stitches that, turned where they hang, make the order sound."""
    for some in _by_size(parts, innocent):
        if fits([part[::-1] if n in some else part for n, part in enumerate(parts)]):
            return [parts[n] for n in some]
    return []


def _exchanged(parts: list[list[int]], fits: Callable[[Sequence[list[int]]], bool],
               ) -> list[list[int]]:
    """Two parts that, hung in each other's places (turned or not), make the order sound."""
    for one, two in sorted(combinations(range(len(parts)), 2),
                           key=lambda pair: len(parts[pair[0]]) + len(parts[pair[1]])):
        for turn_one in (False, True):
            for turn_two in (False, True):
                tried = list(parts)
                tried[one] = parts[two][::-1] if turn_two else parts[two]
                tried[two] = parts[one][::-1] if turn_one else parts[one]
                if fits(tried):
                    return [parts[one], parts[two]]
    return []
