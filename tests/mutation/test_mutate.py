"""The runner itself, on a module of a few lines of which a test sees some changes."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

RUNNER = Path(__file__).with_name("mutate.py")
HEEL = '''"""The heel of a toy."""

from __future__ import annotations

CUFF = 6


def kept(half: int) -> int:
    """The stitches that stay in work."""
    return half - 2


def cuff(rows: int) -> int:
    """Rows with those of the cuff."""
    return rows + CUFF


def bind_off(loops: list[str]) -> None:
    """Until none is left."""
    while loops:
        loops.pop()


def unused() -> bool:
    """Nobody asks."""
    return True


def _rows(a_round: int):
    """How many rows rounds are."""
    def rows(rounds: int) -> int:
        return rounds * a_round
    return rows


ROWS = _rows(2)
'''
TEST = '''from toy import heel

KEPT = heel.kept(4)
IN_WORDS = ("none", "one", "two")[KEPT]


def test_what_is_worked_out_when_tests_are_loaded():
    assert KEPT == 2


def test_cuff():
    assert heel.cuff(2) >= 8


def test_rounds():
    assert heel.ROWS(3) == 6


def test_bind_off():
    loops = ["one"]
    heel.bind_off(loops)
    assert not loops
'''


def test_it_lists_the_changes_that_no_test_sees(tmp_path):
    for name, text in {"pyproject.toml": "[tool.pytest.ini_options]\n", "toy/__init__.py": "",
                       "toy/heel.py": HEEL, "tests/toy/test_heel.py": TEST}.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")

    def left(*more):
        done = subprocess.run(
            [sys.executable, RUNNER, "toy", "--root", tmp_path, "--map", tmp_path / "map.json",
             "--survivors", tmp_path / "left.txt", *more],
            capture_output=True, text=True, check=True)
        changes = (tmp_path / "left.txt").read_text("utf-8").splitlines()[::2]
        return [line.partition("   (")[0] for line in changes], done.stdout

    # Seen are a smaller cuff, by way of its line, binding off that never ends, what keeps a file of
    # tests from being loaded, and a function in a function that was made while loading.
    survivors, said = left()
    assert survivors == ["toy/heel.py:5: 6 → 7 at 8", "toy/heel.py:26: True → False"]
    assert "toy/heel.py: 9 of 11 changes are seen" in said

    # A new test is recorded, and a line that has moved is found again.
    (tmp_path / "toy/heel.py").write_text(HEEL.replace("CUFF =", "# Rows.\nCUFF ="), "utf-8")
    (tmp_path / "tests/toy/test_more.py").write_text(
        "from toy import heel\n\n\ndef test_unused():\n    assert heel.unused()\n", "utf-8")
    survivors, said = left("--first", "1", "--every", "6")
    assert survivors == []
    assert "toy/heel.py: 2 of 2 changes are seen" in said


def test_what_makes_no_difference_is_still_there():
    """Every entry of ``equal.txt`` names a change of a line as it now stands, with a reason."""
    sys.path.insert(0, str(RUNNER.parent))
    from changes import EQUAL, changes, known_equal

    root = RUNNER.parents[2]
    for module in {line for line in EQUAL.read_text("utf-8").splitlines()
                   if line.startswith("sockscript/")}:
        source = (root / module).read_text("utf-8")
        texts = source.splitlines()
        there = {(texts[change.line - 1].strip(), change.what) for change in changes(source)}
        assert known_equal(module).keys() <= there, f"{module} has changed: put equal.txt right"
        assert all(known_equal(module).values()), module
