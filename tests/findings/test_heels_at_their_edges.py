"""Heels and toes: each rule on both sides of its limit.

The limits are common practice, no source; what share of a foot a toe takes is counted in rows, all
of them as high.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, findings_of_text, run

from sockscript.fabric.finished import finished

BACK = "set both to circular\n"


def sock(stitches: int = 40, heel: int = 13, rounds: int = 60,
         toe: str = "do wedge-toe with leave = 14", end: str = "graft front to back") -> str:
    """A sock from a tube of so many stitches a bed."""
    return (f"{TUBE.replace('centre 36', f'centre {stitches}')}\n"
            f"do heel on front with leave = {heel}\n{BACK}knit {rounds} rounds\n{toe}\n"
            f"remove weights\n{end}\ncut")


def told(body: str, *names: str, more: str = "") -> list[tuple[str, str]]:
    header = f"{HEADER}{more or 'sizes Only' + chr(10) + '    foot-length 24 cm' + chr(10)}"
    return [(one.kind, one.message) for one in findings(body, header)
            if one.kind.startswith(names or ("toe-", "heel-"))]


# ---- the point of a heel


@pytest.mark.parametrize("stitches, left, words", [
    (60, 12, "narrow"), (60, 13, ""), (60, 27, ""), (60, 28, "wide"), (64, 13, "narrow"),
    (54, 25, ""), (54, 26, "wide")])
def test_how_far_the_point_of_a_heel_may_be_off_a_third(stitches, left, words):
    """Of 60 stitches 20 are a third, and 13 % are 7.8."""
    found = told(sock(stitches, left), "heel-")

    assert found == [("heel-point-unusual", (
        f"In its shortest row the heel knits {left} of {stitches} stitches: that is {words} beside "
        "a third."))] * bool(words)


@pytest.mark.parametrize("left, expected", [(26, []), (27, ["heel-point-unusual"])])
def test_a_target_says_how_wide_the_point_of_the_heel_should_be(left, expected):
    body = sock(40, left).replace("do heel", "target heel width 3/5 within 1/20\ndo heel")
    found = told(body, "heel-point")

    assert [kind for kind, _ in found] == expected
    assert all(message.endswith("that is wide beside 60 %.") for _, message in found)


# ---- a toe of short rows

CUP = """set back to rest
set front to knit
respect hold on front
note "Move the weights."
repeat until {left} stitches in work on front
    hold carriage side 1 working of front
    knit 1 row on front
wrap carriage side 1 held of front
do short-rows-out-wrapped on front with until = 40
cancel hold on front
"""


@pytest.mark.parametrize("toe", ["do heel on front with leave = {left}\n", CUP,
                                 'do cup\n'])
@pytest.mark.parametrize("left, expected", [
    (2, "toe-too-pointed"), (5, "toe-too-pointed"), (6, ""), (13, ""), (24, ""),
    (25, "toe-too-blunt")])
def test_how_pointed_a_toe_of_short_rows_may_be(toe, left, expected):
    """Of 40 stitches 6 are 15 % and 24 are 60 %, as where a toe is grafted."""
    lines = CUP.format(left=left).splitlines()
    technique = "technique cup\n" + "".join(f"    {line}\n" for line in lines)
    body = sock(toe=toe.format(left=left) + BACK + "knit 1 round")
    found = findings(body.replace("do heel", "knit 60 rounds\ndo heel", 1), HEADER + technique)
    toes = [(one.kind, one.message) for one in found if one.kind.startswith(("toe-", "heel-"))]

    words = {"toe-too-pointed": "pointed", "toe-too-blunt": "blunt"}
    assert toes == ([(expected, f"The toe narrows to {left} of 40 stitches: it will be "
                      f"{words[expected]}.")] if expected else [])


def test_the_toe_of_a_flat_sock_on_one_bed_is_looked_at_too():
    def flat(toe: int) -> str:
        cup = CUP.replace("set back to rest\nset front to knit\n", "").replace("40", "28")
        return ("bring centre 28 of front into work\nset front to knit\nthread main\n"
                f"cast on front\nhang weights\nknit 60 rows\n{cup.format(left=10)}knit 50 rows\n"
                f"{cup.format(left=toe)}bind off front\ncut\nremove weights\nsew sides")

    assert [kind for kind, _ in told(flat(2), "toe-too", more="\n")] == ["toe-too-pointed"]
    assert told(flat(10), "toe-too", more="\n") == []


# ---- the tip of a toe


@pytest.mark.parametrize("stitches, left, end, expected", [
    (20, 12, "graft front to back", []), (20, 14, "graft front to back", ["toe-too-blunt"]),
    (20, 14, "gather both", ["toe-too-blunt"]), (20, 3, "graft front to back", []),
    (20, 2, "graft front to back", ["toe-too-pointed"]), (20, 2, "gather both", []),
    (28, 4, "graft front to back", ["toe-too-pointed"]),
    (33, 20, "graft front to back", ["toe-too-blunt"]),
    (47, 7, "graft front to back", ["toe-too-pointed"])])
def test_over_how_many_stitches_a_toe_is_closed(stitches, left, end, expected):
    """Of 40 stitches 24 are 60 % and 6 are 15 %; of 66, 40 are more; 8 of 56 and 14 of 94 are
    less."""
    if (stitches - left) % 2:
        toe = (f"do wedge-toe with leave = {left + 1}\nmove 3 stitches at left of both in by 1\n"
               "knit 2 rounds")
    else:
        toe = f"do wedge-toe with leave = {left}"
    found = told(sock(stitches, stitches // 3, 40, toe, end), "toe-too")

    assert [kind for kind, _ in found] == expected
    assert all(f"to {2 * left} of {2 * stitches} stitches" in message for _, message in found)


def test_a_piece_without_heel_or_foot_has_no_toe():
    """A bag may end as it likes, and so may a trial piece of a toe."""
    bag = (f"{TUBE}\nknit 40 rounds\ndo wedge-toe with leave = 32\nremove weights\n"
           "cut\ngraft front to back")
    trial = sock(toe="knit 1 round", rounds=40)
    aimed = trial.replace("do heel", "target foot length 24 cm within 9 cm\ndo heel")
    no_foot = "sizes Only\n    leg-length 24 cm\n"

    assert told(bag) == []
    assert told(trial, more=no_foot) == []
    assert [kind for kind, _ in told(trial)] == ["toe-too-blunt"]
    assert [kind for kind, _ in told(aimed, more=no_foot)] == ["toe-too-blunt"]


def shares(toe: str, share: float, steps: tuple[int, int]) -> list[int]:
    """Rounds of the foot with which the toe takes just such a share, and the steps from there."""
    short = finished(run(sock(rounds=10, toe=toe)))
    row = finished(run(sock(rounds=11, toe=toe))).foot - short.foot
    assert short.toe is not None and row > 0
    return [10 + int((short.toe / share - short.foot) / row) + more for more in steps]


@pytest.mark.parametrize("toe, share, offsets, expected", [
    ("do wedge-toe with leave = 14, each = 1", 0.09, (0, 1), ["", "quick"]),
    ("do wedge-toe with leave = 14, each = 4", 0.36, (1, 0), ["", "slow"])])
def test_what_share_of_the_foot_a_toe_takes(toe, share, offsets, expected):
    shape = {"quick": "short", "slow": "long"}
    for rounds, way in zip(shares(toe, share, offsets), expected, strict=True):
        found = told(sock(rounds=rounds, toe=toe), "toe-depth")
        assert [kind for kind, _ in found] == ["toe-depth-unusual"] * bool(way), rounds
        for _, message in found:
            assert message.startswith(f"The decreases are {way}: the toe is {shape[way]}, ")


def knee_sock(leave: int, each: int, calf: int = 60, times: int = 14) -> str:
    """A leg narrowed from the calf to the foot, four stitches at a time, and a wedge toe."""
    return f"""bring centre {calf} of both into work
set both to circular
thread main
cast on both
hang weights
knit 40 rounds
do decrease-every with each = 6, times-over = {times}
knit 30 rounds
do heel on front with leave = {(calf - 2 * times) // 3}
set both to circular
knit 50 rounds
do wedge-toe with leave = {leave}, each = {each}
knit 1 round
remove weights
cut
graft front to back"""


@pytest.mark.parametrize("leave, each, calf, times, expected", [
    (8, 6, 60, 14, ["toe-depth-unusual"]), (8, 2, 60, 14, []), (4, 2, 60, 14, [
        "toe-too-pointed"]), (18, 2, 44, 8, ["toe-too-blunt"]), (16, 2, 44, 8, [])])
def test_the_toe_of_a_knee_sock_is_measured_by_its_foot(leave, each, calf, times, expected):
    """Of 64 stitches round the foot 16 are left and 8 are too few; of 56, 36 are too many, whatever
    the calf has. That the leg is narrowed as the toe is makes no pace of both."""
    found = told(knee_sock(leave, each, calf, times), "toe-", "uneven-pace")

    assert [kind for kind, _ in found] == expected


def test_what_is_told_of_a_toe_stands_at_the_toe():
    lines = knee_sock(8, 6).replace("do wedge", 'section "Tip" in plain\ndo wedge').splitlines()
    text = f'{HEADER}section "Leg" in plain\n' + "\n".join(
        line if line.startswith("section") else f"    {line}" for line in lines)
    (found,) = findings_of_text(text)

    assert found.kind == "toe-depth-unusual"
    assert text.splitlines()[found.at.line - 1] == 'section "Tip" in plain'
    # It begins with the first decrease.
    first = 'section "First" in plain\n    do decrease-every with each = 6, times-over = 1\n'
    (found,) = findings_of_text(text.replace('section "Tip"', f'{first}section "Tip"'))
    assert found.at.source.line(found.at.line) == 'section "First" in plain'


# ---- heels askew, twice, and in two halves


def test_rows_on_one_bed_alone_are_no_round_between_two_heels():
    """And a row with hold set, but nothing in hold, is no heel."""
    heel = "do heel on front with leave = 12\n"
    end = f"{BACK}knit 4 rounds\nremove weights\ncut\ngraft front to back"
    alone = "set back to rest\nset front to knit\nknit 2 rows on front\n"
    idle = "set back to rest\nset front to knit\nrespect hold on front\nknit 2 rows on front\n" \
        "cancel hold on front\nknit 2 rows on front\n"

    assert [kind for kind, _ in told(f"{TUBE}\n{heel}{alone}{heel}{end}", "heel-twice")] == [
        "heel-twice"]
    assert told(f"{TUBE}\n{heel}{BACK}knit 1 round\n{heel}{end}", "heel-twice") == []
    assert told(f"{TUBE}\n{idle}{heel}{end}", "heel-twice") == []


# ---- girths with their ease


@pytest.mark.parametrize("foot, ease, missed", [
    ("26.6", "less 40%", False), ("27.1", "less 41%", True), ("11.4", "plus 40%", False),
    ("11.3", "plus 41%", True)])
def test_what_may_be_a_girth_with_its_ease(foot, ease, missed):
    """48 stitches are 16 cm; what is worked out from less than three fifths of the foot, or from
    more than seven fifths, is something else."""
    table = (f"sizes Only\n    foot-round {foot} cm\n"
             f"let around = stitches(foot-round {ease}) to nearest multiple of 4\n")
    found = told(sock(24, 8), "size-missed", more=table)

    assert [kind for kind, _ in found] == ["size-missed"] * missed
