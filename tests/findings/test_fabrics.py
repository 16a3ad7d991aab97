"""Sections measured as one fabric that knit another. Limits are common practice, no source."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings_of_text

GAUGES = HEADER + "gauge rib 34 stitches, 44 rows per 10 cm\ntechnique more\n    {}\n"
RIB = """full pitch
bring every 2nd from 1 of centre 40 of front into work to cast on
bring every 2nd from 2 of centre 40 of back into work to cast on
set both to knit
thread main
knit 1 row
hang comb"""
FULL = "half pitch\nbring centre 20 of both into work to cast on" + RIB[RIB.index("\nset both"):]
TO_ONE_BED = "transfer back onto front\ntake back out of work\nset back to rest"
PLAIN = "bring centre 20 of front into work\nset front to knit\nthread main\ncast on front"
TUBE = "bring centre 20 of both into work\nset both to circular\nthread main\ncast on both"


def told(body: str, of: str, header: str = GAUGES, more: str = "knit 9 rows") -> list[str]:
    lines = "".join(f"    {line}\n" for line in body.splitlines())
    text = f'{header.replace("{}", more)}section "Part"{of}\n{lines}'
    return [one.message for one in findings_of_text(text) if one.kind == "fabric-not-as-said"]


@pytest.mark.parametrize("begin, fabric", [(RIB, "rib"), (PLAIN, "plain"), (TUBE, "plain")])
@pytest.mark.parametrize("rows", ["knit 10 rows", "repeat 10 times\n    knit 1 row",
                                  "do more\nknit 1 row"])
def test_the_fabric_that_is_knitted_is_compared_with_the_one_that_is_named(begin, fabric, rows):
    other = "plain" if fabric == "rib" else "rib"

    assert told(f"{begin}\n{rows}", f" in {fabric}") == []
    (message,) = told(f"{begin}\n{rows}", f" in {other}")
    assert message.startswith(f"'Part' is measured as {other}, but ")
    # Without a name the first gauge is taken, which is that of plain knitting.
    assert bool(told(f"{begin}\n{rows}", "")) == (fabric == "rib")


@pytest.mark.parametrize("body, of, words", [
    (f"{PLAIN}\nknit 4 rows", " in rib", ""), (f"{PLAIN}\nknit 5 rows", " in rib", "its 5 rows"),
    (f"{TUBE}\nknit 4 rounds", " in rib", ""), (f"{TUBE}\nknit 5 rounds", " in rib", "its 5 rows"),
    (f"{FULL}\nknit 5 rows\n{TO_ONE_BED}\nknit 6 rows", " in rib", ""),
    (f"{FULL}\nknit 5 rows\n{TO_ONE_BED}\nknit 7 rows", " in rib", "7 of its 13 rows")])
def test_more_than_a_few_rows_and_more_than_half_of_them(body, of, words):
    found = told(body, of)

    assert len(found) == bool(words)
    assert all(f"but {words} are rounds or rows on one bed" in message for message in found)


@pytest.mark.parametrize("header, body", [
    # Needles left out between the stitches, or stitches latched up, make a rib on one bed.
    (GAUGES, f"{PLAIN.replace('centre 20', 'every 2nd of centre 20')}\nknit 12 rows"),
    (GAUGES, f"{PLAIN}\nknit 12 rows\ndrop R1 of front\nlatch up R1 of front"),
    # Of one gauge alone nothing is told, and another fabric may be knitted in any way.
    (HEADER.replace("gauge plain", "gauge rib"), f"{PLAIN}\nknit 12 rows"),
    (GAUGES.replace("gauge rib", "gauge lace"), f"{PLAIN}\nknit 12 rows")])
def test_what_may_be_called_a_rib(header, body):
    assert told(body, " in lace" if "lace" in header else " in rib", header) == []


def test_the_rows_of_a_section_are_those_from_its_first_line_on_of_the_beds_that_knit():
    """Five rows on one bed; and twelve, while needles are left out on the one that rests."""
    text = f'{GAUGES.replace("{}", "knit 9 rows")}section "One" in plain\n' + "".join(
        f"    {line}\n" for line in f"{PLAIN}\nknit 5 rows".splitlines())
    two = text + 'section "Two" in rib\n    knit 5 rows\n'
    gaps = FULL.replace("bring centre 20 of both into work to cast on", (
        "bring centre 20 of front into work to cast on\n"
        "bring every 2nd of centre 20 of back into work to cast on"))

    assert [one.kind for one in findings_of_text(two)].count("fabric-not-as-said") == 1
    (message,) = told(f"{gaps}\nset back to rest\nknit 12 rows", " in rib")
    assert "but 12 of its 13 rows" in message


def test_beside_other_fabrics_the_first_of_its_name_is_meant():
    lace, jersey, rib = (f"gauge {name} 30 stitches, 40 rows per 10 cm\n"
                         for name in ("lace", "jersey", "wide-rib"))
    header = GAUGES.replace("technique", lace + jersey + rib + "technique")

    assert told(f"{RIB}\nknit 12 rows", " in lace", header) == []
    for body, of, other in ((PLAIN, "rib", "plain"), (RIB, "jersey", "rib")):
        text = f'{header.replace("{}", "knit 9 rows")}section "Part" in {of}\n' + "".join(
            f"    {line}\n" for line in f"{body}\nknit 12 rows".splitlines())
        (advice,) = [one.advice for one in findings_of_text(text)
                     if one.kind == "fabric-not-as-said"]
        assert f"such as  in {other}:" in advice
