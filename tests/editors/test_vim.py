"""The files for Vim, in a real Vim."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from support.coloured import EDITORS, PARTS, ROOT, SCRIPT, wrong
from support.keystrokes import keys

FOLDER = EDITORS / "vim"
pytestmark = pytest.mark.skipif(shutil.which("vim") is None, reason="needs Vim")

PROBE = """
let lines = []
for l in range(1, line('$'))
  let names = []
  for c in range(1, col([l, '$']) - 1)
    call add(names, synIDattr(synID(l, c, 1), 'name'))
  endfor
  call add(lines, names)
endfor
call writefile([json_encode({'lines': lines, 'filetype': &filetype, 'shift': &shiftwidth,
      \\ 'comment': &commentstring, 'make': &makeprg,
      \\ 'messages': execute('messages')})], 'out.json')
qall!
"""


def vim(folder: Path, script: Path, probe: str = PROBE):
    """What the probe writes after the script was opened."""
    (folder / "probe.vim").write_text(probe, "utf-8")
    done = subprocess.run(
        ["vim", "-Nu", "NONE", "-n", "-i", "NONE", "-es", "--cmd", "set encoding=utf-8",
         "--cmd", f"set rtp^={FOLDER}", "--cmd", "filetype plugin on", "--cmd", "syntax on",
         str(script), "-S", "probe.vim"],
        cwd=folder, capture_output=True, text=True, timeout=60, check=False)
    assert (folder / "out.json").exists(), done.stdout + done.stderr
    return json.loads((folder / "out.json").read_text("utf-8"))


def test_vim_colours_every_part(tmp_path):
    script = tmp_path / "a.sockscript"
    script.write_text(SCRIPT, "utf-8")
    found = vim(tmp_path, script)
    kinds = []
    for (line, _), names in zip(PARTS, found["lines"], strict=True):
        # Vim counts bytes.
        begins = [len(line[:n].encode()) for n in range(len(line))]
        kinds.append([names[begin].removeprefix("sockscript").lower() for begin in begins])

    assert wrong(kinds) == []
    assert found["filetype"] == "sockscript"
    assert found["shift"] == 4 and found["comment"] == "# %s"
    assert "sockscript check" in found["make"]
    assert "Error" not in found["messages"] and "E1" not in found["messages"]


@pytest.mark.parametrize("path", [
    *sorted(ROOT.glob("sockscript/machines/*.machine"))], ids=lambda path: path.stem)
def test_vim_knows_a_machine_profile(path, tmp_path):
    assert vim(tmp_path, path)["filetype"] == "sockscript"


def test_the_list_of_findings_leads_to_the_place(tmp_path):
    script = ROOT / "examples" / "broken" / "not-hung.sockscript"
    done = subprocess.run([sys.executable, "-m", "sockscript", "check", "--format", "lines",
                           str(script)],
                          capture_output=True, text=True, timeout=60, check=False)
    (tmp_path / "found.txt").write_text(done.stdout, "utf-8")
    found = vim(tmp_path, script, """
cgetfile found.txt
let items = map(getqflist(), '[v:val.valid, v:val.lnum, v:val.col, v:val.type, v:val.text]')
call writefile([json_encode(items)], 'out.json')
qall!
""")

    line = 1 + script.read_text("utf-8").splitlines().index("    remove comb")
    assert done.stdout.startswith(f"{script}:{line}:5: warning: ")
    assert found[0][:4] == [1, line, 5, "w"] and "The comb is not hung." in found[0][4]


# ---- indentation

VIMS = [pytest.param(command, marks=pytest.mark.skipif(
    shutil.which(command[0]) is None, reason=f"needs {command[0]}"), id=command[0])
    for command in (["vim", "-N", "-es"], ["nvim", "--headless", "-es"])]
SCRIPTS = sorted([*ROOT.glob("examples/*.sockscript"), *ROOT.glob("sockscript/machines/*.machine"),
                  *ROOT.glob("sockscript/techniques/*.sockscript")])


def typed(command: list[str], folder: Path, start: str, *lines: str) -> str:
    """The text after lines of the editor's language; point at the end of ``start``."""
    script, out = folder / "a.sockscript", folder / "out.json"
    script.write_text(start, "utf-8")
    probe = "\n".join(["set backspace=2", "normal! G$", *lines,
                       "call writefile([json_encode(join(getline(1, '$'), \"\\n\"))], 'out.json')",
                       "qall!"])
    (folder / "probe.vim").write_text(probe, "utf-8")
    done = subprocess.run(
        [*command, "-u", "NONE", "-n", "-i", "NONE", "--cmd", "set encoding=utf-8",
         "--cmd", f"set rtp^={FOLDER}", "--cmd", "filetype plugin indent on",
         str(script), "-S", "probe.vim"],
        cwd=folder, capture_output=True, text=True, timeout=60, check=False)
    assert out.exists(), done.stdout + done.stderr
    return json.loads(out.read_text("utf-8"))


def pressed(text: str, first: str = "A") -> str:
    """The line that types ``text`` at the end of a line."""
    quoted = text.replace("\\", "\\\\").replace('"', '\\"').replace("\r", "\\<CR>")
    return f'execute "normal! {first}{quoted}"'.replace("\x7f", "\\<BS>")


@pytest.mark.parametrize("command", VIMS)
@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_a_script_is_typed_and_its_finished_lines_are_left_alone(path, command, tmp_path):
    text = path.read_text("utf-8").rstrip("\n")

    assert typed(command, tmp_path, "", pressed(keys(text))) == text


@pytest.mark.parametrize("command", VIMS)
def test_a_line_opened_below_gets_its_depth_and_one_above_leaves_the_other(command, tmp_path):
    start = 'section "A"\n    repeat 2 times\n        knit 1 row\n    cut'

    assert typed(command, tmp_path, start, "normal! 2G", pressed("x", "o")) == start.replace(
        "times\n", "times\n        x\n")
    for before in ("0", "^"):
        changed = typed(command, tmp_path, start, f"normal! 4G{before}", pressed("\r", "i"))
        # What stood before the cursor stays on the new empty line.
        assert changed.replace("    \n", "\n") == start.replace("    cut", "\n    cut"), before


@pytest.mark.parametrize("command", VIMS)
def test_indenting_the_whole_script_changes_no_meaning(command, tmp_path):
    text = (ROOT / "examples" / "family-sock.sockscript").read_text("utf-8").rstrip("\n")

    assert typed(command, tmp_path, text, "normal! gg=G") == text
