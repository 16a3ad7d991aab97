"""What the rows of a size table name, measured on the finished piece: lengths and girths."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from sockscript.expand.run import Run
from sockscript.expand.values import no_counts
from sockscript.fabric.amounts import gauge_for
from sockscript.fabric.finished import finished
from sockscript.fabric.halves import halves_of
from sockscript.fabric.hems import meets_loops
from sockscript.fabric.piece import Rows
from sockscript.fabric.pieces import pieces
from sockscript.fabric.sock import sock_of
from sockscript.numbers.quantity import Exact, Quantity
from sockscript.operations.ops import Rehang
from sockscript.tree.script import Gauge

SEAM = 2
"""Stitches of a flat piece that go into its seam, one at each edge (common practice, no
source)."""


def measured_as(run: Run, name: str) -> list[Fraction]:
    """What the finished piece measures where a table has ``name``, in mm.

    More than one value where knitters differ in what they mean: a leg with its cuff and without.
    None where the piece has no such part.
    """
    if not run.script.gauges:
        return []
    return _LENGTHS[name](run) if name in _LENGTHS else _girth(run, _ROWS[name](run))


def measured_on(run: Run, name: str) -> tuple[int, int] | None:
    """The moments (first, and one past the last) of the rows on which ``name`` is measured, of a
    girth that of the first of them; None where the piece has no such part."""
    moments = [one.moment for one in _ROWS[name](run)] if run.script.gauges else []
    if not moments:
        return None
    return min(moments), (max(moments) if name in _LENGTHS else min(moments)) + 1


def _foot_length(run: Run) -> list[Fraction]:
    foot = finished(run).foot
    return [] if foot is None else [foot]


def _leg_length(run: Run) -> list[Fraction]:
    rows = _leg(run)
    if not rows:
        return []
    cuff, other_end = _cuff(run, rows), _cuff(run, rows[::-1])
    found = [_long(part) for part in (rows, rows[len(cuff):],
                                      rows[len(cuff):len(rows) - len(other_end)]) if part]
    edges = _edges_in_table(run)
    return found + [found[0] - less for less in dict.fromkeys([*edges, sum(edges)])
                    if less < found[0]]


def _edges_in_table(run: Run) -> list[Exact]:
    """Other lengths of the table that lie along the leg: a hem, a rib under another name."""
    sizes = run.script.sizes
    found = []
    for name, at in sizes.places.items() if sizes is not None else ():
        value = run.names.get(name, at, no_counts)
        if isinstance(value, Quantity) and value.unit == "mm" and not name.endswith("-round") \
                and name not in ("foot-length", "leg-length"):
            found.append(value.value)
    return found


def _cuff_length(run: Run) -> list[Fraction]:
    rows = _leg(run)
    cuff = _cuff(run, rows)
    return [_long(cuff)] if cuff and len(cuff) < len(rows) else []


def _leg(run: Run) -> Sequence[Rows]:
    """The rows between the open edge and the heel, beginning at the edge; without a heel, those of
    the largest piece."""
    half = halves_of(run)
    if half is not None:
        return half.leg if half.leg[0].moment < half.sole[0].moment else half.leg[::-1]
    sock = sock_of(run)
    if sock is not None:
        return sock.leg[::-1] if sock.toe_first else sock.leg
    return max((piece.rows for piece in pieces(run)), key=_stitches, default=[])


def _stitches(rows: Sequence[Rows]) -> Exact:
    return sum(one.stitches * one.rows for one in rows)


def _cuff(run: Run, rows: Sequence[Rows]) -> Sequence[Rows]:
    """The rows from an edge to the last of a rib, or else those of another fabric than what
    follows."""
    rib = [n for n, one in enumerate(rows) if one.rib]
    # A row on both beds at a cast-on edge is no rib yet.
    ribbed = _count([rows[n] for n in rib])
    if ribbed > 1 and ribbed * 2 > _count(rows[:rib[-1] + 1]):
        return rows[:rib[-1] + 1]
    fabrics = [_gauge(run, one) for one in rows]
    same = 0
    while same < len(rows) and fabrics[same] is fabrics[0]:
        same += 1
    return rows[:same] if same < len(rows) else []


def hem_depth(run: Run) -> Fraction:
    """How deep a hem at the open edge is that was hung up, in mm; 0 where there is none.  It may be
    what is meant by a cuff."""
    rows = _leg(run)
    closed = next((change.number for change in run.changes_by(Rehang)
                   if rows and change.number > rows[0].moment and meets_loops(change)), 0)
    return _long([one for one in rows if one.moment < closed])


def _count(rows: Sequence[Rows]) -> Exact:
    return sum(one.rows for one in rows)


def _long(rows: Sequence[Rows]) -> Fraction:
    return sum((one.mm for one in rows if one.mm is not None), Fraction(0))


def _of_foot(run: Run) -> Sequence[Rows]:
    """The rows round the foot that have most of its rows' stitches."""
    half = halves_of(run)
    if half is not None:
        return _alike(run, half.sole)
    sock = sock_of(run)
    return _alike(run, (sock.foot or sock.toe) if sock is not None else _leg(run))


def _narrowest(run: Run) -> Sequence[Rows]:
    """The narrowest of the leg, without its cuff."""
    rows = _leg(run)
    plain = rows[len(_cuff(run, rows)):]
    least = min((one.stitches for one in plain), default=0)
    return _alike(run, [one for one in plain if one.stitches == least])


def _widest(run: Run) -> Sequence[Rows]:
    """The widest of the leg, without its cuff."""
    rows = _leg(run)
    plain = rows[len(_cuff(run, rows)):]
    most = max((one.stitches for one in plain), default=0)
    return _alike(run, [one for one in plain if one.stitches == most])


def _alike(run: Run, rows: Sequence[Rows]) -> Sequence[Rows]:
    """Those of as many stitches and of the fabric that most of some rows have."""
    counts: dict[tuple[int, Gauge], Exact] = {}
    for one in rows:
        key = one.stitches, _gauge(run, one)
        counts[key] = counts.get(key, 0) + one.rows
    if not counts:
        return []
    most = max(counts, key=lambda key: counts[key])
    return [one for one in rows if (one.stitches, _gauge(run, one)) == most]


def _girth(run: Run, rows: Sequence[Rows]) -> list[Fraction]:
    """The girth of rows that are alike; of a flat piece also without its seam, and of a sock in
    half its width twice that, without its two."""
    if not rows:
        return []
    state = run.moments[rows[0].moment].state
    flat = not state.on_both
    times = 2 if halves_of(run) is not None else 1
    seams = (0, SEAM * times) if flat else (0,)
    return [Fraction(rows[0].stitches * times - seam) / _gauge(run, rows[0]).stitches_per_mm
            for seam in seams]


def _gauge(run: Run, row: Rows) -> Gauge:
    section = next(one for one in run.sections if row.moment < one.last)
    gauge = gauge_for(run, section)
    assert gauge is not None
    return gauge


def _along_foot(run: Run) -> Sequence[Rows]:
    half = halves_of(run)
    if half is not None:
        return half.sole
    sock = sock_of(run)
    return (*sock.between, *sock.foot, *sock.toe) if sock is not None else ()


def _of_cuff(run: Run) -> Sequence[Rows]:
    return _cuff(run, _leg(run))


_LENGTHS: dict[str, Callable[[Run], list[Fraction]]] = {
    "foot-length": _foot_length, "leg-length": _leg_length, "cuff-length": _cuff_length}
_ROWS: dict[str, Callable[[Run], Sequence[Rows]]] = {
    "foot-length": _along_foot, "leg-length": _leg, "cuff-length": _of_cuff,
    "foot-round": _of_foot, "ankle-round": _narrowest, "calf-round": _widest}
MEASURES = tuple(_ROWS)
"""Names of rows in a size table that say what the finished piece should measure.  ``heel-round`` is
no measurement of the sock: leg and cuff have to go over it."""
