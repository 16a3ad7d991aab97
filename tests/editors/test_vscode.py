"""The extension for VS Code: its snippets, what it starts, and that it can be packed."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from support.coloured import EDITORS
from support.scripts import prepared

from sockscript.highlight.word_groups import word_groups

FOLDER = EDITORS / "vscode"
SNIPPETS = json.loads((FOLDER / "snippets" / "sockscript.json").read_text("utf-8"))
MANIFEST = json.loads((FOLDER / "package.json").read_text("utf-8"))
AT_MARGIN = ("yarn", "gauge", "option", "sizes", "machine", "let", "section", "technique")
needs_node = pytest.mark.skipif(shutil.which("node") is None, reason="needs Node.js")
needs_modules = pytest.mark.skipif(
    not (FOLDER / "node_modules" / ".bin" / "vsce").exists(),
    reason="needs Node.js and 'npm install' in editors/vscode")


def filled(snippet) -> str:
    """A snippet with what it proposes left as it is."""
    body = snippet["body"]
    text = "\n".join(body) if isinstance(body, list) else body
    return re.sub(r"\$0", "", re.sub(r"\$\{\d+:((?:[^}\"]|\"[^\"]*\")*)\}", r"\1", text))


@pytest.mark.parametrize("name", SNIPPETS)
def test_a_snippet_is_read_without_a_problem(name):
    text = filled(SNIPPETS[name])
    assert "$" not in text
    if text.startswith(AT_MARGIN):
        script = f'pattern "x"\n{text}\n'
        if not text.startswith("section"):
            script += 'section "x"\n    note "x"\n'
    elif text.startswith("pattern"):
        script = text
    else:
        rows = "\n".join("    " + row for row in text.splitlines())
        script = f'pattern "x"\nsection "x"\n{rows}\n'

    assert [problem.message for problem in prepared(script).problems] == []


def test_what_the_manifest_names_is_there():
    contributes = MANIFEST["contributes"]
    paths = [MANIFEST["main"], contributes["languages"][0]["configuration"],
             contributes["grammars"][0]["path"], contributes["snippets"][0]["path"]]

    assert all((FOLDER / path).is_file() for path in paths)
    assert contributes["languages"][0]["extensions"] == [".sockscript", ".machine"]
    configuration = json.loads((FOLDER / "language-configuration.json").read_text("utf-8"))
    assert re.fullmatch(configuration["wordPattern"], "half-round")
    assert not re.fullmatch(configuration["wordPattern"], "half -")
    deeper = configuration["indentationRules"]["increaseIndentPattern"]
    assert re.match(deeper, "    repeat 4 times # twice")
    assert not re.match(deeper, "    knit 4 rows")
    assert all(re.match(deeper, word) for word in word_groups().opening)


@needs_node
@pytest.mark.parametrize("mode", ["starts", "fails", "off"])
def test_what_the_extension_starts(mode):
    done = subprocess.run(["node", str(Path(__file__).parent / "activate.cjs"), str(FOLDER), mode],
                          capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 0, done.stderr
    seen = json.loads(done.stdout)

    if mode == "off":
        assert seen["started"] == [] and seen["warnings"] == []
        return
    # Started once, and once more by the command.
    assert [(one["command"], one["args"], one["options"]["cwd"]) for one in seen["started"]] == [
        ("my-sockscript", ["language-server"], str(Path.home()))] * 2
    assert seen["languages"] == ["sockscript"]
    assert seen["commands"] == [one["command"] for one in MANIFEST["contributes"]["commands"]]
    assert seen["stopped"] == (2 if mode == "starts" else 0)
    assert len(seen["warnings"]) == (0 if mode == "starts" else 2)
    assert all("'my-sockscript' could not be started" in text for text in seen["warnings"])
    # While it starts one sentence tells all, and nothing is tried again; later it is, four times.
    if mode == "fails":
        assert [shown for _, shown in seen["told"]] == [False] * 2
        assert seen["closed"] == ["stay"] * 2
    else:
        assert [shown for _, shown in seen["told"]] == ["force"] * 2
        assert seen["closed"] == (["again"] * 4 + ["stay"] * 2) * 2


def test_it_starts_in_folders_that_nobody_has_trusted():
    """A stranger's pattern is opened without a thought, so the folder may not say what is run."""
    assert MANIFEST["capabilities"]["untrustedWorkspaces"]["supported"] is True
    assert MANIFEST["contributes"]["configuration"]["properties"]["sockscript.program"][
        "scope"] == "machine"


@needs_node
def test_the_needles_and_the_sizes_are_asked_for():
    done = subprocess.run(
        ["node", str(Path(__file__).parent / "activate.cjs"), str(FOLDER), "starts"],
        capture_output=True, text=True, timeout=60, check=True)
    seen = json.loads(done.stdout)

    uri = "file:///sock.sockscript"
    assert [words for _, *words in seen["asked"]] == [
        ["sockscript.server.needles", [uri, 7]], ["sockscript.server.sizes", [uri]],
        ["sockscript.server.chooseSize", ["Large"]], ["sockscript.server.needles", [uri, 7]]]
    assert seen["offered"] == [["Small", "Large"]]
    for scripts, page in seen["drawn"]:
        assert not scripts
        assert "<svg>needles</svg>" in page
        assert "default-src 'none'" in page


def test_the_package_that_is_shipped_has_all_it_needs():
    """That our own files in it are up to date asks ``test_generated``."""
    with zipfile.ZipFile(FOLDER / "sockscript.vsix") as packed:
        found = {name.removeprefix("extension/") for name in packed.namelist()}

    assert {"extension.js", "package.json", "language-configuration.json", "README.md",
            "snippets/sockscript.json", "syntaxes/sockscript.tmLanguage.json",
            "node_modules/vscode-languageclient/node.js"} <= found
    assert not any("vsce" in name or "oniguruma" in name for name in found)


@needs_modules
def test_it_is_packed_the_same_again():
    done = subprocess.run([sys.executable, str(EDITORS / "pack.py"), "--check"],
                          capture_output=True, text=True, timeout=200, check=False)

    assert done.returncode == 0, done.stdout + done.stderr
