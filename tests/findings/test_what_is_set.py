"""Rules judge what is set on the machine and what hangs on the needles, however a line is worded.

Each mistake is written in rows, in rounds, in single rows and by a technique of the script's own;
beside it stands the nearest script that is sound, and the threshold from both sides.  The
thresholds are common practice, no source.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, kinds
from support.sock_parts import START

WORDINGS = {
    "rows": "knit {rows} rows",
    "rounds": "knit {rounds} rounds",
    "single rows": "repeat {rows} times\n    knit 1 row",
    "technique": "do going with much = {rounds}",
}
GOING = "technique going with much\n    knit much * 2 rows\n"


def knitted(wording: str, rounds: int) -> str:
    """So many rounds (two passes each), worded in one of the four ways."""
    return WORDINGS[wording].format(rows=2 * rounds, rounds=rounds)


def told(body: str, *others: str) -> set[str]:
    """The findings about a body, apart from some that the body has for other reasons."""
    header = HEADER + (GOING if "do going" in body else "")
    return set(kinds(body, header)) - set(others)


END = "\nremove weights\ncut\ngraft front to back"
TURNED = '''bring centre 40 of back into work
thread main
cast on centre 40 of back
set back to knit
knit 6 rows
cut
bring centre 20 of front into work
fold right 10 of back onto front
fold left 10 of back onto front
take empty of back out of work
hang weights
thread main
'''


# ---- a tube knitted shut

@pytest.mark.parametrize("wording", ["rows", "single rows", "technique"])
def test_a_tube_that_both_beds_knit_is_shut(wording):
    assert "tube-knitted-shut" in told(
        TURNED + "set both to knit\n" + knitted(wording, 5) + END)


@pytest.mark.parametrize("wording", WORDINGS)
def test_a_tube_in_circular_is_not(wording):
    assert told(TURNED + "set both to circular\n" + knitted(wording, 5) + END) == set()


def test_one_row_over_both_beds_closes_the_end_of_a_bag():
    bag = TURNED + "set both to circular\nknit 10 rounds\nset both to knit\nknit 1 row\n"
    off = "\nremove weights\ntransfer back onto front\ntake all of back out of work\nbind off front"

    assert told(bag + off + "\ncut") == set()
    assert "tube-knitted-shut" in told(bag + "knit 1 row" + off + "\ncut")
    assert "tube-knitted-shut" in told(bag.replace("knit 1 row\n", "knit 2 rows\n") + off + "\ncut")
    ribbed = bag.replace(TURNED, START["rib turned to a tube"][0] + "\n")
    assert "tube-knitted-shut" not in told(ribbed + off + "\ncut"), "its rib was no tube"


@pytest.mark.parametrize("rounds, shut", [(7, False), (8, True)])
def test_a_welt_of_a_few_rounds_may_be_closed(rounds, shut):
    welt = f'''full pitch
bring every 2nd from 1 of centre 40 of front into work to cast on
bring every 2nd from 2 of centre 40 of back into work to cast on
set both to knit
thread main
knit 1 row
hang weights
set both to circular
knit {rounds} rounds
set both to knit
knit 4 rows
cut
remove weights
gather both'''

    assert ("tube-knitted-shut" in told(welt)) is shut
    half = welt.replace(f"knit {rounds} rounds", f"knit {2 * rounds + 1} rows")
    assert ("tube-knitted-shut" in told(half)) is shut


# ---- one bed of a tube alone

@pytest.mark.parametrize("wording", ["rows", "single rows", "technique"])
@pytest.mark.parametrize("action", ["knit", "circular"])
def test_one_bed_that_rests_through_a_section_splits_the_tube(wording, action):
    found = told(f"{TUBE}\nset back to rest\nset front to {action}\n{knitted(wording, 10)}\n"
                 f"set both to circular\nknit 4 rounds{END}")

    assert "tube-split" in found


@pytest.mark.parametrize("rows, split", [(3, False), (4, True)])
def test_a_few_rows_on_one_bed_belong_to_the_ends_of_a_heel(rows, split):
    found = told(f"{TUBE}\nset back to rest\nset front to knit\nknit {rows} rows\n"
                 f"set both to circular\nknit 4 rounds{END}", "odd-pass-in-tube", "yarn-jump")

    assert ("tube-split" in found) is split


def test_short_rows_on_one_bed_are_a_heel():
    assert told(f"{TUBE}\ndo heel on front with leave = 12\nset both to circular\n"
                f"knit 4 rounds{END}") == set()


def test_a_row_of_waste_yarn_on_one_bed_keeps_a_place():
    header = HEADER + 'yarn waste "smooth waste yarn" as waste\n'
    body = f'''{TUBE}
do afterthought-opening with bed = front, opening = place, waste = waste, yarn = main
knit 4 rounds
cut
remove weights
graft front to back
bring centre 32 of both into work
rehang place to centre 32 of front and centre 32 of back
thread main
hang weights
knit 4 rounds{END}'''

    assert "tube-split" not in kinds(body, header)


# ---- stitches held through rounds

HELD = f"{TUBE}\nrespect hold on front\nhold left 6 of front\n"


@pytest.mark.parametrize("wording", WORDINGS)
def test_stitches_of_one_bed_held_through_rounds(wording):
    found = told(HELD + knitted(wording, 12) + "\ncancel hold on front" + END)

    assert "held-never-returned" in found


@pytest.mark.parametrize("side", ["left", "right"])
def test_stitches_that_wait_beside_others_that_wait_are_a_branch(side):
    """One needle more on one bed than on the other, but not two."""
    both = f"{TUBE}\nrespect hold on both\nhold {side} 6 of {{}}\nhold {side} {{}} of {{}}\n"
    for beds in (("front", "back"), ("back", "front")):
        for many, alone in ((5, False), (4, True)):
            lines = both.format(beds[0], many, beds[1]) + "knit 4 rounds\ncancel hold on both" + END
            assert ("held-never-returned" in told(lines)) is alone


def test_a_part_of_both_beds_held_is_a_branch():
    assert told(f'''{TUBE}
note "Move the weights under the needles that knit."
respect hold on front
respect hold on back
hold far side 20 working of both
knit 10 rounds
cut
graft carriage side 12 of front to carriage side 12 of back
return held of both to work
cancel hold on both
thread main
knit 10 rounds{END}''') == set()


# ---- stitch sizes

@pytest.mark.parametrize("wording", WORDINGS)
def test_the_beds_of_a_tube_have_one_stitch_size(wording):
    assert "stitch-size-differs" in told(
        f"{TUBE}\nstitch size 6\nstitch size 7 on front\n{knitted(wording, 4)}{END}")
    assert "stitch-size-differs" in told(
        f"{TUBE}\nstitch size 7 on front\n{knitted(wording, 4)}{END}")
    assert "stitch-size-differs" in told(f"{TUBE}\nstitch size 7 on front\nknit 1 round{END}")
    first = TUBE.replace("knit 4 rounds", f"stitch size 7 on front\n{knitted(wording, 4)}")
    assert "stitch-size-differs" in told(first + END), "all rounds of it"
    twice = findings(f"{first}\nknit 4 rounds{END}", HEADER + GOING)
    assert [one.times for one in twice if one.kind == "stitch-size-differs"] == [1]
    by_turns = "stitch size 8 on front\nknit 1 row\nstitch size 7\nknit 1 row\n" * 4
    assert "stitch-size-differs" not in told(f"{TUBE}\nstitch size 7\n{by_turns}{END}")
    welt = TUBE.replace("set both to circular\nknit 4 rounds", f"""stitch size 3 on front
set both to circular
knit 2 rows
set both to knit
knit 4 rows
stitch size 6
set both to circular
{knitted(wording, 4)}""")
    assert "stitch-size-differs" not in told(welt + END)
    assert told(f"{TUBE}\nstitch size 7 on front\nstitch size 7 on back\n"
                f"{knitted(wording, 4)}{END}") == set()


RIBBED = '''do tubular-cast-on with around = 40, yarn = main, edge-size = {edge}, rib-size = {rib}
knit {rows} rows
do rib-to-one-bed on back
set back to knit
stitch size {plain}
knit 10 rows on back
remove weights
remove comb
bind off back
cut'''


@pytest.mark.parametrize("edge, rib, plain, told_of", [
    (2, 4, 6, set()), (4, 4, 6, {"cast-on-size-unchanged"}), (5, 4, 6, {"sizes-reversed"}),
    (2, 6, 5, {"sizes-reversed"}), (2, 6, 6, {"size-unchanged-after-rib"}),
])
def test_edge_rib_and_plain_go_from_tight_to_loose(edge, rib, plain, told_of):
    assert told(RIBBED.format(edge=edge, rib=rib, plain=plain, rows=12)) == told_of


def test_a_few_loose_rows_are_no_fabric_of_their_own():
    body = RIBBED.format(edge=2, rib=4, plain=6, rows=12)

    assert told(body.replace("knit 10 rows on back", "knit 10 rows on back\nstitch size 3\n"
                             "knit 2 rows on back")) == set()


# ---- weights and comb

@pytest.mark.parametrize("wording", WORDINGS)
def test_a_tube_wants_weights(wording):
    bare = TURNED.replace("hang weights\n", "") + "set both to circular\n"
    end = END.replace("remove weights\n", "")

    assert "tube-without-weights" in told(bare + knitted(wording, 9) + end)
    assert told(bare + knitted(wording, 8) + end) == set()
    assert told(bare + "hang comb\n" + knitted(wording, 9) + "\nremove comb" + end) == set()


@pytest.mark.parametrize("item", ["comb", "weights"])
def test_nothing_hangs_on_empty_needles(item):
    start = "bring centre 20 of front into work\nthread main\n"
    end = f"\nset front to knit\nknit 4 rows\nremove {item}\nbind off front\ncut"

    assert told(f"{start}hang {item}\ncast on centre 20 of front{end}") == {"hung-on-nothing"}
    assert told(f"{start}cast on centre 20 of front\nhang {item}{end}") == set()


def test_weights_come_off_before_stitches_are_turned():
    body = TURNED.replace("hang weights\n", "").replace("knit 6 rows", "knit 6 rows\nhang weights")
    rest = f"set both to circular\nknit 4 rounds{END}"

    assert told(body + rest) == {"fold-with-weights"}
    assert told(body.replace("cut\n", "cut\nremove weights\n") + "hang weights\n" + rest) == set()


# ---- waste yarn

PIECE = '''bring centre 20 of front into work
thread main
cast on centre 20 of front
set front to knit
knit 10 rows
cut
thread waste
{waste}
cut
{mark}thread main
knit 10 rows
{rest}bind off front
cut'''


@pytest.mark.parametrize("waste", ["knit 2 rows", "repeat 80 times\n    knit 1 row"])
def test_waste_yarn_in_the_middle_comes_out_again(waste):
    assert told(PIECE.format(waste=waste, mark="", rest="")) == {"waste-knitted-in"}


def test_a_marked_slit_keeps_its_place():
    rest = "bind off front\ncut\nbring centre 20 of both into work\n" \
        "rehang pocket to centre 20 of front and centre 20 of back\nthread main\n" \
        "set both to circular\nknit 2 rounds\ncut\ngather both"
    body = PIECE.format(waste="knit 1 row", mark="mark slit pocket on front\n"
                        "move carriage to far side\n", rest="")

    assert told(body[:body.rindex("bind off")] + rest) == set()


def test_stitches_are_not_closed_in_waste_yarn():
    assert "waste-knitted-in" in told('''bring centre 20 of front into work
thread main
cast on centre 20 of front
set front to knit
knit 10 rows
cut
thread waste
knit 20 rows
bind off front
cut''')


WASTE_BEGUN = '''bring centre 20 of front into work to cast on
set front to knit
thread waste
knit 8 rows
cut
thread cord
knit 1 row
cut
{mark}move carriage to far side
thread main
knit 10 rows
cut
gather front'''


def test_an_edge_on_waste_yarn_is_named_or_runs():
    assert told(WASTE_BEGUN.format(mark="")) == {"edge-will-run"}
    assert told(WASTE_BEGUN.format(mark="mark edge start on front\n")) == {"edge-left-open"}


@pytest.mark.parametrize("rows", ["knit {} rows", "repeat {} times\n    knit 1 row"])
@pytest.mark.parametrize(("many", "short"), [(2, True), (3, False)])
def test_waste_yarn_under_an_edge_is_four_rows_at_least(rows, many, short):
    """The row of ravel cord is the fourth.  Common practice, no source."""
    body = WASTE_BEGUN.replace("knit 8 rows", rows.format(many)).format(
        mark="mark edge start on front\n")
    if many % 2:
        body = body.replace("move carriage to far side\n", "")

    assert ("waste-too-short" in told(body)) is short


@pytest.mark.parametrize(("rounds", "short"), [("knit 3 rows", True), ("knit 6 rows", False),
                                               ("knit 3 rounds", False)])
def test_in_a_tube_each_bed_has_half_of_the_rows(rounds, short):
    body = f'''bring centre 20 of both into work to cast on
set both to knit
thread waste
knit 1 row
hang comb
set both to circular
{rounds}
cut
mark edge start-front on front
mark edge start-back on back
thread main
knit 10 rounds'''

    assert ("waste-too-short" in told(body)) is short


# ---- dropped stitches

def test_a_dropped_stitch_is_latched_up():
    body = '''bring centre 20 of front into work
thread main
cast on centre 20 of front
set front to knit
knit 6 rows
drop L3 to L2 of front
{up}knit 2 rows
{after}bind off front
cut'''

    assert told(body.format(up="latch up L3 to L2 of front\n", after="")) == set()
    assert "dropped-never-latched" in told(
        body.format(up="take empty of front out of work\n", after=""))
    assert "dropped-never-latched" in told(
        body.format(up="latch up L3 of front\ntake empty of front out of work\n", after=""))


# ---- short rows

def heel(left: int, right: int) -> str:
    ends = "".join(f"hold {end} 1 working of front\nknit 1 row\nwrap {end} 1 held of front\n"
                   for end, count in (("left", left), ("right", right)) for _ in range(count))
    return f"{TUBE}\nset back to rest\nset front to knit\nrespect hold on front\n{ends}" \
        "return held of front to work\nknit 1 row\ncancel hold on front\n"


@pytest.mark.parametrize("left, right, kind", [
    (0, 2, None), (0, 3, "short-rows-at-one-end"), (3, 0, "short-rows-at-one-end"),
    (3, 3, None), (3, 4, "unequal-short-rows"),
])
def test_short_rows_at_both_ends(left, right, kind):
    found = told(heel(left, right) + "set both to circular\nknit 4 rounds" + END)

    assert found & {"short-rows-at-one-end", "unequal-short-rows"} == ({kind} if kind else set())


def test_a_wedge_on_a_flat_piece_is_at_one_end_on_purpose():
    flat = heel(0, 5).replace(TUBE, "bring centre 30 of front into work\nthread main\n"
                              "cast on centre 30 of front").replace("set back to rest\n", "")

    assert "short-rows-at-one-end" not in told(flat + "cut\ngather front")


@pytest.mark.parametrize("parked", ["set back to rest", "respect hold on back\nhold all of back"])
def test_corners_are_open_however_the_instep_is_parked(parked):
    heel = f'''{TUBE}
{parked}
set front to knit
do short-rows-in on front with leave = 12
wrap carriage side 1 held of front
do short-rows-out-wrapped on front with until = 34
repeat 2 times
    return far side 1 held of front to work
    knit 1 row on front
{{wrap}}cancel hold on front
return all of back to work
cancel hold on back
set both to circular
knit 4 rounds'''

    assert "open-corner" in told(heel.format(wrap="") + END)
    assert "open-corner" not in told(
        heel.format(wrap="    wrap carriage side 1 of back\n") + END)


# ---- decreases

DECREASED = {
    "moved": "move 3 stitches at {end} of {bed} in by 1",
    "single": "transfer {end} 1 of {bed} onto {at}(count-on({bed}) / 2 - 1) of {bed}\n"
              "    take empty of {bed} out of work",
}


def toe(way: str, ends, between: str = "knit 2 rounds", times: int = 6) -> str:
    lines = []
    for bed, end in ends:
        at = "L" if end == "left" else "R"
        line = DECREASED[way].format(end=end, bed=bed, at=at)
        if way == "single":
            # The count changes with the first end: name the neighbour by the count before.
            line = line.replace(f"count-on({bed})", "now")
        lines.append("    " + line)
    body = "\n".join(lines)
    return f"{TUBE}\nrepeat {times} times\n    let now = count-on(front)\n{body}\n    {between}"


ALL_ENDS = [(bed, end) for bed in ("front", "back") for end in ("left", "right")]


@pytest.mark.parametrize("way", DECREASED)
def test_decreases_on_all_four_corners_are_alike(way):
    assert told(toe(way, ALL_ENDS) + END) == set()


@pytest.mark.parametrize("way", DECREASED)
@pytest.mark.parametrize("missing", ALL_ENDS)
def test_a_side_left_out_is_told(way, missing):
    ends = [end for end in ALL_ENDS if end != missing]

    assert "decreases-not-mirrored" in told(toe(way, ends) + "\nremove weights\ncut\ngather both")


@pytest.mark.parametrize("way", DECREASED)
def test_decreases_on_one_bed_alone_are_a_gusset(way):
    ends = [end for end in ALL_ENDS if end[0] == "front"]

    assert "decreases-not-mirrored" not in told(
        toe(way, ends, times=5) + "\nremove weights\ncut\ngather both")


@pytest.mark.parametrize("between, half", [
    ("knit 3 rows", True), ("knit 1 row", True), ("knit 4 rows", False), ("knit 2 rounds", False),
    ("knit 2 rows\n    knit 1 row", True)])
@pytest.mark.parametrize("way", DECREASED)
def test_a_round_and_a_half_between_decreases(way, between, half):
    found = told(toe(way, ALL_ENDS, between) + END)

    assert ("half-round-between" in found) is half


@pytest.mark.parametrize("ways, told_of", [
    ([2, 2, 1, 2, 2], True), ([2, 2, 3, 2, 2], True), ([2, 1, 2, 2], False),
    ([1, 1, 2, 2, 2], False), ([2, 2, 2, 1, 1], False), ([1, 2, 1, 2, 1], False),
])
def test_one_interval_that_differs_is_a_slip_and_a_change_of_pace_is_not(ways, told_of):
    once = "\n".join(DECREASED["moved"].format(end=end, bed=bed) for bed, end in ALL_ENDS)
    body = f"{TUBE}\n{once}\n" + "".join(
        f"knit {rounds} rounds\n{once}\n" for rounds in ways) + "knit 1 round"

    assert ("uneven-pace" in told(body + END)) is told_of
