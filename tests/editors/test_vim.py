"""The files for Vim, in a real Vim."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Sequence
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
    return all_typed(command, folder, start, lines)[0]


def all_typed(command: list[str], folder: Path, start: str, *scripts: Sequence[str]) -> list[str]:
    """The texts after the lines of each script, in one editor."""
    script, out = folder / "a.sockscript", folder / "out.json"
    script.write_text(start, "utf-8")
    each = "\n".join("\n".join([
        "normal! G$", *lines, "call add(texts, join(getline(1, '$'), \"\\n\"))",
        "silent %delete _"]) for lines in scripts)
    probe = "\n".join(["set backspace=2", "let texts = []", each,
                       "call writefile([json_encode(texts)], 'out.json')", "qall!"])
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
def test_scripts_are_typed_and_their_finished_lines_are_left_alone(command, tmp_path):
    texts = [path.read_text("utf-8").rstrip("\n") for path in SCRIPTS]

    assert all_typed(command, tmp_path, "", *([pressed(keys(text))] for text in texts)) == texts


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


# ---- the service, in Neovim

SERVED = """
vim.cmd('edit strip.sockscript')
local space = vim.api.nvim_create_namespace('sockscript')
local function marks()
  return vim.api.nvim_buf_get_extmarks(0, space, 0, -1, { details = true })
end
vim.wait(20000, function() return #marks() > 0 end, 50)
local ends = {}
for _, mark in ipairs(marks()) do
  ends[tostring(mark[2])] = mark[4].virt_text[1][1]
end
local commands = vim.tbl_keys(vim.api.nvim_buf_get_commands(0, {}))
table.sort(commands)
vim.fn.writefile({ vim.fn.json_encode({ ends, commands }) }, 'out.json')
vim.cmd('qall!')
"""


@pytest.mark.skipif(shutil.which("nvim") is None, reason="needs Neovim")
def test_neovim_starts_the_service_by_itself(tmp_path):
    (tmp_path / "strip.sockscript").write_text('''pattern "Strip"
yarn main "wool"
section "Strip"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 10 rows
''', "utf-8")
    (tmp_path / "probe.lua").write_text(SERVED, "utf-8")
    program = Path(sys.executable).with_name("sockscript")
    done = subprocess.run(
        ["nvim", "--headless", "-u", "NONE", "-n", "-i", "NONE", "--cmd", f"set rtp^={FOLDER}",
         "--cmd", f"let g:sockscript_program = '{program}'", "--cmd", "filetype plugin indent on",
         "-c", "luafile probe.lua"],
        cwd=tmp_path, capture_output=True, text=True, timeout=60, check=False)
    ends, commands = json.loads((tmp_path / "out.json").read_text("utf-8"))

    assert ends["7"].split() == ["20", "+", "0", "·", "COR", "·", "RC", "10"], done.stderr
    assert commands == [f"Sockscript{name}" for name in (
        "Check", "Explain", "Format", "Mend", "Needles", "Outline", "Rename", "Size")]
