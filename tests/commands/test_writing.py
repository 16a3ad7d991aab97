"""Nothing that a member wrote is lost by a slip in the name after ``-o``."""

from __future__ import annotations

import contextlib
import io
import json
import os
import pty
import shutil
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from support.command import ROOT, heeds_interrupts, sockscript
from support.smaller import with_sizes

from sockscript.cli import _dispatch

EXAMPLES = ROOT / "examples"
FAMILY = EXAMPLES / "family-sock.sockscript"
UNTIDY = 'section "Leg"\n      knit   2   rows\n'

PRINTING = {
    "steps": [], "sizes": [], "numbers": [], "range": [], "fit": ["--foot-length", "24.5cm"],
    "sheet": [], "picture": ["--what", "schematic"], "follow": ["--size", "Woman-M"],
    "new": [], "logs": ["one.log.json"], "compare": ["mine.sockscript"], "catalogue": [],
    "pack": []}
"""Every command that takes ``-o``, with what else it wants."""

ENDINGS = {"steps": ".txt", "sizes": ".csv", "numbers": ".txt", "range": ".json", "fit": ".txt",
           "sheet": ".html", "picture": ".svg", "follow": ".html", "new": ".sockscript",
           "logs": ".csv", "compare": ".md", "catalogue": ".csv", "pack": ".sockpack"}
LOG = {"form": "sockscript-log-1", "title": "Lantern Sock", "version": "1", "size": "Woman-M",
       "choices": {"heel-point": "third", "finish": "graft"}, "fingerprint": "", "knitter": "Ada",
       "sock": "First", "measured": {"foot": 260}, "notes": [], "times": []}


@pytest.fixture
def script(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    (tmp_path / "here").mkdir()
    path = tmp_path / "here" / "mine.sockscript"
    path.write_text(with_sizes(FAMILY.read_text("utf-8"), "Woman-M").replace(
        "by 1 cm", "by 7 cm").replace("by 2 cm", "by 8 cm"), "utf-8")
    return path


def wrote(command, script, out, **environment):
    given = {"new": [], "catalogue": [str(script.parent)]}.get(command, [str(script)])
    words = [command, *given, *PRINTING[command], "-o", str(out)]
    if command == "logs":
        (script.parent.parent / "one.log.json").write_text(json.dumps(LOG), "utf-8")
        words[2] = "../one.log.json"
    if environment:
        return sockscript(*words, cwd=script.parent, **environment)
    told, wrong = io.StringIO(), io.StringIO()
    with (contextlib.chdir(script.parent), contextlib.redirect_stdout(told),
          contextlib.redirect_stderr(wrong)):
        status = _dispatch(words)
    return subprocess.CompletedProcess(words, status, told.getvalue(), wrong.getvalue())


@pytest.mark.parametrize("command", PRINTING)
@pytest.mark.parametrize("name", ["mine.sockscript", "other.sockscript", "mine.machine",
                                  "link.txt", "MINE.SOCKSCRIPT"])
def test_no_command_writes_over_a_pattern_or_a_machine(command, name, script):
    before = script.read_bytes()
    for other in ("other.sockscript", "mine.machine", "MINE.SOCKSCRIPT"):
        shutil.copy(script, script.with_name(other))
    (script.parent / "link.txt").symlink_to(script)
    there = sorted(script.parent.iterdir())

    done = wrote(command, script, script.with_name(name))

    assert done.returncode == 2 and name in done.stderr, done.stderr
    assert sorted(script.parent.iterdir()) == there
    assert {path.read_bytes() for path in there} == {before}


def test_a_script_with_an_ending_of_its_own_is_not_written_over(tmp_path):
    script = Path(shutil.copy(FAMILY, tmp_path / "mine.txt"))
    (tmp_path / "again.txt").hardlink_to(script)

    for name in ("mine.txt", "again.txt"):
        done = wrote("steps", script, tmp_path / name)
        assert done.returncode == 2 and "is the pattern itself" in done.stderr
    assert script.read_bytes() == FAMILY.read_bytes()


@pytest.mark.parametrize("command", PRINTING)
@pytest.mark.parametrize("name", ["a.docx", "a", "a.pdf.old", "a.xml"])
def test_an_ending_that_a_command_does_not_write_is_refused_with_those_that_it_does(
        command, name, script):
    done = wrote(command, script, script.with_name(name))

    assert done.returncode == 2 and not script.with_name(name).exists()
    assert name in done.stderr and ENDINGS[command] in done.stderr


@pytest.mark.parametrize("command, name, says", [
    ("fit", "mine.pdf", "sockscript sheet"), ("steps", "a.pdf", "sockscript sheet"),
    ("steps", "a.svg", "sockscript picture"), ("sheet", "a.csv", "sockscript sizes")])
def test_a_refusal_names_the_command_that_writes_such_a_file(command, name, says, script):
    assert says in wrote(command, script, script.with_name(name)).stderr


@pytest.mark.parametrize("command", PRINTING)
def test_every_command_writes_the_endings_that_it_says(command, script):
    out = script.with_name("out" + ENDINGS[command])

    assert wrote(command, script, out).returncode == 0
    assert out.stat().st_size > 80
    if command == "sizes":
        assert out.read_text("utf-8").splitlines()[0].startswith("part,what,")


@pytest.mark.parametrize("name, begins", [("a.txt", "LANTERN"), ("a.md", "# "),
                                          ("a.json", "{")])
def test_the_ending_settles_the_form(name, begins, script):
    assert wrote("steps", script, script.with_name(name)).returncode == 0
    assert script.with_name(name).read_text("utf-8").upper().startswith(begins)


def test_an_ending_that_belongs_to_another_form_is_refused(script):
    done = sockscript("steps", str(script), "--format", "json", "-o", "a.md", cwd=script.parent)

    assert done.returncode == 2 and not script.with_name("a.md").exists()
    assert "--format markdown" in done.stderr and "a.json" in done.stderr


def changed_by(script, how):
    """Have a file written by each of the ways there are; says which file."""
    if how == "format":
        script.write_text(UNTIDY, "utf-8")
        return script, ["format"]
    if how == "mend":
        shutil.copy(EXAMPLES / "broken" / "not-hung.sockscript", script)
        return script, ["check", "--mend", "--yes"]
    out = script.with_name("out.txt")
    out.write_text("old", "utf-8")
    return out, ["steps", "-o"]


def run_on(script, named, words):
    if words[0] == "steps":
        return sockscript("steps", str(script), "-o", str(named))
    return sockscript(*words, str(named))


WAYS = pytest.mark.parametrize("how", ["format", "mend", "steps"])


@WAYS
def test_a_link_is_followed_and_the_mode_kept(how, script):
    real, words = changed_by(script, how)
    before = real.read_bytes()
    real.chmod(0o640)
    folder = real.parent / "elsewhere"
    folder.mkdir()
    named = folder / ("link" + real.suffix)
    named.symlink_to(real)

    done = run_on(script, named, words)

    assert named.is_symlink() and real.read_bytes() != before, done.stdout + done.stderr
    assert stat.S_IMODE(real.stat().st_mode) == 0o640
    assert [path.name for path in folder.iterdir()] == [named.name]


@WAYS
def test_a_read_only_file_is_left_alone(how, script):
    real, words = changed_by(script, how)
    before = real.read_bytes()
    real.chmod(0o444)

    done = run_on(script, real, words)

    assert done.returncode == 2 and "read-only" in done.stderr
    assert real.read_bytes() == before and stat.S_IMODE(real.stat().st_mode) == 0o444


def test_a_new_file_has_the_mode_that_the_member_s_mask_gives(script):
    before = os.umask(0o027)
    try:
        wrote("steps", script, script.with_name("a.txt"))
    finally:
        os.umask(before)
    assert stat.S_IMODE(script.with_name("a.txt").stat().st_mode) == 0o640


def test_the_null_device_is_written_to_and_stays(script):
    assert wrote("steps", script, "/dev/null").returncode == 0
    assert stat.S_ISCHR(os.stat("/dev/null").st_mode)


def test_the_terminal_is_written_to_and_stays(script):
    ours, theirs = pty.openpty()
    name = os.ttyname(theirs)
    with subprocess.Popen([sys.executable, "-m", "sockscript", "steps", str(script), "--size",
                           "Woman-M", "-o", name], cwd=script.parent) as process:
        shown = b""
        while b"Tools" not in shown and process.poll() is None:
            shown += os.read(ours, 4096)
        os.close(theirs)
        while process.poll() is None:
            try:
                os.read(ours, 4096)
            except OSError:
                break
    os.close(ours)
    assert b"Tools" in shown and process.returncode == 0


def test_pipes_devices_and_folders_are_refused(script):
    pipe = script.with_name("pipe.txt")
    os.mkfifo(pipe)
    folder = script.with_name("folder.txt")
    folder.mkdir()
    loop = script.with_name("loop.txt")
    loop.symlink_to(loop)

    for out in (pipe, folder, loop, "/dev/zero", "/dev/full", "/nowhere/a.txt"):
        done = wrote("steps", script, out)
        assert done.returncode == 2 and str(out) in done.stderr, done.stderr
        assert "mistake in sockscript" not in done.stderr
    assert stat.S_ISFIFO(pipe.stat().st_mode)


INTERRUPTED = """
import os, signal, sys, tempfile
real = tempfile.mkstemp
def stopped(*given, **named):
    made = real(*given, **named)
    os.kill(os.getpid(), {signal})
    return made
tempfile.mkstemp = stopped
sys.argv = ["sockscript", "steps", {script!r}, "-o", {out!r}]
from sockscript.cli import main
main()
"""


@pytest.mark.parametrize("name, status", [("SIGINT", 130), ("SIGTERM", -signal.SIGTERM),
                                          ("SIGHUP", -signal.SIGHUP)])
def test_an_interrupted_write_leaves_no_stray_file(name, status, script):
    out = script.with_name("a.txt")
    code = INTERRUPTED.format(signal=int(getattr(signal, name)), script=str(script), out=str(out))

    done = subprocess.run([sys.executable, "-c", code], cwd=script.parent, capture_output=True,
                          text=True, timeout=60, check=False, preexec_fn=heeds_interrupts)

    assert done.returncode == status, done.stderr
    assert {path.name for path in script.parent.iterdir()} <= {script.name, out.name}
    assert not out.exists() or "Tools" in out.read_text("utf-8")


def test_a_full_disk_leaves_the_old_file_and_no_stray_one(script):
    out = script.with_name("a.txt")
    out.write_text("old", "utf-8")
    code = ("import resource, sys; resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000)); "
            f"sys.argv = ['sockscript', 'steps', {str(script)!r}, '-o', {str(out)!r}]; "
            "from sockscript.cli import main; main()")

    done = subprocess.run([sys.executable, "-c", code], cwd=script.parent, capture_output=True,
                          text=True, timeout=60, check=False)

    assert done.returncode == 2 and "cannot be written" in done.stderr
    assert out.read_text("utf-8") == "old"
    assert {path.name for path in script.parent.iterdir()} == {script.name, out.name}


def test_what_was_saved_while_the_mend_was_asked_about_is_not_lost(script, monkeypatch, capsys):
    from sockscript.commands import mend

    shutil.copy(EXAMPLES / "broken" / "not-hung.sockscript", script)

    def saved_meanwhile(path):
        path.write_text(path.read_text("utf-8") + "# a thought\n", "utf-8")
        return True

    monkeypatch.setattr(mend, "_agreed", saved_meanwhile)

    assert mend.run(files=[script], machine=None, yes=False) == 2
    assert script.read_text("utf-8").endswith("# a thought\n")
    assert "changed while" in capsys.readouterr().err
