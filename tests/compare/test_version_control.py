"""``sockscript compare`` called by git to show what changed in a pattern."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys

import pytest
from support.command import ROOT, sockscript

TEXT = (ROOT / "examples" / "family-sock.sockscript").read_text("utf-8")
USING = TEXT.replace('licence "CC', 'use "ours.sockscript"\nlicence "CC').replace(
    "    knit 1 round\n    remove weights\n", "    do our-end\n")
OURS = "technique our-end\n    knit 1 round\n    remove weights\n"

pytestmark = pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed")


@pytest.fixture
def git(tmp_path):
    """A repository with a pattern in a folder, set up as the README says."""
    environment = {**os.environ, "HOME": str(tmp_path), "GIT_CONFIG_NOSYSTEM": "1",
                   "GIT_AUTHOR_NAME": "Ada", "GIT_AUTHOR_EMAIL": "ada@example.org",
                   "GIT_COMMITTER_NAME": "Ada", "GIT_COMMITTER_EMAIL": "ada@example.org"}
    root = tmp_path / "club"

    def call(*words):
        done = subprocess.run(["git", "-C", str(root), *words], capture_output=True, text=True,
                              timeout=120, env=environment, check=False)
        assert done.returncode == 0, (words, done.stderr)
        return done.stdout

    (root / "socks").mkdir(parents=True)
    call("init", "-q")
    call("config", "diff.sockscript.command", f"'{sys.executable}' -m sockscript compare")
    (root / ".gitattributes").write_text("*.sockscript diff=sockscript\n")
    (root / "socks" / "lantern.sockscript").write_text(USING, "utf-8")
    (root / "socks" / "ours.sockscript").write_text(OURS, "utf-8")
    call("add", ".")
    call("commit", "-q", "-m", "First")
    return root, call


def test_what_changed_since_the_last_commit(git):
    root, call = git
    path = root / "socks" / "lantern.sockscript"
    path.write_text(USING.replace("less 10%", "less 5%"), "utf-8")
    found = call("diff")

    assert "was  socks/lantern.sockscript" in found
    assert "4 stitches more round in every size but Woman-S" in found
    # Techniques beside the pattern are found though the old version lies elsewhere.
    assert "cannot be knitted" not in found


def test_history_and_a_new_and_a_removed_pattern(git):
    root, call = git
    (root / "socks" / "new.sockscript").write_text(TEXT, "utf-8")
    call("add", ".")
    added = call("diff", "--cached")
    call("commit", "-q", "-m", "Second")
    (root / "socks" / "new.sockscript").unlink()
    gone = call("diff")

    assert "socks/new.sockscript: a new pattern: Lantern Sock (no stitch is lost)" in added
    assert "socks/new.sockscript: the pattern is gone: Lantern Sock" in gone
    assert "a new pattern" in call("log", "-p", "-1", "--ext-diff")


def test_a_renamed_pattern_and_one_with_a_slip(git):
    root, call = git
    call("mv", "socks/lantern.sockscript", "socks/lamp.sockscript")
    path = root / "socks" / "lamp.sockscript"
    path.write_text(USING.replace("version 1", "version 2"), "utf-8")
    call("add", ".")
    renamed = call("diff", "--cached", "-M")
    path.write_text(USING.replace("    hang weights", "    hangs weights"), "utf-8")
    slip = call("diff")
    path.write_bytes(b"\0\1\2")
    call("diff")

    assert "was  socks/lantern.sockscript" in renamed and "now  socks/lamp.sockscript" in renamed
    assert "Version: 2 (was 1)." in renamed
    assert "cannot be knitted in thought" in slip


def test_seven_words_that_git_did_not_say():
    done = sockscript("compare", *"abcdefg")

    assert done.returncode == 2 and "Traceback" not in done.stderr
