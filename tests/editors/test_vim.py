"""The files for Vim, in a real Vim."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from support.coloured import EDITORS, PARTS, ROOT, SCRIPT, wrong

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

    assert done.stdout.startswith(f"{script}:10:5: warning: ")
    assert found[0][:4] == [1, 10, 5, "w"] and "The comb is not hung." in found[0][4]
