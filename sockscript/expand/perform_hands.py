"""Work by hand: transfers, folds, fashioned moves, wraps, casting on and off, grafting."""

from __future__ import annotations

from collections.abc import Callable

from sockscript.expand import printed as pr
from sockscript.expand.described import NeedleSet
from sockscript.expand.needles import Chosen, choose
from sockscript.expand.run import Run
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.operations.beds import (
    BEDS,
    Bed,
    Side,
    facing_needle,
    highest,
    indices,
    lowest,
    needle_name,
    outermost,
)
from sockscript.trace.faults import Fault
from sockscript.tree import instructions as ins


def _on_the_bed(run: Run, moves: list[ops.Move]) -> list[ops.Move]:
    """Leave out moves to needles that the bed does not have, with a fault."""
    kept = []
    for move in moves:
        if 0 <= move[3] < run.engine.profile.needles:
            kept.append(move)
        else:
            run.fault(Fault("needle-off-bed", bed=move[2],
                            name=needle_name(move[3], run.engine.profile.needles)))
    return kept


def _look_for_stitches(run: Run, *chosen: Chosen) -> None:
    """Tell when there are none at all where hands should work on some.

    A number of needles that comes to 0 for a size is meant so.
    """
    beds = [bed for bed in BEDS if any(bed in one.beds for one in chosen)]
    if not any(run.engine.bed(bed).loaded for bed in beds):
        run.fault(Fault("nothing-there", bed=beds[0] if len(beds) == 1 else None), detail={
            "where": f"the {beds[0].word} bed" if len(beds) == 1 else "either bed"})


def transfer(run: Run, line: ins.TransferTo) -> None:
    """Stitches to the needles that face them, or to named ones in order."""
    source = choose(run, line.source, "loaded")
    _look_for_stitches(run, source)
    if line.target.pieces:
        target = choose(run, line.target, "in-use")
        moves = _paired(run, line, source, target)
        words = target.words
    else:
        bed = run.bed(line.target.bed)
        racking = run.engine.racking
        moves = []
        for from_bed, needle in source.listed():
            if from_bed is bed:
                raise run.cannot("same-bed", line.target.at,
                                 f"These stitches are on the {bed.word} bed already.",
                                 "Name the needles that they go to.")
            moves.append((from_bed, needle, bed, facing_needle(from_bed, needle, racking)))
        words = NeedleSet(bed.word)
    run.say(pr.Transferring(source.words, words, line.onto))
    run.do(ops.Transfer(tuple(_on_the_bed(run, moves)), line.onto))


def _paired(run: Run, line: ins.TransferTo, source: Chosen, target: Chosen) -> list[ops.Move]:
    sources, targets = source.listed(), target.listed()
    if len(sources) != len(targets):
        raise run.cannot("pairs-differ", line.at,
                         f"From {len(sources)} to {len(targets)} needles: they do not pair up.",
                         "Name as many needles to go to as to come from.")
    return [(*a, *b) for a, b in zip(sources, targets, strict=True)]


def fold(run: Run, line: ins.FoldOnto) -> None:
    """Turn an outer group about the line between it and the stitches that stay."""
    chosen = choose(run, line.needles, "loaded")
    _look_for_stitches(run, chosen)
    target = run.bed(line.bed)
    source = target.opposite
    if chosen.masks[target]:
        raise run.cannot("same-bed", line.at,
                         f"These stitches are on the {target.word} bed already.",
                         "A group is folded onto the bed that faces it.")
    mask = chosen.masks[source]
    run.say(pr.Folding(chosen.words, target.word))
    if not mask:
        run.do(ops.Fold(()))
        return
    staying = run.engine.bed(source).loaded & ~mask
    left_of = staying and highest(mask) < lowest(staying)
    # The stitch next to the line lands facing its neighbour that stays.
    mirror = highest(mask) * 2 + 1 if left_of else lowest(mask) * 2 - 1
    racking = run.engine.racking
    moves: list[ops.Move] = [(source, n, target, facing_needle(source, mirror - n, racking))
                             for n in indices(mask)]
    run.do(ops.Fold(tuple(_on_the_bed(run, moves))))


def move_edge(run: Run, line: ins.MoveEdge) -> None:
    """Outer stitches sideways, on one or both beds."""
    beds, bed_word = run.beds(line.bed)
    side, word = run.end(line.end)
    count = run.count(line.count, "stitches")
    by = run.count(line.by, "stitches") if line.by is not None else 1
    run.say(pr.EdgeMove(Quantity(count), word, bed_word, line.inwards, Quantity(by)))
    for bed in beds:
        _move_edge_of(run, bed, side, count, by, line.inwards)


def _move_edge_of(run: Run, bed: Bed, side: Side, count: int, by: int, inwards: bool) -> None:
    state = run.engine.bed(bed)
    group = outermost(state.loaded, side, count)
    if group.bit_count() < count:
        run.fault(Fault("too-few-needles", bed=bed, needles=group, amount=count))
    towards = by if (side == "left") == inwards else -by
    moves = [(n, n + towards) for n in indices(group)]
    if towards > 0:
        moves.reverse()
    on_bed = [m for m in moves if 0 <= m[1] < run.engine.profile.needles]
    if len(on_bed) < len(moves):
        run.fault(Fault("needle-off-bed", bed=bed))
    landed = sum(1 << m[1] for m in on_bed)
    # Moved in, the old edge needles are empty and go out of work; moved out, the needle left
    # empty inside stays in work, to be filled or to make an eyelet.
    out = outermost(group, side, by) & ~landed if inwards else 0
    run.do(ops.Fashion(bed, tuple(on_bed), out))


def hand_work(run: Run, line: ins.HandWork) -> None:
    """Wrap, cast on, bind off, gather, drop, latch up."""
    bare = "in-use" if line.kind == "cast-on" else "loaded"
    chosen = choose(run, line.needles, bare)
    run.say(pr.ByHand(line.kind, chosen.words))
    front, back = chosen.masks
    if line.kind == "wrap":
        for bed, needle in chosen.listed():
            run.do(ops.Wrap(bed, needle))
        return
    if line.kind == "cast-on" and not line.needles.pieces:
        for bed in chosen.beds:
            if not run.engine.bed(bed).in_use:
                run.fault(Fault("cast-on-idle-needle", bed))
    if line.kind in ("bind-off", "gather", "drop"):
        _look_for_stitches(run, chosen)
    make: dict[str, Callable[[int, int], ops.Op]] = {
        "cast-on": ops.CastOn, "bind-off": ops.BindOff, "gather": ops.Gather,
        "drop": ops.Drop, "latch-up": ops.LatchUp}
    run.do(make[line.kind](front, back))


def scrap_off(run: Run, line: ins.ScrapOffAs) -> None:
    """Stitches onto waste yarn."""
    chosen = choose(run, line.needles, "loaded")
    _look_for_stitches(run, chosen)
    name = run.group(line.name)
    run.say(pr.Scrapping(chosen.words, name))
    for bed in chosen.beds:
        run.do(ops.ScrapOff(bed, chosen.masks[bed], name))


def rehang(run: Run, line: ins.RehangGroup) -> None:
    """A named group onto needles."""
    targets: list[tuple[Bed, int]] = []
    words = []
    for needles in line.targets:
        chosen = choose(run, needles, "in-use")
        targets.extend(chosen.listed())
        words.append(chosen.words)
    name = run.group(line.name)
    run.say(pr.Rehanging(name, tuple(words), line.onto, line.turned))
    run.do(ops.Rehang(name, tuple(targets), line.turned, line.onto))


def pick_up(run: Run, line: ins.PickUpAlong) -> None:
    """Loops of the last rows of an edge, on the nearest needles those of the last row."""
    rows = run.count(line.rows, "rows")
    side, word = run.end(line.end)
    bed = run.bed(line.bed)
    chosen = choose(run, line.needles, "in-use")
    # Round the end of the tube: out along the bed of the edge, back in along the other.
    inner_first = {one: sorted(indices(chosen.masks[one]),
                               reverse=(side == "left") == (one is bed)) for one in BEDS}
    targets = [(one, n) for one in (bed, bed.opposite) for n in inner_first[one]]
    run.say(pr.PickingUp(Quantity(len(targets)), Quantity(rows, "rows"), word, bed.word, line.onto,
                         chosen.words))
    run.do(ops.PickUp(bed, side, rows, tuple(targets), run.first_yarn, line.onto))


def graft(run: Run, line: ins.GraftTo) -> None:
    """Beds or named groups."""
    first, second = line.first, line.second
    one_name, two_name = run.group(first.bed.word), run.group(second.bed.word)
    groups = run.engine.groups
    off = [name for name in (one_name, two_name) if name in groups]
    beds = {one_name, two_name} & {"front", "back", "both"}
    if off and not beds and not first.pieces and not second.pieces:
        run.say(pr.GraftingGroups(one_name, two_name, tuple(
            name for name in off if groups[name].kind == "edge")))
        run.do(ops.GraftGroups(one_name, two_name))
        return
    if off:
        raise run.cannot("same-bed", line.at, f"The stitches called '{off[0]}' are off the "
                         "needles, those that they are to be grafted to are not.",
                         "Scrap those off too (scrap off front as last-row) and graft one name "
                         "to the other.")
    for part, name in ((first, one_name), (second, two_name)):
        if not part.pieces and name not in ("front", "back", "both") and not run.names.has(name):
            raise run.cannot(
                "not-a-bed", part.bed.at, f"'{name}' is no bed, and no stitches of that name are "
                "off the needles now.", "Write front and back, or names of stitches that are "
                "scrapped off or of marked edges; what is grafted or hung once is gone.")
    one, two = choose(run, first, "loaded"), choose(run, second, "loaded")
    if len(one.beds) != 1 or len(two.beds) != 1 or one.beds == two.beds:
        raise run.cannot("same-bed", line.at, "Stitches of one bed are grafted to those of the "
                         "other.", "For example: graft front to back")
    _look_for_stitches(run, one, two)
    run.say(pr.Grafting(one.words, two.words))
    run.do(ops.Graft(one.masks[0] | two.masks[0], one.masks[1] | two.masks[1]))


def tackle(run: Run, line: ins.TackleDo) -> None:
    """Comb and weights."""
    run.say(pr.Tackling(line.item, line.action))
    run.do(ops.Tackle(line.item, line.action))


def mark(run: Run, line: ins.MarkAs) -> None:
    """An edge or a slit."""
    bed = run.bed(line.bed)
    name = run.group(line.name)
    run.say(pr.Marking(line.kind, name, bed.word))
    run.do(ops.Mark(name, line.kind, bed, run.first_yarn))


def sew_down(run: Run, line: ins.SewDownRows) -> None:
    """The first or the last rows, or an edge by its name, sewn down inside."""
    rows = run.count(line.rows, "rows")
    name = run.group(line.name) if line.name else ""
    run.say(pr.SewingDown(line.part, Quantity(rows), name))
    run.do(ops.SewDown(line.part, rows, name))


def sew_sides(run: Run, line: ins.SewTheSides) -> None:
    """The side edges of the piece."""
    run.say(pr.SewingSides())
    run.do(ops.SewSides())


def fill(run: Run, line: ins.FillFrom) -> None:
    """Empty needles from the stitch beside them."""
    chosen = choose(run, line.needles, "in-use")
    side, word = run.end(line.end)
    run.say(pr.Filling(chosen.words, word))
    for bed, needle in chosen.listed():
        neighbour = needle - 1 if side == "left" else needle + 1
        if 0 <= neighbour < run.engine.profile.needles:
            run.do(ops.Fill(bed, needle, neighbour))
        else:
            run.fault(Fault("needle-off-bed", bed=bed))
