"""Findings for other programs, colour on a terminal, and watching."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import time
from pathlib import Path

import jsonschema
import pytest
from support.command import heeds_interrupts

import sockscript
from sockscript.commands import check
from sockscript.findings.finding import Finding
from sockscript.findings.for_programs import FORM
from sockscript.findings.page import load_page, page_names
from sockscript.findings.paint import COLOUR
from sockscript.findings.report import finding_text
from sockscript.text.source import Source, Span

BROKEN = Path(__file__).resolve().parents[2] / "examples" / "broken"
NAMES = [name for name in page_names()
         if (BROKEN / f"{name}.sockscript").exists() and name != "too-long"]
"""All but the one that takes as long as all others together."""
SCHEMA = json.loads((Path(sockscript.__file__).parent / "findings" / "findings.schema.json")
                    .read_text("utf-8"))


def formed(capsys, monkeypatch, format, names=NAMES):
    monkeypatch.chdir(BROKEN)
    machine = load_page(names[0]).machine if len(names) == 1 else None
    status = check.run(files=[Path(f"{name}.sockscript") for name in names], machine=machine,
                       format=format)
    return status, capsys.readouterr().out


def test_json_keeps_to_its_schema(capsys, monkeypatch):
    _, out = formed(capsys, monkeypatch, "json")
    told = json.loads(out)
    jsonschema.Draft202012Validator.check_schema(SCHEMA)

    jsonschema.validate(told, SCHEMA)
    assert told["form"] == FORM == SCHEMA["properties"]["form"]["const"]
    assert len(told["files"]) == len(NAMES)


def test_the_schema_refuses_what_is_not_so(capsys, monkeypatch):
    told = json.loads(formed(capsys, monkeypatch, "json", ["short-row-hole"])[1])
    told["files"][0]["findings"][0]["severity"] = "grave"

    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(told, SCHEMA)


@pytest.mark.parametrize("name", NAMES)
def test_all_formats_tell_the_same(capsys, monkeypatch, name):
    status, out = formed(capsys, monkeypatch, "json", [name])
    told = json.loads(out)["files"][0]["findings"]
    lines = formed(capsys, monkeypatch, "lines", [name])[1].splitlines()
    results = json.loads(formed(capsys, monkeypatch, "sarif", [name])[1])["runs"][0]["results"]
    assert status == formed(capsys, monkeypatch, "text", [name])[0]

    assert {one["name"] for one in told} == {name}
    assert [one["name"] for one in told] == [result["ruleId"] for result in results] == [
        re.search(r"\[([a-z0-9-]+)\]$", line).group(1) for line in lines]
    for one, line, result in zip(told, lines, results, strict=True):
        place = one["place"]
        assert line.startswith(f"{place['file']}:{place['line']}:{place['column']}: ")
        region = result["locations"][0]["physicalLocation"]["region"]
        assert (region["startLine"], region["startColumn"]) == (place["line"], place["column"])
        assert result["message"]["text"].startswith(one["message"])


def test_sarif_has_what_the_standard_requires(capsys, monkeypatch):
    """SARIF 2.1.0 (OASIS): required are version, runs, tool.driver.name (3.13, 3.14, 3.19) and a
    message (3.27.11); level is one of four (3.27.10); ruleIndex points into the rules (3.27.6);
    lines and columns count from 1 (3.30)."""
    log = json.loads(formed(capsys, monkeypatch, "sarif")[1])
    (run,) = log["runs"]
    rules = run["tool"]["driver"]["rules"]

    assert log["version"] == "2.1.0" and run["tool"]["driver"]["name"]
    assert len({rule["id"] for rule in rules}) == len(rules)
    for result in run["results"]:
        assert result["message"]["text"]
        assert result["level"] in {"none", "note", "warning", "error"}
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]
        region = result["locations"][0]["physicalLocation"]["region"]
        assert region["startLine"] >= 1 and 1 <= region["startColumn"] < region["endColumn"]
        uri = result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]
        assert re.fullmatch(r"[A-Za-z0-9._~/%-]+", uri)  # RFC 3986


def test_sarif_keeps_to_the_published_schema(capsys, monkeypatch):
    """The schema of SARIF 2.1.0, as published by OASIS and shipped with a SARIF tool kit."""
    schema = json.loads((Path(__file__).parent / "sarif-schema-2.1.0.json").read_text("utf-8"))
    log = json.loads(formed(capsys, monkeypatch, "sarif")[1])

    jsonschema.validate(log, schema)
    assert len(log["runs"][0]["results"]) > 100
    log["runs"][0]["results"][0]["level"] = "grave"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(log, schema)


def test_an_unknown_format_is_told(capsys):
    assert check.run(files=[BROKEN], format="xml") == 2
    assert "sarif" in capsys.readouterr().err


def test_colour_changes_nothing_but_colour():
    checked = check.check_file(BROKEN / "short-row-hole.sockscript", None)
    text, shown = check.report(checked), check.report(checked, COLOUR)

    assert shown != text
    assert re.sub(r"\x1b\[[0-9;]*m", "", shown) == text


@pytest.mark.parametrize("variables, coloured", [
    ({"TERM": "xterm"}, True), ({"TERM": "xterm", "NO_COLOR": "1"}, False),
    ({"TERM": "dumb"}, False)])
def test_colour_only_where_it_is_wanted(variables, coloured):
    """On a terminal, unless NO_COLOR is set and not empty (no-color.org)."""
    import pty

    ours, theirs = pty.openpty()
    environment = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "TERM")}
    done = subprocess.Popen([sys.executable, "-m", "sockscript", "check",
                             str(BROKEN / "short-row-hole.sockscript")], stdout=theirs,
                            env={**environment, **variables}, cwd=BROKEN)
    os.close(theirs)
    shown = b""
    while True:
        try:
            part = os.read(ours, 4096)
        except OSError:
            break
        if not part:
            break
        shown += part
    os.close(ours)

    assert done.wait(30) == 1
    assert b"short-row-hole" in shown
    assert (b"\x1b[" in shown) == coloured


def test_watching_checks_again_at_every_save(tmp_path):
    path = tmp_path / "sock.sockscript"
    page = load_page("yarn-jump")
    path.write_text(page.broken, "utf-8")
    out = tmp_path / "out.txt"
    with out.open("w") as stream:
        watching = subprocess.Popen([sys.executable, "-m", "sockscript", "check", "--watch",
                                     str(path)], stdout=stream, stderr=subprocess.DEVNULL,
                                    cwd=tmp_path, preexec_fn=heeds_interrupts)
    try:
        _wait_for(out, "yarn-jump")
        path.write_text(page.mended, "utf-8")
        _wait_for(out, "no stitch is lost")
    finally:
        watching.send_signal(2)
    assert watching.wait(20) == 0


def _wait_for(path, words):
    until = time.monotonic() + 30
    while words not in path.read_text("utf-8"):
        assert time.monotonic() < until, path.read_text("utf-8")
        time.sleep(0.05)


def test_the_parts_of_a_report_are_set_off():
    source = Source("a.sockscript", "\n\n\n\n    knit 4 rows # plain FAULT  x\n")
    shown = finding_text(Finding("x", "fault", Span(source, 5, 5, 9), "FAULT  y: What to do: ^.",
                                 "Knit."), COLOUR)
    plain = re.sub(r"\x1b\[[\d;]*m", "", shown)

    assert "\x1b[1;31mFAULT\x1b[0m\x1b[1m  x\x1b[0m    a.sockscript, line 5" in shown
    assert "\x1b[1mknit\x1b[0m \x1b[36m4\x1b[0m" in shown
    assert "\x1b[2m# plain FAULT  x\x1b[0m" in shown
    assert "|     \x1b[1;31m^^^^\x1b[0m\n" in shown
    # What only looks like a part of a report is left alone.
    assert "\n  FAULT  y: What to do: ^.\n  \x1b[1mWhat to do:\x1b[0m Knit." in shown
    assert plain.split("\n")[1] == "      5 |     knit 4 rows # plain FAULT  x"
