"""The commands as a person types them: whole processes, their output and exit status."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import zipfile
from importlib import metadata
from pathlib import Path

import pytest
from support.command import sockscript

from sockscript.commands import SAMPLES
from sockscript.commands.output import INSTALLED_BY

ROOT = Path(__file__).resolve().parents[2]
SOCK = str(ROOT / "examples" / "family-sock.sockscript")
BROKEN = ROOT / "examples" / "broken"


def test_check_says_that_all_is_well():
    done = sockscript("check", SOCK)

    assert done.returncode == 0
    first, *told = done.stdout.splitlines()
    assert first.endswith("no stitch is lost (9 sizes, 36 combinations of size and choices).")
    assert told[0].startswith("  A cuff-down sock: rib on both beds, 36 to 72 stitches")


@pytest.mark.parametrize("name, status", [
    ("pass-without-yarn", 1), ("not-hung", 1), ("short-row-eyelet", 0), ("unknown-word", 2)])
def test_the_exit_status_tells_how_bad_it_is(name, status):
    assert sockscript("check", str(BROKEN / f"{name}.sockscript")).returncode == status


def test_several_files_are_all_checked_and_the_worst_counts():
    done = sockscript("check", str(BROKEN / "unknown-word.sockscript"),
                      str(BROKEN / "not-hung.sockscript"), SOCK)

    assert done.returncode == 2
    for part in ("unknown-word", "not-hung", "no stitch is lost"):
        assert part in done.stdout


@pytest.mark.parametrize("command", ["check", "steps", "needles", "sizes", "fit", "swatch"])
def test_without_arguments_each_command_says_what_it_wants(command):
    done = sockscript(command)

    assert done.returncode == 2
    assert f"sockscript {command} wants" in done.stderr
    assert "For example:" in done.stderr


def test_without_a_command_it_says_what_there_is():
    done = sockscript()

    assert done.returncode == 2
    assert ", ".join(SAMPLES) in done.stderr


@pytest.mark.parametrize("arguments, says", [
    (["chek", "x"], "Did you mean 'check'?"), (["step", SOCK], "Did you mean 'steps'?"),
    (["steps", SOCK, "--sise", "M"], "--size"), (["needles", SOCK, "--step", "two"], "--step"),
    (["check", SOCK, "--machine", "harbor-45"], "Did you mean 'harbour-45'?"),
    (["check", "nowhere.sockscript"], "no such file"),
])
def test_slips_on_the_command_line_are_told(arguments, says):
    done = sockscript(*arguments)

    assert done.returncode == 2
    assert says in done.stderr + done.stdout
    assert "Traceback" not in done.stderr and "╭" not in done.stderr


def test_help_and_version():
    assert "Commands:" in sockscript("--help").stdout
    assert "--machine" in sockscript("check", "--help").stdout
    assert sockscript("--version").stdout.startswith("sockscript ")


def test_completion_can_be_shown():
    done = sockscript("--show-completion", "bash", _TYPER_COMPLETE_TEST_DISABLE_SHELL_DETECTION="1")

    assert "sockscript" in done.stdout and done.returncode == 0


def test_a_check_starts_without_the_heavy_libraries():
    code = ("import sys\nfrom sockscript.cli import plain_check, _dispatch\n"
            f"assert _dispatch(['check', {SOCK!r}]) == 0\n"
            "print(sorted({'typer', 'rich', 'pydantic', 'numpy', 'networkx', 'pint', 'asyncio'}"
            " & set(sys.modules)))")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True,
                          cwd=ROOT / "tests", check=True)

    assert done.stdout.splitlines()[-1] == "[]"


def test_help_starts_without_what_only_running_needs():
    code = ("import sys\nsys.argv = ['sockscript', '--help']\nfrom sockscript.cli import run\n"
            "run()\nprint(sorted({'rich', 'pydantic', 'lark'} & set(sys.modules)))")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True,
                          cwd=ROOT / "tests", check=True)

    assert done.stdout.splitlines()[-1] == "[]"


def test_the_short_way_and_the_long_way_to_check_are_the_same():
    short = sockscript("check", SOCK, "--machine", "harbour-45")
    long = sockscript("check", "--machine", "harbour-45", SOCK)

    assert (short.stdout, short.returncode) == (long.stdout, long.returncode)


def test_a_mistake_in_the_program_shows_no_traceback():
    code = ("import sys\nsys.argv = ['sockscript', 'check', 'x']\n"
            "import sockscript.commands.check as check\n"
            "def broken(**options):\n    raise ZeroDivisionError('on purpose')\n"
            "check.run = broken\nfrom sockscript.cli import main\nmain()")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True,
                          cwd=ROOT / "tests", check=False)

    assert done.returncode == 70
    assert "mistake in sockscript itself" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_reader_that_goes_away_is_no_error():
    done = subprocess.run(f"{sys.executable} -m sockscript steps {SOCK} --every-row | head -1",
                          shell=True, capture_output=True, text=True, cwd=ROOT / "tests",
                          check=False)

    assert done.stderr == ""
    assert done.stdout.startswith("Mind: ")


def test_output_is_utf_8_even_where_the_system_says_otherwise():
    done = sockscript("steps", SOCK, "--size", "Man-M", LC_ALL="C", PYTHONIOENCODING="ascii",
                      PYTHONUTF8="0")

    assert "·" in done.stdout and done.returncode == 0


# ---- needles


def test_needles_at_a_step_draws_both_beds():
    done = sockscript("needles", SOCK, "--size", "Man-M", "--step", "18")

    assert done.returncode == 0
    front = next(line for line in done.stdout.splitlines() if line.startswith("front"))
    back = next(line for line in done.stdout.splitlines() if line.startswith("back "))
    # 34 stitches a bed, worked down to 12: 11 held at each side (common practice, no source).
    assert front.split()[1] == "^" * 11 + "o" * 12 + "^" * 11
    assert back.split()[1] == "o" * 34
    assert "Legend: o one stitch; ^ in hold, one stitch" in done.stdout


def test_needles_at_a_row_is_shown_for_each_time_the_counter_reads_it():
    done = sockscript("needles", SOCK, "--size", "Man-M", "--row", "20")

    sections = [line.split(", ")[1] for line in done.stdout.splitlines()
                if ", row counter 20" in line]
    assert sections == ["Cuff", "Leg", "Heel", "Foot", "Toe"]


@pytest.mark.parametrize("arguments, says", [
    (["--step", "3"], "Which size?"), (["--size", "Man-M", "--step", "99"], "from 1 to"),
    (["--size", "Man-M", "--row", "9999"], "never shows"),
    (["--size", "Man-M"], "either --step or --row"),
    (["--size", "Giant", "--step", "3"], "There is no size 'Giant'"),
])
def test_needles_says_what_is_missing(arguments, says):
    done = sockscript("needles", SOCK, *arguments)

    assert done.returncode == 2
    assert says in done.stderr


# ---- new


@pytest.mark.parametrize("kind", ["sock", "leg-warmer"])
@pytest.mark.parametrize("gauge", ["30x42", "22 x 30", "36×50", "10x14", "12x16"])
def test_the_starter_script_checks_clean(kind, gauge, tmp_path):
    out = tmp_path / "new.sockscript"
    done = sockscript("new", "--kind", kind, "--gauge", gauge, "--title", 'My "own" {sock}',
                      "-o", str(out))

    assert done.returncode == 0, done.stderr
    assert 'pattern "My own sock"' in out.read_text("utf-8")
    assert sockscript("check", str(out)).returncode == 0


def test_nothing_is_written_over(tmp_path):
    out = tmp_path / "mine.sockscript"
    out.write_text("precious")
    done = sockscript("new", "-o", str(out))

    assert done.returncode == 2 and "not written over" in done.stderr
    assert out.read_text() == "precious"


@pytest.mark.parametrize("options, says", [(["--kind", "hat"], "no kind 'hat'"),
                                           (["--gauge", "loose"], "not a gauge"),
                                           (["--gauge", "0x0"], "not a gauge")])
def test_the_starter_script_wants_sensible_answers(options, says):
    done = sockscript("new", *options)

    assert done.returncode == 2 and says in done.stderr


@pytest.mark.parametrize("path", sorted((ROOT / "examples").glob("*.sockscript")),
                         ids=lambda path: path.stem)
def test_an_example_can_be_copied_word_for_word(path, tmp_path):
    out = tmp_path / "mine.sockscript"
    done = sockscript("new", "--from", path.stem, "-o", str(out))

    assert done.returncode == 0, done.stderr
    assert done.stdout == f"Written: {out}\n"
    assert out.read_text("utf-8") == path.read_text("utf-8")
    again = sockscript("new", "--from", path.stem, "-o", str(out))
    assert again.returncode == 2 and "not written over" in again.stderr


def test_an_example_that_is_not_there_is_told_with_those_that_are():
    done = sockscript("new", "--from", "famly-sock")

    assert done.returncode == 2 and "Did you mean 'family-sock'?" in done.stderr
    assert re.search(r"^  leg-warmer +Mooring Leg Warmer$", done.stderr, re.M)


def test_an_example_is_not_changed_on_the_way():
    done = sockscript("new", "--from", "family-sock", "--title", "My sock")

    assert done.returncode == 2 and "word for word" in done.stderr


# ---- packaging


def test_the_hint_for_a_missing_library_names_what_the_extras_bring():
    extras = {re.match(r"[\w-]+", line).group() for line in metadata.requires("sockscript")
              if re.search(r"extra == .(print|shape|language-server|sign)\b", line)}

    assert extras == {name for names in INSTALLED_BY.values() for name in names.split()}


def test_the_package_is_built_from_a_folder_that_cannot_be_written_to(tmp_path):
    tree = tmp_path / "tree"
    for name in ("sockscript", "grammar", "examples"):
        shutil.copytree(ROOT / name, tree / name,
                        ignore=shutil.ignore_patterns("__pycache__", "tables.bin"))
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, tree)
    before = {path: path.stat().st_mtime_ns for path in tree.rglob("*")}
    # An administrator may write everywhere, so what was written is looked at too.
    for path in [tree, *before]:
        path.chmod(path.stat().st_mode & ~0o222)
    done = subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path / "out")],
        capture_output=True, text=True, cwd=tree, check=False)
    for path in [tree, *before]:
        path.chmod(path.stat().st_mode | 0o200)

    assert done.returncode == 0, done.stderr
    assert {path: path.stat().st_mtime_ns for path in tree.rglob("*")} == before
    (wheel,) = (tmp_path / "out").glob("*.whl")
    names = set(zipfile.ZipFile(wheel).namelist())
    assert {"sockscript/text/tables.bin", "sockscript/text/sockscript.lark",
            "sockscript/examples/family-sock.sockscript"} <= names


def test_the_installed_package_uses_prebuilt_tables():
    code = ("import sockscript, sockscript.text.parser as p\n"
            "def forbidden(grammar):\n    raise AssertionError('built at run time')\n"
            "p.compile_grammar = forbidden\n"
            "print(p.TABLES.exists() and p.load_parser() is not None, sockscript.__file__)")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True,
                          cwd=ROOT / "tests", check=False)
    if str(ROOT / "sockscript") in done.stdout or "source tree" in done.stderr:
        pytest.skip("run from the source tree, which has no tables")

    assert done.stdout.startswith("True"), done.stderr
