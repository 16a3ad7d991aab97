"""The shipped techniques do what the trade does."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from support.scripts import FLAT, HEADER, TUBE, TUBE_64, findings, kinds, passes, prepared, run

from sockscript.expand.called import called
from sockscript.expand.techniques import SHIPPED, Library
from sockscript.operations.beds import indices, needle_name
from sockscript.operations.ops import Fashion, Fold, Knit

FILES = sorted(SHIPPED.glob("*.sockscript"))
EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.sockscript"))


def intervals(done) -> list[int]:
    """Passes knitted after each decrease (both beds in a tube: two a round)."""
    found: list[int] = []
    for moment in done.moments:
        if isinstance(moment.op, Fashion):
            if not found or found[-1]:
                found.append(0)
        elif isinstance(moment.op, Knit) and found:
            found[-1] += moment.op.passes
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_each_file_is_read_without_a_problem(path):
    ready = prepared(path.read_text("utf-8"))

    # A file of techniques has nothing to knit by itself.
    assert [p.message for p in ready.problems if p.kind != "empty-script"] == []


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_each_technique_begins_with_a_comment_that_explains_it(path):
    text = path.read_text("utf-8")
    definitions = re.findall(r"^technique .*\n(    #)?", text, re.M)

    assert definitions and all(definitions)


CLEAN = {
    "tubular-cast-on": ("do tubular-cast-on with around = 72, yarn = main\nknit 10 rows\n"
                        "remove comb\nremove weights\ncut\ngather both"),
    "tube-cast-on": ("do tube-cast-on with half = 12, yarn = main\nknit 4 rounds\nremove comb\n"
                     "remove weights\ncut\ndo gathered-end"),
    "waste-start": ("do waste-start on front with around = 36, waste = waste, cord = cord, "
                    "yarn = main\nknit 6 rows\nremove comb\nremove weights\n"
                    "rehang cast-on-edge onto centre 36 of front\nknit 1 row\n"
                    "do transfer-bind-off on front"),
    "e-wrap": ("do e-wrap-cast-on on front with around = 36, yarn = main\nknit 6 rows\n"
               "do transfer-bind-off on front"),
    "rib-1x1": (f"{FLAT}\ndo rib-1x1 with around = 20\nknit 4 rows\ndo rib-to-one-bed on front\n"
                "set front to knit\nknit 1 row\ncut\ngather front"),
    "rib-2x1": (f"{FLAT}\ndo rib-2x1 with around = 20\nknit 4 rows\ndo rib-to-one-bed on back\n"
                "set back to knit\nknit 1 row\ncut\ngather back"),
    "round-toe": (f"{TUBE}\ndo round-toe with leave = 12\nknit 1 round\nremove weights\ncut\n"
                  "do graft-end"),
    "decrease-every": (f"{TUBE}\ndo decrease-every with times-over = 4, each = 3\n"
                       "expect tube of 28 stitches a bed\nremove weights\ncut\ngather both"),
    "one end of one bed": (f"{FLAT}\ndo decrease-every with beds = front, ends = left, edge = 1, "
                           "times-over = 3, in-rounds = no\nexpect 17 stitches\ncut\ngather front"),
    "increase-once": (f"{TUBE}\ndo increase-once\nknit 2 rounds\ndo increase-once\n"
                      "knit 1 round\nexpect tube of 40 stitches a bed\nremove weights\ncut\n"
                      "gather both"),
    "tuck-stitch": (f"{TUBE}\ndo tuck-stitch with repeats = 4, tucks = 3\n"
                    "do slip-stitch with repeats = 3, slips = 4\nremove weights\ncut\ngather both"),
    "gusset-heel": (f"{TUBE}\ndo gusset-heel on front with long = 28, leave = 12\n"
                    "knit 4 rounds\nexpect tube of 36 stitches a bed\nremove weights\ncut\n"
                    "gather both"),
    "gusset-heel on the back bed": (f"{TUBE}\ndo gusset-heel on back with long = 28, leave = 12\n"
                                    "knit 4 rounds\nremove weights\ncut\ngather both"),
    "afterthought": (f"{TUBE}\ndo afterthought-opening with waste = waste, yarn = main\n"
                     "knit 10 rounds\ncut\ngather both\n"
                     "do afterthought-heel with half = 36, leave = 12, yarn = main"),
}


@pytest.mark.parametrize("name", sorted(CLEAN))
def test_used_as_meant_it_gives_no_finding(name):
    assert kinds(CLEAN[name]) == []


def test_every_technique_is_knitted_somewhere():
    """By an example, by the list above, or by a test of its own here."""
    used = set()
    for path in EXAMPLES:
        ready = prepared(path.read_text("utf-8"), path.parent)
        used |= called(ready.script, ready.library).keys()
    for body in CLEAN.values():
        lines = "".join(f"    {line}\n" for line in body.splitlines())
        ready = prepared(f'{HEADER}section "x"\n{lines}')
        used |= called(ready.script, ready.library).keys()
    here = Path(__file__).read_text("utf-8")

    assert [name for name in Library({}, {}).shipped_files()
            if name not in used and f'"{name}"' not in here] == []


@pytest.mark.parametrize("way, quarter", [("turn-to-tube", "fold"),
                                          ("turn-to-tube-on-waste", "waste")])
def test_a_quarter_is_turned_at_each_side(way, quarter):
    # A quarter of the stitches is turned over at each side: common practice, no source.
    done = run(f'''bring centre 72 of back into work to cast on
set back to knit
thread main
knit 20 rows
do {way} with bed = back
gather both''')
    state = done.moments[-2].state

    assert state.front.loaded == state.back.loaded
    assert state.front.loaded.bit_count() == 36
    if quarter == "fold":
        folds = [m.op.moves for m in done.moments if isinstance(m.op, Fold)]
        assert [len(moves) for moves in folds] == [18, 18]
        names = {needle_name(a, 200): needle_name(b, 200) for _, a, _, b in folds[0]}
        # The stitch next to the fold faces its neighbour, the edge lands at the centre.
        assert names["R19"] == "R18" and names["R36"] == "R1"


@pytest.mark.parametrize("way", ["plain", "wrapped", "wrapped-twice"])
def test_a_heel_of_32_down_to_10_takes_22_rows_in_and_22_out(way):
    # 22 short rows in and 22 out, 11 held on each side: common practice, no source.
    done = run(f"{TUBE_64}\ndo heel on front with leave = 10, way = {way}\nset both to circular\n"
               "knit 2 rounds\ncut\ngather both")
    first = next(i for i, m in enumerate(done.moments) if m.state.front.hold)
    rows = [(m.state.front.hold, m.state.front.work) for m in done.moments[first:]
            if isinstance(m.op, Knit) and m.state.back.action == "rest"]
    narrowest = min(work.bit_count() for _, work in rows)
    turning = max(i for i, (_, work) in enumerate(rows) if work.bit_count() == narrowest)
    held, work = rows[turning]

    assert narrowest == 10
    assert (turning + 1, len(rows) - turning - 1) == (22, 22)
    assert sum(n < min(indices(work)) for n in indices(held)) == 11
    assert sum(n > max(indices(work)) for n in indices(held)) == 11


@pytest.mark.parametrize("way, expected", [("plain", {"short-row-eyelet"}), ("wrapped", set()),
                                           ("wrapped-twice", set())])
def test_a_heel_leaves_no_holes_and_closed_corners(way, expected):
    assert set(kinds(f"{TUBE}\ndo heel on front with leave = 12, way = {way}\n"
                     "set both to circular\nknit 2 rounds\nremove weights\ncut\n"
                     "gather both")) == expected


def test_a_wedge_toe_takes_4_decreases_every_2_rounds():
    # 64 stitches to 24: 10 decrease rounds, 20 rounds. Common practice, no source.
    done = run(f"{TUBE_64}\ndo wedge-toe with leave = 12\ncut\ndo graft-end")

    assert sum(isinstance(m.op, Fashion) for m in done.moments) == 40
    assert intervals(done) == [4] * 10
    assert done.engine.ledger.joined == 40


def test_a_tube_counts_two_passes_a_round():
    # Two carriage passes a round: needlesofsteel.blogspot.com, 2011; brendaabell.com, 2013.
    done = run(f"{TUBE}\nrow counter 0\nknit 10 rounds\ncut\ngather both")

    assert done.moments[-3].state.counter == 20
    assert passes(done) == 1 + 8 + 20


@pytest.mark.parametrize("edge", [1, 2, 3, 4])
def test_a_fashioned_decrease_puts_the_double_on_the_kth_needle(edge):
    # The double lies on the k-th needle from the new edge: common practice, no source.
    done = run(f"{FLAT}\nmove {edge} stitches at left of front in by 1\nknit 1 row\ncut\n"
               "gather front")
    state = next(m.state for m in done.moments if isinstance(m.op, Fashion))
    order = list(indices(state.front.loaded))

    assert [n for n in order if state.front.double >> n & 1] == [order[edge - 1]]
    assert needle_name(order[0], 200) == "L9"


# Evenly spread shaping: N - r intervals of q rows and r of q + 1, with R = q * N + r (that two
# rates do it: ysolda.com, 'A magic formula for evenly distributing shaping').  36 over 140 is a
# worked example, 4 x 3 and 32 x 4 (in the open collection Nemotron-CC-Math-v1); 11 over 108
# (kristentendyke.blogspot.com, 2014, 'How to increase evenly') and 12 over 30 (20 stitches to 44:
# thedietdiary.com/blog/lucia/221) are published exercises, worked out here; the others are made up.
SPREAD = {(20, 96): (4, 4, 16, 5), (8, 60): (4, 7, 4, 8), (36, 140): (4, 3, 32, 4),
          (11, 108): (2, 9, 9, 10), (12, 30): (6, 2, 6, 3), (5, 20): (5, 4, 0, 0)}


@pytest.mark.parametrize("decreases, over", sorted(SPREAD))
def test_decreases_are_spread_evenly_with_two_intervals(decreases, over):
    few, short, many, longer = SPREAD[decreases, over]
    done = run(f'''bring centre 80 of front into work to cast on
set front to knit
thread main
knit 1 row
do decrease-spread with beds = front, ends = left, decreases = {decreases}, over = {over}, \
in-rounds = no
cut
gather front''')

    assert intervals(done) == [short] * few + [longer] * many
    assert sum(intervals(done)) == over


def test_decreasing_in_rounds_counts_two_passes_each():
    # 14 rounds = 3 x 4 + 2: two intervals of 3 rounds and two of 4, of two passes each.
    done = run(f"{TUBE}\ndo decrease-spread with decreases = 4, over = 14\ncut\ngather both")

    assert intervals(done) == [6, 6, 8, 8]


def test_an_uneven_number_is_told_at_the_line_that_calls():
    found = findings("bring centre 30 of back into work\nset back to knit\n"
                     "thread main\ncast on back\nknit 4 rows\ndo turn-to-tube with bed = back\n")

    assert found[0].kind == "technique-out-of-place"
    assert "needs a multiple of 4 stitches on the back bed, but there are 30." in found[0].message
    assert found[0].at.source.line(found[0].at.line).strip() == "do turn-to-tube with bed = back"
    assert found[0].others[0].at.source.name == "techniques/tube.sockscript"


def test_the_header_of_these_tests_reads_well():
    assert prepared(HEADER + 'section "x"\n    half pitch\n').problems == ()
