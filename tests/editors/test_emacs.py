"""The mode for Emacs, in a real Emacs."""

from __future__ import annotations

import json
import shutil
import subprocess

import pytest
from support.coloured import EDITORS, SCRIPT, wrong

MODE = EDITORS / "emacs" / "sockscript-mode.el"
pytestmark = pytest.mark.skipif(shutil.which("emacs") is None, reason="needs Emacs")

KINDS = {
    "font-lock-keyword-face": {"statement"}, "font-lock-builtin-face": {"word"},
    "font-lock-constant-face": {"bed", "side", "needle", "number"},
    "font-lock-type-face": {"unit"}, "font-lock-function-name-face": {"function", "called"},
    "font-lock-variable-name-face": {"defined"}, "font-lock-string-face": {"string"},
    "font-lock-preprocessor-face": {"value"}, "font-lock-comment-face": {"comment"},
    "font-lock-comment-delimiter-face": {"comment"},
    # Numbers, names and signs stay as they are.
    "nil": {"number", "name", "operator"},
}


def emacs(*forms: str):
    """What the last form prints, as JSON."""
    arguments = [word for form in forms for word in ("--eval", form)]
    done = subprocess.run(
        ["emacs", "-Q", "--batch", "-l", "json", "-l", str(MODE), *arguments],
        capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_emacs_colours_every_part(tmp_path):
    script = tmp_path / "a.sockscript"
    script.write_text(SCRIPT, "utf-8")
    faces = emacs(
        "(set-language-environment \"UTF-8\")", f'(find-file "{script}")', "(font-lock-ensure)",
        """(princ (json-encode (mapcar (lambda (p) (let ((f (get-text-property p 'face)))
               (format "%s" (if (consp f) (car f) f))))
             (number-sequence 1 (1- (point-max))))))""")
    lines, at = [], 0
    for line in SCRIPT.splitlines():
        lines.append(faces[at:at + len(line)])
        at += len(line) + 1

    assert [(line, part, kind, got) for line, part, kind, got in wrong(lines)
            if not all(kind in KINDS.get(face, set()) for face in got)] == []


def test_the_mode_is_chosen_by_the_end_of_the_name_and_indents_by_four(tmp_path):
    script = tmp_path / "a.machine"
    script.write_text("machine\nbeds 2\n", "utf-8")
    found = emacs(
        f'(find-file "{script}")', "(forward-line 1)", "(indent-for-tab-command)",
        """(princ (json-encode (list (symbol-name major-mode) (buffer-string) compile-command
             comment-start)))""")

    assert found == ["sockscript-mode", "machine\n    beds 2\n",
                     "sockscript check --format lines a.machine", "# "]


def test_it_compiles_without_a_warning(tmp_path):
    copy = tmp_path / MODE.name
    shutil.copy(MODE, copy)
    done = subprocess.run(["emacs", "-Q", "--batch", "-f", "batch-byte-compile", str(copy)],
                          capture_output=True, text=True, timeout=60, check=False)

    assert done.returncode == 0 and "Warning" not in done.stderr, done.stderr
