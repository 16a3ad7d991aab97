"""The mode for Emacs, in a real Emacs."""

from __future__ import annotations

import json
import shutil
import subprocess

import pytest
from support.coloured import EDITORS, ROOT, SCRIPT, wrong
from support.keystrokes import keys

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
        ["emacs", "-Q", "--batch", "-l", "json", "-l", "cl-lib", "-l", str(MODE), *arguments],
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


def typed(tmp_path, start: str, *forms: str) -> str:
    """The text after keys were pressed in a script with that start, point at its end."""
    script = tmp_path / "a.sockscript"
    script.write_text(start, "utf-8")
    return emacs("(set-language-environment \"UTF-8\")", f'(find-file "{script}")',
                 "(transient-mark-mode 1)", "(goto-char (point-max))", *forms,
                 "(princ (json-encode (buffer-substring-no-properties 1 (point-max))))")


def pressed(text: str) -> str:
    return f"(execute-kbd-macro [{' '.join(str(ord(letter)) for letter in text)}])"


SCRIPTS = sorted([*ROOT.glob("examples/*.sockscript"), *ROOT.glob("sockscript/machines/*.machine"),
                  *ROOT.glob("sockscript/techniques/*.sockscript")])


def test_scripts_are_typed_and_their_finished_lines_are_left_alone(tmp_path):
    texts = [path.read_text("utf-8").rstrip("\n") for path in SCRIPTS]
    each = [form for text in texts for form in (
        pressed(keys(text)), "(push (buffer-substring-no-properties 1 (point-max)) texts)",
        "(erase-buffer)")]

    assert json.loads(typed(
        tmp_path, "", "(cl-assert electric-indent-mode)", "(setq texts nil)", *each,
        "(insert (json-encode (vconcat (nreverse texts))))")) == texts


def test_tab_goes_from_depth_to_depth(tmp_path):
    start = 'section "A"\n    repeat 2 times\n'
    for times, depth in ((1, 8), (2, 4), (3, 0), (4, 8)):
        assert typed(tmp_path, start, pressed("\t" * times + "x")) == f"{start}{' ' * depth}x"


@pytest.mark.parametrize("before", ["", "  ", "    "])
def test_a_line_above_a_finished_one_leaves_it_where_it_is(before, tmp_path):
    start = 'section "A"\n    repeat 2 times\n        knit 1 row\n    cut\n'
    changed = typed(tmp_path, start, '(search-backward "    cut")',
                    f"(forward-char {len(before)})", pressed("\r"))

    assert changed == start.replace("    cut", "\n    cut")


def test_a_line_is_broken_into_two_of_one_depth(tmp_path):
    start = 'section "A"\n    repeat 2 times\n        knit 1 row cut\n'

    assert typed(tmp_path, start, '(search-backward " cut")', pressed("\r")) == start.replace(
        "row cut", "row\n        cut")


def test_indenting_a_region_changes_no_meaning(tmp_path):
    text = (ROOT / "examples" / "family-sock.sockscript").read_text("utf-8")

    assert typed(tmp_path, text, "(indent-region (point-min) (point-max))") == text


def test_it_compiles_without_a_warning(tmp_path):
    copy = tmp_path / MODE.name
    shutil.copy(MODE, copy)
    done = subprocess.run(["emacs", "-Q", "--batch", "-f", "batch-byte-compile", str(copy)],
                          capture_output=True, text=True, timeout=60, check=False)

    assert done.returncode == 0 and "Warning" not in done.stderr, done.stderr
