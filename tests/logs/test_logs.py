"""Reading logs from outside, and the numbers that they give, against numpy and by hand."""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
from pathlib import Path

import numpy
import pytest
from support.schemas import follows_schema

from sockscript.commands.check import check_file
from sockscript.commands.logs import run
from sockscript.logs.log_file import LARGEST_LOG, Log, read_log
from sockscript.sharing.stamp import fingerprint_of
from sockscript.text.source import Problem

SCRIPT = Path(__file__).resolve().parents[2] / "examples" / "family-sock.sockscript"
LOG = {"form": "sockscript-log-1", "title": "Lantern Sock", "version": "1", "size": "Man-L",
       "choices": {"heel-point": "third", "finish": "graft"}, "machine": "",
       "mark": "", "fingerprint": "", "knitter": "Ada",
       "sock": "First sock", "began": "", "ended": "", "measured": {}, "notes": [], "times": []}


@pytest.fixture
def told(tmp_path, capsys):
    """What the command tells of logs that differ from the plain one in what is given."""
    def tell(*changes, script=SCRIPT, format="json"):
        paths = []
        for n, change in enumerate(changes):
            path = tmp_path / f"{n}.log.json"
            path.write_text(change if isinstance(change, str) else json.dumps({**LOG, **change}),
                            "utf-8")
            paths.append(path)
        status = run(file=script, logs=paths, format=format, out=None)
        found = capsys.readouterr()
        out = json.loads(found.out) if format == "json" and found.out else found.out
        if format == "json" and out:
            follows_schema(out, "logs/logs")
        return status, out, found.err
    return tell


# ---- bad and foreign logs


@pytest.mark.parametrize("text", [
    "", "{", "[]", "null", "12", '"x"', "{}", '{"form": "sockscript-log-2"}', "[" * 100_000,
    json.dumps({**LOG, "measured": {"foot": "long"}}),
    json.dumps({**LOG, "measured": {"foot": -1}}),
    json.dumps({**LOG, "measured": {"foot": True}}), json.dumps({**LOG, "measured": [1]}),
    json.dumps({**LOG, "measured": {"foot": float("nan")}}),
    json.dumps({**LOG, "measured": {"foot": float("inf")}}),
    json.dumps({**LOG, "measured": {"foot": 10 ** 400}}), json.dumps({**LOG, "notes": {}}),
    json.dumps({**LOG, "notes": [1]}), json.dumps({**LOG, "notes": [{"section": "Leg"}]}),
    json.dumps({**LOG, "times": [{"section": "Leg", "step": 1.5, "seconds": 1, "pauses": 0,
                                  "rows": 0, "row-seconds": 0}]}),
    json.dumps({**LOG, "title": 7}), json.dumps({**LOG, "knitter": "x" * 5000}),
    json.dumps({key: value for key, value in LOG.items() if key != "size"})])
def test_what_is_no_log_is_told(text, tmp_path):
    path = tmp_path / "a.log.json"
    path.write_text(text, "utf-8")
    found = read_log(path)

    assert isinstance(found, Problem) and found.kind == "not-a-log"
    assert found.message and found.hint


def test_the_place_where_a_log_breaks_off_is_shown(told):
    broken = json.dumps({**LOG, "knitter": "@"}, indent=1).replace('"@"', "@")
    line = broken[:broken.index("@")].count("\n") + 1
    status, _, err = told(broken)

    assert status == 2
    assert "not-a-log" in err and f", line {line}, column 13" in err


def test_what_cannot_be_read_is_told(tmp_path):
    binary, large = tmp_path / "b", tmp_path / "l"
    binary.write_bytes(b"\xff\xfe\x00")
    large.write_bytes(b" " * (LARGEST_LOG + 1))

    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)

    for path in (tmp_path, tmp_path / "missing", binary, large, pipe, Path("/dev/zero")):
        assert isinstance(read_log(path), Problem), path


@pytest.mark.parametrize("change, words", [
    ({"title": "Other"}, "of 'Other', not of 'Lantern Sock'"),
    ({"version": "2"}, "of version 2; the script is version 1"),
    ({"size": "Giant"}, "no size 'Giant'"),
    ({"choices": {"finish": "sew"}}, "not a choice for finish"),
    ({"choices": {"colour": "red"}}, "no option 'colour'")])
def test_a_foreign_log_is_told_and_the_others_are_used(told, change, words):
    status, out, err = told({"measured": {"foot": 290}}, change)

    assert status == 1
    assert "foreign-log" in err and words in " ".join(err.split())
    assert [one["socks"] for one in out["sizes"]] == [1]


def test_without_a_single_log_nothing_is_told(told):
    status, out, err = told({"title": "Other"})

    assert (status, out) == (2, "")
    assert "no log to compare" in err


def test_a_changed_pattern_is_told(told):
    _, _, err = told({"fingerprint": "3333-4444-7777-9999"})

    assert "was changed since this sock was begun" in err
    assert "was 3333-4444-7777-9999, and now it" in err


def test_a_log_of_the_same_pattern_on_another_machine_is_no_change(told):
    ours = check_file(SCRIPT, None)
    _, _, err = told({"fingerprint": str(fingerprint_of(ours)) + "/3RTA"})

    assert err == ""


def test_the_command_wants_a_script_and_logs():
    done = subprocess.run([sys.executable, "-m", "sockscript", "logs", str(SCRIPT)],
                          capture_output=True, text=True, check=False)

    assert done.returncode == 2 and "at least one knitting log" in done.stderr


# ---- numbers


def test_mean_and_spread_are_those_of_numpy(told):
    values = [287.0, 291.5, 296.0, 300.5]
    _, out, _ = told(*({"measured": {"foot": value}} for value in values))
    (foot,) = out["sizes"][0]["measured"]

    assert foot["values"] == values
    assert foot["mean"] == pytest.approx(numpy.mean(values), abs=0.01)
    # The sample standard deviation, with n - 1 (ISO 3534-1, 2.2.12 'sample standard deviation'; the
    # number of the clause from memory).
    assert foot["spread"] == pytest.approx(numpy.std(values, ddof=1), abs=0.001)


def test_a_spreadsheet_gets_a_line_for_each_thing_that_was_measured(told):
    logs = [{"measured": {"foot": 287, "weight": 84}}, {"measured": {"foot": 291}}]
    _, out, _ = told(*logs, format="csv")
    lines = list(csv.DictReader(io.StringIO(out)))

    # The sample standard deviation of 287 and 291 is 2.83.
    assert [(line["size"], line["what"], line["unit"], line["mean"], line["spread"], line["socks"])
            for line in lines] == [("Man-L", "Foot, from heel to toe", "mm", "289.0", "2.83", "2"),
                                   ("Man-L", "Weight", "g", "84.0", "", "1")]


def test_a_machine_that_does_not_fit_is_told_before_the_logs(tmp_path, capsys):
    path = tmp_path / "a.log.json"
    path.write_text(json.dumps({**LOG, "measured": {"foot": 290}}), "utf-8")

    assert run(file=SCRIPT, logs=[path], format=None, out=None, machine="no-such-machine") == 2
    assert "no-such-machine" in capsys.readouterr().err


def test_a_single_sock_has_no_spread(told):
    _, out, _ = told({"measured": {"foot": 290}})

    assert out["sizes"][0]["measured"][0]["spread"] is None


def test_the_gauge_that_would_have_fitted(told):
    """72 stitches planned at 30 over 10 cm lie 240 mm wide; measured 225 mm are 32 over 10 cm."""
    _, out, _ = told({"measured": {"girth/Leg": 225}})
    (plain,) = out["gauges"]

    assert 72 / 225 * 100 == 32
    assert plain == {"fabric": "plain", "stitches": 32, "rows": None, "over": "10 cm", "widths": 1,
                     "lengths": 0}


def test_a_measurement_in_the_wrong_unit_is_left_out_and_told(told):
    _, out, _ = told({"measured": {"girth/Leg": 24, "foot": 290}})

    assert [one["what"] for one in out["left-out"]] == ["Leg, all round"]
    assert out["gauges"][0]["stitches"] is None
    _, text, _ = told({"measured": {"girth/Leg": 24}}, format="text")
    assert "Left out" in text and "2.4 cm, planned 24.0 cm" in text


def test_steps_with_the_longest_time_come_first_and_notes_stand_by_their_step(told):
    def log(name, seconds):
        return {"knitter": name,
                "times": [{"section": "Leg", "step": 15, "seconds": 300, "pauses": 0, "rows": 92,
                           "row-seconds": 276},
                          {"section": "Heel", "step": 18, "seconds": seconds, "pauses": 0,
                           "rows": 0, "row-seconds": 0}],
                "notes": [{"section": "Heel", "step": 18, "counter": 7, "when": "",
                           "words": "The corner\x1b[2J gapes."}]}
    status, text, _ = told(log("Ada", 800), log("Ben", 1000), format="text")

    assert status == 0
    longest = text[text.index("The steps that took longest"):]
    assert longest.index("Heel, step 18: 15 min") < longest.index("Leg, step 15: 5 min")
    assert "3.0 seconds a row (--pace 3.0)" in text
    assert "(row counter 7; Ada, Man-L, First sock)" in text
    assert "\x1b" not in text


def test_a_step_with_a_pause_does_not_count_as_long(told):
    step = {"section": "Leg", "step": 15, "seconds": 300, "rows": 92, "row-seconds": 300}
    _, out, _ = told({"times": [{**step, "pauses": 1}]}, {"times": [{**step, "pauses": 0,
                                                                      "seconds": 200}]})

    assert [one["seconds"] for one in out["steps"]] == [200]


def test_the_same_logs_give_the_same_report(told):
    logs = [{"measured": {"foot": 290 + n, "girth/Leg": 231}} for n in range(3)]

    assert told(*logs, format="text") == told(*logs, format="text")


def test_a_log_is_read_as_it_was_written(tmp_path):
    path = tmp_path / "a.log.json"
    path.write_text("\ufeff" + json.dumps({**LOG, "measured": {"foot": 290}}), "utf-8")
    found = read_log(path)

    assert isinstance(found, Log)
    assert (found.knitter, found.size, found.measured) == ("Ada", "Man-L", {"foot": 290.0})
