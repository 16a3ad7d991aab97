"""Heels knitted twice or askew, tubes widened unlike, sizes set late, words against their lines.

Each mistake is written in rows, in single rows and by a technique; beside it stands the nearest
script that is sound, and each threshold from both sides.  The thresholds are common practice, no
source.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, kinds

END = "\nset both to circular\nknit 4 rounds\nremove weights\ncut\ngraft front to back"


def told(body: str, header: str = "") -> set[str]:
    return set(kinds(body, HEADER + header))


# ---- one heel in the other

HEEL = "do heel on front with leave = 12\n"


def test_a_heel_knitted_twice_is_told():
    assert told(f"{TUBE}\n{HEEL}{HEEL}{END}") == {"heel-twice"}


def test_a_heel_knitted_twice_from_a_technique_is_told():
    technique = f"technique two-heels\n    {HEEL}    {HEEL}"
    assert told(f"{TUBE}\ndo two-heels{END}", technique) == {"heel-twice"}


@pytest.mark.parametrize("rounds", [
    "knit 1 round", "knit 2 rows", "repeat 2 times\n    knit 1 row"])
def test_with_a_round_between_they_are_two_cups(rounds):
    assert "heel-twice" not in told(
        f"{TUBE}\n{HEEL}set both to circular\n{rounds}\n{HEEL}{END}")


@pytest.mark.parametrize("between, twice", [
    ("set both to circular\nknit 20 rounds\n", False),
    ("set both to circular\nknit 1 round\n", False),
    ("set both to circular\nrepeat 2 times\n    knit 1 row\n", False),
    ("knit 2 rows on front\n", True)])
def test_needles_may_come_back_with_the_round_itself(between, twice):
    """The first cup stops two needles early, and hold is cancelled."""
    cup = ("do short-rows-in on front with leave = 8\nwrap carriage side 1 held of front\n"
           "do short-rows-out-wrapped on front with until = 34\ncancel hold on front\n")
    found = told(f"{TUBE}\nset back to rest\nset front to knit\n{cup}{between}{HEEL}{END}")

    assert ("heel-twice" in found) == twice


FLAT_CUP = """\
note "Move the weights every few rows."
repeat until 8 stitches in work on front
    hold carriage side 1 working of front
    knit 1 row
wrap carriage side 1 held of front
repeat until 18 stitches in work on front
    return far side 1 held of front to work
    knit 1 row
    wrap carriage side 1 held of front
repeat 2 times
    return far side 1 held of front to work
    knit 1 row
"""


@pytest.mark.parametrize("rows, twice", [
    # The row with which the last needle comes back is one over all stitches.
    ("", True), ("knit 2 rows\n", True), ("knit 3 rows\n", False),
    ("repeat 3 times\n    knit 1 row\n", False), ("knit 40 rows\n", False)])
def test_on_one_bed_some_whole_rows_make_a_toe_and_a_heel_of_two_cups(rows, twice):
    body = ("bring centre 20 of front into work\nset front to knit\nstitch size 6\nthread main\n"
            f"cast on front\nhang weights\nknit 20 rows\nrespect hold on front\n{FLAT_CUP}{rows}"
            f"{FLAT_CUP}knit 20 rows\nbind off front\ncut\nremove weights\nsew sides")

    assert ("heel-twice" in told(body)) == twice


def test_one_heel_is_one_heel():
    assert told(f"{TUBE}\n{HEEL}{END}") == set()


def test_of_two_halves_on_end_the_first_is_the_one_that_may_not_come_again():
    """Both are as wide; the second begins in the row in which the first is back."""
    left, right = (f"hold {side} 10 of front\nknit 2 rows\nreturn held of front to work\n"
                   for side in ("left", "right"))
    body = ("bring centre 20 of front into work\nset front to knit\nthread main\ncast on front\n"
            f"knit 20 rows\nrespect hold on front\n{left}{right}knit {{}} rows\n{left}"
            "cancel hold on front\nknit 20 rows\nbind off front\ncut")

    assert "heel-twice" in told(body.format(1)) and "heel-twice" not in told(body.format(4))


# ---- a heel askew: the two halves of a flat sock

def flat_sock(left: str, right: str, holds: int = 12, between: str = "") -> str:
    """A flat sock whose heel is knitted in two halves of 20 stitches at the edges.

    ``left``, ``right``: the rows after each needle that is put into hold.  ``between``: lines
    between the halves.
    """
    def half(side: str, other: str, rows: str) -> str:
        lines = "\n    ".join(rows.split("\n"))
        return f"""knit 1 row on front from {other}
respect hold on front
hold {other} 60 of front
knit 1 row on front from {side}
repeat {holds} times
    hold {other} 1 working of front
    {lines}
wrap {other} 1 held of front
repeat {holds} times
    knit 1 row on front
    return {other} 1 held of front to work
    knit 1 row on front
    wrap {other} 1 held of front
knit 1 row on front
return held of front to work
cancel hold on front
"""
    return f"""do e-wrap-cast-on on front with around = 80, yarn = main
hang weights
knit 30 rows
note "Move the weights under the needles that knit."
{half('left', 'right', left)}{between}{half('right', 'left', right)}knit 40 rows
remove weights
cut
gather front"""


@pytest.mark.parametrize("rows", ["knit 2 rows", "knit 1 row\nknit 1 row", "do going"])
def test_two_halves_alike_are_sound(rows):
    going = "technique going\n    knit 2 rows\n" if "do" in rows else ""
    assert told(flat_sock(rows, rows), going) == set()


@pytest.mark.parametrize("rows", ["knit 4 rows", "repeat 4 times\n    knit 1 row", "do going"])
def test_rows_too_many_in_one_half_set_the_heel_askew(rows):
    going = "technique going\n    knit 4 rows\n" if "do" in rows else ""
    # The turns in between lie beside a needle that is not wrapped.
    expected = {"short-rows-askew", "short-row-hole"}
    assert told(flat_sock("knit 2 rows", rows), going) == expected
    assert told(flat_sock(rows, "knit 2 rows"), going) == expected


def test_a_tenth_is_the_limit():
    # 700 stitches at the left; 840 at the right are just under a tenth of all more, 870 are not.
    # 630 and 770 are a tenth of all apart.
    for holds, extra, askew in ((10, 4, False), (12, 4, False), (12, 5, True)):
        body = flat_sock("knit 2 rows", "knit 2 rows", holds)
        head, found, tail = body.rpartition(
            f"repeat {holds} times\n    hold left 1 working of front\n")
        more = (f"repeat {extra} times\n    hold left 1 working of front\n    knit 4 rows\n"
                f"repeat {holds - extra} times\n    hold left 1 working of front\n")
        assert found
        assert ("short-rows-askew" in told(head + more + tail)) is askew
    # Two rows more over 19, 18, 17, 16 and 15 stitches.
    assert any("knit 700 stitches left of the middle and 870 right of it" in one.message
               for one in findings(head + more + tail))


def test_the_stitch_in_the_middle_is_on_neither_side():
    """Of 81 stitches; the first rows of either half go over it."""
    for left, right in ((2, 4), (4, 2)):
        body = flat_sock(f"knit {left} rows", f"knit {right} rows").replace(
            "around = 80", "around = 81").replace(" 60 of", " 40 of")
        at_left, at_right = (1747, 2575) if left < right else (2575, 1747)
        assert any(f"knit {at_left} stitches left of the middle and {at_right} right" in one.message
                   for one in findings(body))


@pytest.mark.parametrize("first, second, askew", [(2, 2, True), (2, 1, False), (1, 1, False)])
def test_fewer_than_six_sets_of_needles_in_hold_are_no_heel(first, second, askew):
    """In each half the block that is put aside is one, and each needle after it another."""
    body = flat_sock("knit 40 rows", "knit 2 rows", holds=2)
    halves = body.split("repeat 2 times")
    body = (f"repeat {first} times".join(halves[:3]) + f"repeat {second} times"
            + f"repeat {second} times".join(halves[3:]))

    assert len(halves) == 5
    assert ("short-rows-askew" in told(body)) is askew


@pytest.mark.parametrize("between", ["knit {} rows\n", "repeat {} times\n    knit 1 row\n",
                                     "do across with many = {}\n"])
@pytest.mark.parametrize(("many", "apart"), [(2, set()), (4, {"heel-halves-apart"}),
                                             (40, {"heel-halves-apart"})])
def test_the_halves_follow_each_other(between, many, apart):
    """The row that takes the carriage across is there already; three in all are the most."""
    across = "technique across with many\n    knit many rows\n"

    assert told(flat_sock("knit 2 rows", "knit 2 rows", between=between.format(many)),
                across if "do" in between else "") == apart


# ---- widening

def widened(left: str, right: str, times: int = 2) -> str:
    steps = []
    for n in range(times):
        steps.append(f"bring L{19 + n} of both into work\n{left}\n"
                     f"bring R{19 + n} of both into work\n{right}\nknit 2 rounds\n")
    return f"{TUBE}\n{''.join(steps)}remove weights\ncut\ngraft front to back"


MOVED_LEFT = "move 2 stitches at left of {bed} out by 1\nfill empty of {bed} from right"
MOVED_RIGHT = "move 2 stitches at right of {bed} out by 1\nfill empty of {bed} from left"


def test_widening_at_both_ends_alike_is_sound():
    assert told(widened(MOVED_LEFT.format(bed="both"), MOVED_RIGHT.format(bed="both"))) == set()


@pytest.mark.parametrize("left, right, expected", [
    # made at the edge itself on the one side
    ("fill empty of both from right", MOVED_RIGHT.format(bed="both"), "widened-unlike"),
    # lifted from the outer neighbour on the one side
    (MOVED_LEFT.format(bed="both").replace("from right", "from left"),
     MOVED_RIGHT.format(bed="both"), "widened-unlike"),
])
def test_increases_made_otherwise_on_one_side_are_told(left, right, expected):
    assert told(widened(left, right)) == {expected}


def test_increases_at_one_end_alone_are_told():
    one_end = (f"{TUBE}\n"
               "bring L19 of both into work\nfill empty of both from right\nknit 2 rounds\n"
               "bring L20 of both into work\nfill empty of both from right\nknit 2 rounds\n"
               "remove weights\ncut\ngraft front to back")
    assert told(one_end) == {"increases-not-mirrored"}


# ---- the first stitch size comes late

@pytest.mark.parametrize("later, late", [
    ("stitch size 6\nknit 4 rounds\nstitch size 7\nknit 4 rounds", True),
    ("stitch size 6\nknit 4 rounds\nstitch size 6\nknit 4 rounds", False),
    ("stitch size 6\nknit 8 rounds", False)])
def test_who_sets_two_sizes_sets_the_first_one_too(later, late):
    body = f"{TUBE}\n{later}{END}"

    assert ("size-set-late" in told(body)) is late
    assert "size-set-late" not in told(body.replace("thread main", "stitch size 3\nthread main", 1))


def test_a_beginning_in_waste_yarn_may_have_any_size():
    begun = ("do waste-start on front with around = 36, waste = waste, cord = cord, yarn = main\n"
             "{size}knit 20 rows\nstitch size 7\nknit 1 row\nremove weights\nremove comb\n"
             "bind off front\ncut")

    assert "size-set-late" not in told(begun.format(size="stitch size 6\n"))


# ---- words against lines

def stepped(words: str, lines: str) -> str:
    body = "\n    ".join(lines.split("\n"))
    return (f"{TUBE}\nset back to rest\nset front to knit\nrespect hold on front\n"
            f'step "{words}"\n    {body}')


def says_otherwise(words: str, lines: str) -> bool:
    return "words-say-otherwise" in told(stepped(words, lines))


@pytest.mark.parametrize("words, lines, wrong", [
    ("Put 3 needles of the back bed into hold.", "hold left 3 of front", True),
    ("Put 3 needles of the front bed into hold.", "hold left 3 of front", False),
    ("Put 3 needles into hold at the right.", "hold left 3 of front", True),
    ("Put 3 needles into hold at the left.", "hold left 3 of front", False),
    ("Put a needle into hold at the left and at the right.",
     "hold left 1 of front\nhold right 1 of front", False),
    ("Put a needle into hold at the right and knit a row, 5 times.",
     "repeat 4 times\n    hold right 1 working of front\n    knit 1 row", True),
    ("Put a needle into hold at the right and knit a row, 4 times.",
     "repeat 4 times\n    hold right 1 working of front\n    knit 1 row", False),
    ("Lay the yarn round the needle at the left.", "wrap right 1 of front", True),
    ("Lay the yarn round the needle at the right.", "wrap right 1 of front", False),
    ("Lay the yarn round the needle at the right.", "wrap left 1 of front", True),
    ("Take a stitch in at the left.", "move 3 stitches at right of front in by 1", True),
    ("Take a stitch in at the right.", "move 3 stitches at right of front in by 1", False),
    ("Put needles into hold at the left.", "hold L1 to R1 of front", False),
    ("Hang a stitch of the back bed on.", "transfer R5 of front onto R6 of front", True),
    ("Hang a stitch of the front bed on.", "transfer R5 of front onto R6 of front", False),
    ("Let the front bed rest.", "set back to rest", True),
    ("Let the back bed rest.", "set back to rest", False),
    ("Set the front bed to rest and the back bed to knit.",
     "set front to knit\nset back to rest", True),
    ("Set the back bed to rest and the front bed to knit.",
     "set front to knit\nset back to rest", False),
    ("Set both beds to circular.", "set front to circular\nset back to knit", True),
    ("Set both beds to circular; the back bed rests later.", "set both to circular", False),
    # The lines do not set that bed, or set it to that among others.
    ("With the front bed to knit set the back bed to circular.", "set back to circular", False),
    ("Set the front bed to rest and then both beds to knit.",
     "set front to rest\nknit 1 row\nset both to knit", False),
    ("Lay R5 of the front bed onto its left neighbour.", "transfer R5 of front onto R6 of front",
     True),
    ("Lay R5 of the front bed onto the neighbour at the left.",
     "transfer R5 of front onto R6 of front", True),
    ("Lay R5 of the front bed onto its neighbour at the right.",
     "transfer R5 of front onto R6 of front", False),
    ("Fill the needle from the right-hand neighbour.",
     "transfer R5 of front onto R6 of front\nfill R5 of front from right", False),
    ("Fill the needle from the neighbour on its left.", "fill R5 of front from right", True),
    ("With stitch size 8 knit 1 row.", "stitch size 7\nknit 1 row", True),
    ("With stitch size 7 knit 1 row.", "stitch size 7\nknit 1 row", False),
    ("Knit on until the row counter shows 90.", "knit 4 rows", True),
    ("Knit on until row counter 13.", "knit 4 rows", False),
    ("Knit on until row counter 12.", "knit 4 rows", True),
    ("When row counter 12 is reached, knit on.", "knit 4 rows", False),
    ("Knit 4 rows; move the weights after every 10 rows.", "knit 4 rows", False)])
def test_words_of_a_step_say_what_its_lines_do(words, lines, wrong):
    assert says_otherwise(words, lines) is wrong
    if not wrong:
        assert "number-in-words" not in told(stepped(words, lines))
