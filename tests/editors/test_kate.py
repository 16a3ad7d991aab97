"""The definition for Kate, in Kate's own engine."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest
from support.coloured import EDITORS, SCRIPT, wrong

PROGRAM = "kate-syntax-highlighter"
DEFINITION = EDITORS / "kate" / "sockscript.xml"
KINDS = {"Statement": "statement", "Word": "word", "Bed": "bed", "Needle": "needle",
         "Number": "number", "Unit": "unit", "Function": "function", "Defined": "defined",
         "Name": "name", "Operator": "operator", "String": "string", "Value": "value",
         "Comment": "comment"}
needs_kate = pytest.mark.skipif(
    shutil.which(PROGRAM) is None,
    reason=f"needs {PROGRAM} (Debian: libkf5syntaxhighlighting-tools)")


class Letters(HTMLParser):
    """The kind of every letter, told by the colours of our own theme."""

    def __init__(self, colours):
        super().__init__()
        self.colours, self.lines, self.kind, self.on = colours, [[]], "", False

    def handle_starttag(self, tag, attrs):
        self.on = self.on or tag == "pre"
        if tag == "span":
            found = re.search(r"color:(#\w+)", dict(attrs).get("style", ""))
            self.kind = self.colours.get(found.group(1), "") if found else ""

    def handle_endtag(self, tag):
        self.on = self.on and tag != "pre"
        self.kind = ""

    def handle_data(self, data):
        for letter in data if self.on else "":
            if letter == "\n":
                self.lines.append([])
            else:
                self.lines[-1].append(self.kind)


@needs_kate
def test_kate_colours_every_part(tmp_path):
    colours = {f"#0{n:x}0000": name for n, name in enumerate(KINDS, start=1)}
    home = tmp_path / "org.kde.syntax-highlighting"
    (home / "syntax").mkdir(parents=True)
    (home / "themes").mkdir()
    shutil.copy(DEFINITION, home / "syntax")
    (home / "themes" / "probe.theme").write_text(json.dumps({
        "metadata": {"name": "Probe", "revision": 1}, "text-styles": {}, "editor-colors": {},
        "custom-styles": {"Sockscript": {
            name: {"text-color": colour} for colour, name in colours.items()}}}), "utf-8")
    script = tmp_path / "a.sockscript"
    script.write_text(SCRIPT, "utf-8")
    done = subprocess.run(
        [PROGRAM, "--theme", "Probe", str(script)], capture_output=True, text=True, timeout=60,
        check=False, env={**os.environ, "XDG_DATA_HOME": str(tmp_path), "LC_ALL": "C.UTF-8",
                          "QT_QPA_PLATFORM": "offscreen"})
    assert done.returncode == 0 and not done.stderr, done.stderr
    letters = Letters({colour: KINDS[name] for colour, name in colours.items()})
    letters.feed(done.stdout.replace("<pre>\n", "<pre>"))
    kinds = [line for line in letters.lines if line]
    same = {"side": "bed", "called": "function"}

    assert [(line, part, kind, got) for line, part, kind, got in wrong(kinds)
            if set(got) != {same.get(kind, kind)}] == []


def test_every_name_in_the_definition_is_defined_in_it():
    tree = ElementTree.parse(DEFINITION)
    styles = {one.get("name") for one in tree.iter("itemData")}
    contexts = {one.get("name") for one in tree.iter("context")}
    lists = {one.get("name") for one in tree.iter("list")}

    assert {one.get("attribute") for one in tree.iter() if one.get("attribute")} <= styles
    for one in tree.iter():
        for where in ("context", "lineEndContext", "fallthroughContext"):
            assert (one.get(where) or "#")[0] == "#" or one.get(where) in contexts
    assert {one.get("String") for one in tree.iter("keyword")} == lists
