"""A pattern over ranges: what is shared must not change any verdict."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from support.scripts import HEADER, prepared, problems

from sockscript.commands import range as command
from sockscript.findings.prove import Prepared, judge_proof, prove
from sockscript.findings.ranges import (
    RangeProof,
    combination,
    combinations,
    dimensions,
    settled_script,
)
from sockscript.findings.survey import joined, summarise
from sockscript.machine.load import script_profile
from sockscript.sheet import range_table

ROOT = Path(__file__).resolve().parents[2]

HARDER = """
works for
    foot-round   13 to 27 cm by 2 cm
    foot-length  13 to 25 cm by 4 cm
    gauge plain  24 to 40 stitches by 4
    gauge rib    30 to 38 stitches by 4
    gauge plain  38 to 50 rows by 6
"""
"""Some of these combinations miss a target, and some leave no row for the foot."""

TRICKY = HEADER + """
sizes A B
    wide 20 30 mm
option bed-word front, back
works for
    tall 3 to 12 rows by 3
    gauge plain 26 to 34 stitches by 4
    deep 1 to 4
let tall = 4
let deep = 2
let there = count-on(front)
technique counted with bed
    knit rows(10 mm) to nearest even rows on bed
    when row counter tall
        note "as it happens"
    otherwise
        knit 1 row on bed
section "Start"
    bring centre stitches(wide) to nearest even of bed-word into work to cast on
    set bed-word to knit
    thread main
    knit tall rows
section "Counter runs on"
    knit 2 rows
    repeat until row counter 13
        knit 1 row
    row counter 0
section "Counted"
    do counted on bed-word
    when size is A
        knit deep rows
    expect 6 stitches
section "Off"
    row counter 5
    expect there stitches on front
    when deep is more than 3
        cut
    bind off bed-word
"""


HALVES = HEADER + """
yarn waste "smooth waste yarn" as waste
option pulled always, never
option between nothing, rib, one-row
works for
    in-front 21 to 25 rows
    behind 21 to 25 rows
    around 22 to 26 rows
let in-front = 23
let behind = 23
let around = 24
section "Tube" in plain
    do tube-cast-on with half = 12, yarn = main
    stitch size 6
    remove comb
    when pulled is never
        remove weights
    knit around rows
section "One bed, then the other" in plain
    set back to rest
    set front to knit
    knit in-front rows
    when between is one-row
        knit 1 row
    set front to rest
    set back to knit
    knit behind rows
section "On" in plain
    when between is rib
        set both to knit
        half pitch
        knit around rows
        full pitch
    set both to circular
    knit around rows
    cut
    thread waste
    knit around rows
    cut
    drop all of both
"""
"""Many rows in one go whose exact number matters: on one bed while the other rests."""


def with_ranges(block: str) -> str:
    text = (ROOT / "examples" / "family-sock.sockscript").read_text("utf-8")
    before, rest = text.split("works for\n")
    return before + block.lstrip("\n") + rest[rest.index("\n\n"):]


def alone(ready: Prepared, dims, chosen):
    """What a plain check of a script with just these values finds."""
    script = settled_script(ready.script, dims, chosen)
    done = prove(Prepared(script, ready.library, ()), script_profile(ready.script))
    return {(f.severity, f.kind, f.at.line) for f in judge_proof(done, None).findings}


READY = {name: prepared(text) for name, text in (
    ("harder", with_ranges(HARDER)), ("tricky", TRICKY), ("halves", HALVES))}
PROOFS = {name: RangeProof(ready, script_profile(ready.script))
          for name, ready in READY.items()}
"""Kept over all tests, so that what is shared grows and is used again."""


@given(some.data())
@settings(max_examples=25, deadline=None)
@pytest.mark.parametrize("name", READY)
def test_a_shared_verdict_is_that_of_a_plain_check(name, data):
    ready, shared = READY[name], PROOFS[name]
    assert not ready.problems
    index = data.draw(some.integers(0, combinations(shared.dims) - 1))
    chosen = combination(shared.dims, index)

    verdict = shared.verdict(chosen)

    assert verdict is not None
    assert {(t.severity, t.kind, t.line) for t in verdict} == alone(ready, shared.dims, chosen)


def test_the_tricky_script_both_knits_and_fails():
    ready = READY["tricky"]
    shared = RangeProof(ready, script_profile(ready.script))
    survey = shared.survey(0, combinations(shared.dims))
    verdicts = {frozenset(t.kind for t in v) for v in survey.verdicts if v is not None}

    assert len(verdicts) > 3


def test_sections_with_other_gauges_are_not_shared():
    """Whether a line names the fabric or takes the first."""
    for words in ("stitches(10 mm)", "stitches(10 mm, plain)"):
        ready = prepared(f'{HEADER}works for\n    gauge plain 29 to 31 stitches\n'
                         f'section "A"\n    expect {words} is 3\n')
        shared = RangeProof(ready, script_profile(ready.script))
        verdicts = [shared.verdict(combination(shared.dims, n)) for n in range(3)]

        assert ["expectation-not-met" in {told.kind for told in verdict}
                for verdict in verdicts] == [True, False, True]


def test_what_goes_wrong_most_often_is_told_first():
    ready = prepared(f'{HEADER}works for\n    tall 1 to 4\nlet tall = 1\nsection "A"\n'
                     "    expect tall is less than 4\n    expect tall is 1\n")
    shared = RangeProof(ready, script_profile(ready.script))
    found = summarise(shared.dims, shared.survey(0, 4)).occurrences

    assert [(one.finding.line, one.times) for one in found
            if one.finding.kind == "expectation-not-met"] == [(10, 3), (9, 1)]


def test_sizes_are_tried_where_there_are_several():
    text = HEADER + 'sizes A\n    wide 2\nworks for\n    tall 1 to 4\nlet tall = 1\n' \
        'section "A"\n    expect tall + wide is 3\n'
    several = text.replace("sizes A", "sizes A B").replace("wide 2", "wide 2 3")

    assert [[dim.what for dim in dimensions(prepared(one).script)] for one in (text, several)] == [
        ["value"], ["value", "size"]]


def test_sections_are_shared():
    ready = READY["harder"]
    shared = RangeProof(ready, script_profile(ready.script))
    tried = 600

    shared.survey(0, tried)

    assert shared.sharer.number < tried * len(ready.script.sections) / 20


def test_a_survey_in_parts_is_the_whole():
    ready = READY["tricky"]
    whole = RangeProof(ready, script_profile(ready.script)).survey(0, 60)
    parts = [RangeProof(ready, script_profile(ready.script)).survey(first, first + 20)
             for first in (0, 20, 40)]

    assert [whole.verdicts[n] for n in whole.which] == [
        joined(parts).verdicts[n] for n in joined(parts).which]


def test_where_leaves_combinations_out():
    ready = prepared(HEADER + """
works for
    a 1 to 4
    b 1 to 4
    where a is less than b
let a = 1
let b = 2
section "x"
    note "{a} and {b}"
""")
    dims = dimensions(ready.script)
    shared = RangeProof(ready, script_profile(ready.script))
    summary = summarise(dims, shared.survey(0, combinations(dims)))

    assert (summary.tried, summary.left_out, summary.knit) == (6, 10, 6)
    assert summary.tried_values == (frozenset({0, 1, 2}), frozenset({1, 2, 3}))


def test_the_last_dimension_varies_fastest():
    dims = PROOFS["tricky"].dims
    everything = [combination(dims, n) for n in range(combinations(dims))]

    assert everything == sorted(everything) and len(set(everything)) == len(everything)


@pytest.mark.parametrize("line, kind", [
    ("foot-round 20 to 13 cm by 1 cm", "bad-number"),
    ("foot-round 13 to 20 cm", "missing-step"),
    ("foot-round 13 to 20 cm by 0 cm", "bad-number"),
    ("foot-round 13 to 20 cm by 0.001 mm", "bad-number"),
    ("foot-round 13 stitches to 20 cm by 1 cm", "units-do-not-fit"),
    ("foot-rond 13 to 20 cm by 1 cm", "unknown-name"),
    ("finish 1 to 3", "unknown-name"),
    ("gauge lace 20 to 30 stitches", "unknown-fabric"),
    ("where foot-rond is more than 3 cm", "unknown-name"),
    ("foot-round from 13 to 20 cm", "does-not-fit"),
])
def test_slips_in_ranges_are_told(line, kind):
    text = with_ranges(f"works for\n    {line}\n")

    assert [p.kind for p in problems(text)] == [kind]


def ranged(capsys, path, **options):
    status = command.run(file=path, **{"machine": None, "format": "text", "out": None, **options})
    out, err = capsys.readouterr()
    return status, out, err


def test_what_fails_is_told_with_its_values(capsys, tmp_path):
    path = tmp_path / "sock.sockscript"
    path.write_text(with_ranges("""
works for
    foot-round 19 to 27 cm by 4 cm
    foot-length 5 to 29 cm by 8 cm
    cuff-length 5 to 6 cm by 1 cm
    leg-length 8 to 8 cm by 1 cm
""").replace("knit rounds for a foot length of foot-length",
             "knit rows(foot-length) - 30 to nearest rounds"), "utf-8")

    status, out, _ = ranged(capsys, path)
    table = json.loads(ranged(capsys, path, format="json")[1])
    jsonschema.validate(table, json.loads(Path(range_table.__file__).with_name(
        "range.schema.json").read_text("utf-8")))
    rows = list(csv.DictReader(io.StringIO(ranged(capsys, path, format="csv")[1])))

    assert status == 1
    assert "negative-count" in out and "foot-length 5 cm" in out and "less than none" in out
    assert table["combinations"] == len(rows) == 3 * 4 * 2 * 4
    assert table["knit"] == sum(row["knits"] == "yes" for row in rows)
    failing = [row for row in rows if "negative-count" in row["found"]]
    told = table["goes-wrong"][0]
    assert told["combinations"] == len(failing) > 0
    assert {row["knits"] for row in failing} == {"no"}
    assert set(told["with"]["foot-length"]) == {row["foot-length"] for row in failing}


def test_two_cores_find_what_one_finds(capsys, tmp_path, monkeypatch):
    path = tmp_path / "sock.sockscript"
    path.write_text(TRICKY.replace("tall 3 to 12", "tall 3 to 6").replace(
        "by 4\n    deep", "by 8\n    deep"), "utf-8")
    alone = ranged(capsys, path)
    monkeypatch.setattr(command, "WORTH_SHARING", 1)
    monkeypatch.setattr(command, "CHUNK", 20)

    # How many there are and how long it takes is told only where it is worth a word.
    assert ranged(capsys, path)[:2] == alone[:2]

    # Where cores cannot work together, as in some containers, one does it all.
    def refused(*_, **__):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("concurrent.futures.ProcessPoolExecutor", refused)
    assert ranged(capsys, path)[:2] == alone[:2]
    assert alone[0] == 1


def test_without_ranges_there_is_help(capsys):
    status, _, err = ranged(capsys, ROOT / "examples" / "leg-warmer.sockscript")

    assert status == 2
    assert "works for" in err and "by 1 cm" in err


def test_too_many_combinations_are_refused(capsys, tmp_path):
    path = tmp_path / "sock.sockscript"
    path.write_text(with_ranges("""
works for
    foot-round 13 to 27 cm by 0.2 mm
    foot-length 13 to 27 cm by 0.2 mm
"""), "utf-8")

    status, _, err = ranged(capsys, path)

    assert status == 2
    assert "at most" in err and "larger steps" in err


def test_a_script_that_goes_on_for_ever_is_given_up(capsys, tmp_path, monkeypatch):
    from sockscript.expand import many_values

    monkeypatch.setattr(many_values, "LONGEST_RANGE", 800)
    monkeypatch.setattr(command, "WORTH_SHARING", 10**9)
    path = tmp_path / "sock.sockscript"
    path.write_text(with_ranges(HARDER), "utf-8")

    status, _, err = ranged(capsys, path)

    assert status == 2
    assert "given up" in err


def test_memory_is_bounded_and_verdicts_stay(monkeypatch):
    from sockscript.expand import many_values

    ready = READY["tricky"]
    kept = RangeProof(ready, script_profile(ready.script)).survey(0, 100)
    monkeypatch.setattr(many_values, "MOST_KEPT", 50)
    forgetful = RangeProof(ready, script_profile(ready.script)).survey(0, 100)

    assert kept == forgetful
