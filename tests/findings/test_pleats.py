"""A heel needs a tube: short rows of one bed between rows over both beds are a pleat.

Facts of the cloth: a row over both beds joins them all along (common practice, no source).
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, kinds

RIB = f"""{TUBE.split('set both to circular')[0]}knit 12 rows
"""
HEELS = {
    "shipped": "do heel on front with leave = 8",
    "from a technique": "do mine on front",
    "single rows": """set back to rest
set front to knit
respect hold on front
repeat 12 times
    hold carriage side 1 working of front
    knit 1 row on front
repeat 12 times
    return far side 1 held of front to work
    knit 1 row on front
cancel hold on front""",
}
MINE = "technique mine with bed\n    do heel on bed with leave = 8\n"


def test_it_is_told_at_the_first_of_the_short_rows():
    body = f"{RIB}{HEELS['single rows']}\nset both to knit\nknit 20 rows\nremove weights\ncut\n" \
        "gather both"
    found, = [one for one in findings(body) if one.kind == "heel-in-one-layer"]
    assert found.at.source.line(found.at.line).strip() == "knit 1 row on front"


def told(before: str, heel: str, after: str) -> bool:
    body = f"{before}{HEELS[heel]}\n{after}\nremove weights\ncut\nscrap off both as end"
    return "heel-in-one-layer" in kinds(body, HEADER + MINE)


@pytest.mark.parametrize("heel", HEELS)
def test_rows_over_both_beds_before_and_after_make_a_pleat_of_it(heel):
    for after in ("knit 20 rows", "repeat 20 times\n    knit 1 row"):
        assert told(RIB, heel, f"set both to knit\n{after}")
    # What comes later still changes nothing.
    assert told(RIB, heel, "set both to knit\nknit 9 rows\nset both to circular\nknit 9 rounds")


@pytest.mark.parametrize("heel", HEELS)
def test_in_a_tube_it_is_a_heel_and_on_one_bed_a_cup(heel):
    rounds = "set both to circular\nknit 10 rounds\n"
    assert not told(RIB.replace("knit 12 rows", rounds), heel, rounds)
    assert not told(RIB, heel, rounds)
    assert not told(RIB.replace("knit 12 rows", rounds), heel, "set both to knit\nknit 1 row")
    alone = "bring centre 36 of front into work\nset front to knit\nthread main\ncast on front\n" \
        "knit 8 rows\n"
    assert not told(alone, heel, "set front to knit\nknit 20 rows\nset back to rest")
