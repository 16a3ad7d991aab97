"""The grammars of VS Code and Sublime Text, read by VS Code's own engine."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest
import yaml
from support.coloured import EDITORS, PARTS, ROOT, SCRIPT, wrong

MODULES = EDITORS / "vscode" / "node_modules"
pytestmark = pytest.mark.skipif(
    shutil.which("node") is None or not (MODULES / "vscode-textmate").exists(),
    reason="needs Node.js and 'npm install' in editors/vscode")

KINDS = {
    "keyword.control": "statement", "keyword.other.unit": "unit", "keyword.other": "word",
    "keyword.operator": "operator", "constant.numeric": "number",
    "constant.other.needle": "needle", "constant.language.bed": "bed",
    "constant.language.side": "side", "support.function": "function",
    "entity.name.function": "called", "variable.other.definition": "defined",
    "variable.other": "name", "comment": "comment", "string": "string",
}


def scopes(grammar: Path, text: str):
    """The tokens of every line."""
    done = subprocess.run(
        ["node", str(Path(__file__).parent / "tokens.cjs"), str(MODULES), str(grammar)],
        input=text, capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 0 and not done.stderr, done.stderr
    return json.loads(done.stdout)


def kind_of(found: list[str]) -> str:
    if any(scope.startswith("meta.embedded") for scope in found):
        return "value"
    return next((kind for prefix, kind in KINDS.items() if found[-1].startswith(prefix)), "")


def kinds(grammar: Path):
    lines = [[""] * len(line) for line, _ in PARTS]
    for line, tokens in zip(lines, scopes(grammar, SCRIPT), strict=False):
        for begin, end, found in tokens:
            line[begin:end] = [kind_of(found)] * (end - begin)
    return lines


TEXTMATE = EDITORS / "vscode" / "syntaxes" / "sockscript.tmLanguage.json"


def test_vs_code_colours_every_part():
    assert wrong(kinds(TEXTMATE)) == []


@pytest.mark.parametrize("path", sorted(ROOT.glob("examples/*.sockscript")), ids=lambda p: p.stem)
def test_every_word_of_the_examples_has_a_scope(path):
    text = path.read_text("utf-8")
    for line, tokens in zip(text.splitlines(), scopes(TEXTMATE, text), strict=False):
        bare = [line[begin:end] for begin, end, found in tokens if len(found) == 1]
        assert not any(letter.isalnum() for part in bare for letter in part), line


def as_textmate(contexts, entries):
    """Rules of a Sublime syntax as those of a TextMate grammar."""
    for entry in entries:
        if "include" in entry:
            yield {"include": f"#{entry['include']}"}
        elif "push" in entry:
            inner = entry["push"]
            name = next(e["meta_scope"] for e in inner if "meta_scope" in e)
            ends = [e["match"] for e in inner if e.get("pop")]
            yield {"begin": entry["match"], "end": "|".join(ends), "name": name,
                   "patterns": list(as_textmate(contexts, [
                       e for e in inner if not e.get("pop") and not e.keys() <= {
                           "meta_scope", "clear_scopes"}]))}
        else:
            rule = {"match": entry["match"]}
            if "scope" in entry:
                rule["name"] = entry["scope"]
            if "captures" in entry:
                rule["captures"] = {str(n): {"name": scope}
                                    for n, scope in entry["captures"].items()}
            yield rule


def test_sublime_text_colours_every_part(tmp_path):
    text = (EDITORS / "sublime" / "Sockscript.sublime-syntax").read_text("utf-8")
    syntax = yaml.safe_load(text)
    grammar = {"scopeName": syntax["scope"], "patterns": [{"include": "#main"}], "repository": {
        name: {"patterns": list(as_textmate(syntax["contexts"], entries))}
        for name, entries in syntax["contexts"].items()}}
    path = tmp_path / "grammar.json"
    path.write_text(json.dumps(grammar), "utf-8")

    assert set(syntax["file_extensions"]) == {"sockscript", "machine"}
    assert wrong(kinds(path)) == []
