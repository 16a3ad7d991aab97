"""One small change at a time in the modules that are named, and whether the tests see it.

    python tests/mutation/mutate.py sockscript/trace sockscript/fit --map FILE --every 3

works in a copy of the tree.  It records once which tests run each line (``covered``, kept in FILE),
then makes each change and runs those tests of its line that the budget holds (``--seconds``, as
recorded) and no more than ``MOST``: half of it for the folder of tests that is named like the
module's, the rest for others, the quickest case of each test function first.  What has seen other
changes runs before all.  The first failure ends it; a crash, or a test that takes many times as
long, counts as seen.  What is left over is listed.  What stands in ``equal.txt`` with its reason
makes no difference that could be seen, and does not count.
"""

from __future__ import annotations

import argparse
import gc
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from types import CodeType, FunctionType

import pytest
from changes import Change, Uses, changes, known_equal, named, survivors_in
from covered import OPTIONS, CoverageMap, quick_hypothesis, union

ROOT = Path(__file__).resolve().parents[2]
COPIED = ("tests", "grammar", "examples", "editors", "pyproject.toml", "README.md",
          "DEVELOPERS.md", "LICENSE")
PATIENCE = 5
"""A test that takes so many times as long, and a second, has seen the change."""
MOST = 1000
"""So many tests are run for a change."""
FILES = 10
"""So many files of tests are loaded for a change that only loading the package anew can make."""


def copy_tree(root: Path, into: Path, package: str) -> None:
    """The package and what its tests need, with the tables of the grammar."""
    for name in (package, *COPIED):
        source = root / name
        if source.is_dir():
            shutil.copytree(source, into / name,
                            ignore=shutil.ignore_patterns("__pycache__", "node_modules"))
        elif source.exists():
            shutil.copy2(source, into / name)
    if (into / "grammar").exists():
        subprocess.run(
            [sys.executable, "-c", "from sockscript.text.parser import *; TABLES.write_bytes("
             "compiled_tables(grammar_file().read_text('utf-8')))"],
            env={**os.environ, "PYTHONPATH": str(into)}, cwd=into, check=True)


class Trial:
    """The copy of a tree in which changes are made, with its tests loaded."""

    def __init__(self, folder: Path, package: str, recorded: CoverageMap, seconds: float) -> None:
        self.folder, self.recorded, self.seconds = folder, recorded, seconds
        self.uses = Uses(folder, package)
        self.sources = {path.relative_to(folder).as_posix(): path.read_text("utf-8")
                        for path in (folder / package).rglob("*.py")}
        self.seen_by: Counter[int] = Counter()
        self.trusted: set[tuple[bool, int]] = set()
        self.told = folder / "running.txt"
        self.masks: dict[str, dict[int, int]] = {}
        self.items: dict[str, pytest.Item] = {}
        self.functions: dict[tuple[str, str, int], list[FunctionType]] = {}

    def lines(self, module: str) -> dict[int, int]:
        if module not in self.masks:
            self.masks[module] = self.recorded.lines(module, self.sources[module].splitlines())
        return self.masks[module]

    def tests(self, module: str, change: Change) -> list[int]:
        """The tests to run for a change, those that have seen most in least time first."""
        lines = self.lines(module)
        mask = union(lines.get(line, 0) for line in change.lines)
        if not change.function:
            mask |= union(self.lines(user).get(line, 0)
                          for user, line in self.uses.of(change.names))
        own = _own(module)
        seconds = self.recorded.seconds
        chosen: list[int] = []
        spent = 0.0
        found = list(self.recorded.names(mask))
        if not found and self._runs_when_loaded(module, change):
            found = [number for number, test in enumerate(self.recorded.tests)
                     if test.startswith(own)]
        rank: Counter[str] = Counter()
        spread = {}
        for test in sorted(found, key=lambda test: seconds[test]):
            function = self.recorded.tests[test].partition("[")[0]
            spread[test] = (not function.startswith(own), rank[function])
            rank[function] += 1
        for test in sorted(spread, key=lambda test: (spread[test], seconds[test])):
            limit = self.seconds if spread[test][0] else self.seconds / 2
            if len(chosen) < MOST and (spent + seconds[test] <= limit or not chosen):
                chosen.append(test)
                spent += seconds[test]
        return sorted(chosen, key=lambda test: (seconds[test] + 0.005) / (1 + self.seen_by[test]))

    def sees(self, module: str, change: Change) -> bool:
        """Whether a test fails, crashes or hangs after a change: of loaded functions if that will
        do, or else, and where tests look at it while they are loaded, of a package loaded anew."""
        tests = self.tests(module, change)
        functions = self._changed_functions(module, change)
        if functions is not None:
            if self._failing(tests, lambda some: self._failed(some, functions),
                             lambda some: self._failed(some, []), False):
                return True
            if not self._runs_when_loaded(module, change):
                return False
        path = self.folder / module

        def anew(some: list[int], text: str) -> int | None:
            times = path.stat()
            path.write_text(text, "utf-8")
            try:
                return self._failed(some, None)
            finally:
                path.write_text(self.sources[module], "utf-8")
                os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))

        few = self._of_few_files(module, tests)
        return self._failing(few, lambda some: anew(some, change.text),
                             lambda some: anew(some, self.sources[module]), True)

    def _failing(self, tests: list[int], changed: Callable[[list[int]], int | None],
                 unchanged: Callable[[list[int]], int | None], anew: bool) -> bool:
        """Whether one of the tests fails after a change that does not fail without it."""
        tests = list(tests)
        while tests and (failed := changed(tests)) is not None:
            if (anew, failed) in self.trusted or unchanged([failed]) is None:
                self.trusted.add((anew, failed))
                self.seen_by[failed] += 1
                return True
            print("left out, it fails by itself:", self.recorded.tests[failed], flush=True)
            self.recorded.tests[failed] = ""
            tests.remove(failed)
        return False

    def _of_few_files(self, module: str, tests: list[int]) -> list[int]:
        """The tests of those files that have most functions among them, the module's own first."""
        functions = {self.recorded.tests[test].partition("[")[0] for test in tests}
        files = Counter(function.split("::")[0] for function in functions)
        few = sorted(files, key=lambda name: (not name.startswith(_own(module)), -files[name]))
        return [test for test in tests
                if self.recorded.tests[test].split("::")[0] in few[:FILES]]

    def _runs_when_loaded(self, module: str, change: Change) -> bool:
        texts = self.sources[module].splitlines()
        outside = self.recorded.outside(module)
        return any(texts[line - 1].strip() in outside for line in change.lines)

    def _changed_functions(self, module: str, change: Change
                           ) -> list[tuple[FunctionType, CodeType]] | None:
        """What a change makes of loaded functions; None if it is in none."""
        if not change.function:
            return None
        path, source = self.folder / module, self.sources[module]
        pairs = zip(_outermost(compile(source, path, "exec")),
                    _outermost(compile(change.text, path, "exec")), strict=False)
        found = [(function, new) for outer in pairs for old, new in _with_inner(*outer)
                 for function in self.functions.get(
                     (str(path), old.co_qualname, old.co_firstlineno), ())]
        if (all(new.co_qualname != change.function for _, new in found)
                or any(len(function.__code__.co_freevars) != len(new.co_freevars)
                       for function, new in found)):
            return None
        return found

    def _failed(self, tests: list[int], changed: list[tuple[FunctionType, CodeType]] | None
                ) -> int | None:
        """The first test that fails, in a fork of this process."""
        child = os.fork()
        if not child:
            with suppress(BaseException):
                nowhere = os.open(os.devnull, os.O_RDWR)
                for stream in (0, 1, 2):
                    os.dup2(nowhere, stream)
                self._run_in_fork(tests, changed)
            os._exit(1)
        self.told.write_text(str(tests[0]))
        until = time.monotonic() + 60 + PATIENCE * self.seconds
        while True:
            ended, status = os.waitpid(child, os.WNOHANG)
            if ended:
                return None if status == 0 else int(self.told.read_text())
            if time.monotonic() > until:
                os.kill(child, signal.SIGKILL)
            time.sleep(0.01)

    def _run_in_fork(self, tests: list[int], changed: list[tuple[FunctionType, CodeType]] | None
                     ) -> None:
        if changed is not None:
            for function, code in changed:
                function.__code__ = code
            self._run(tests, self.items)
        sys.dont_write_bytecode = True
        for name, module in list(sys.modules.items()):
            if str(getattr(module, "__file__", None)).startswith(str(self.folder)):
                del sys.modules[name]
        files = sorted({self.recorded.tests[test].split("::")[0] for test in tests})
        signal.setitimer(signal.ITIMER_VIRTUAL, 60)
        pytest.main([*OPTIONS, *files], plugins=[_Then(lambda items: self._run(tests, items))])

    def _run(self, tests: list[int], items: dict[str, pytest.Item]) -> None:
        from _pytest.runner import runtestprotocol

        there = [test for test in tests if self.recorded.tests[test] in items]
        lost = set(tests) - set(there)
        if lost:  # its file cannot be loaded any more
            self.told.write_text(str(min(lost)))
            os._exit(1)
        for test, following in zip(there, [*there[1:], None], strict=True):
            self.told.write_text(str(test))
            signal.setitimer(signal.ITIMER_VIRTUAL, 1 + PATIENCE * self.recorded.seconds[test])
            item = items[self.recorded.tests[test]]
            after = items[self.recorded.tests[following]] if following is not None else None
            if any(report.failed for report in runtestprotocol(item, log=False, nextitem=after)):
                os._exit(1)
        os._exit(0)

    def start(self, modules: list[str], work: Callable[[], None]) -> None:
        """Load all tests from the copy and work with them."""
        os.chdir(self.folder)
        sys.path.insert(0, str(self.folder))
        quick_hypothesis()
        for module in modules:
            import_module(module.removesuffix(".py").removesuffix("/__init__").replace("/", "."))

        def then(items: dict[str, pytest.Item]) -> None:
            self.items = items
            for one in gc.get_objects():
                if isinstance(one, FunctionType):
                    code = one.__code__
                    self.functions.setdefault(
                        (code.co_filename, code.co_qualname, code.co_firstlineno), []).append(one)
            gc.freeze()
            work()

        files = sorted({test.split("::")[0] for test in self.recorded.tests if test})
        pytest.main([*OPTIONS, "--basetemp", str(self.folder / "temporary"), *files],
                    plugins=[_Then(then)])


class _Then:
    """A plugin that hands the collected tests on instead of running them."""

    def __init__(self, work: Callable[[dict[str, pytest.Item]], None]) -> None:
        self.work = work

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.work({item.nodeid: item for item in session.items})
        return True


def _own(module: str) -> str:
    """The folder of tests that is named like a module's."""
    parts = module.split("/")
    return f"tests/{parts[1] if len(parts) > 2 else parts[0]}/"


def _outermost(code: CodeType) -> Iterator[CodeType]:
    """The code of the functions of a module, also of those in its classes."""
    for inner in code.co_consts:
        if isinstance(inner, CodeType):
            if inner.co_flags & 1:  # a function: its names have places
                yield inner
            else:
                yield from _outermost(inner)


def _with_inner(old: CodeType, new: CodeType) -> Iterator[tuple[CodeType, CodeType]]:
    """The code of a function and, if there are as many, of those in it, beside the new code."""
    yield old, new
    inner, others = ([code for code in one.co_consts if isinstance(code, CodeType)]
                     for one in (old, new))
    if len(inner) == len(others):
        for pair in zip(inner, others, strict=True):
            yield from _with_inner(*pair)


def measure(trial: Trial, module: str, every: int, first: int, only: set[str] | None
            ) -> tuple[list[str], int]:
    """The changes of a module that no test sees, in words, and how many were tried: all, or
    ``only`` the survivors of another time."""
    source = trial.sources[module]
    texts, equal = source.splitlines(), known_equal(module)
    tried = [change for change in changes(source)
             if (texts[change.line - 1].strip(), change.what) not in equal
             and (only is None or named(module, change.what, texts[change.line - 1]) in only)
             ][first::every]
    left = []
    for change in tried:
        if not trial.sees(module, change):
            ran = len(trial.tests(module, change))
            left.append(f"{module}:{change.line}: {change.what}   ({ran or 'no'} tests)\n"
                        f"    {texts[change.line - 1].strip()}")
            print(left[-1], flush=True)
    return left, len(tried)


def main() -> None:
    """Change the modules that are named and say what survives."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("modules", nargs="+", help="modules or folders of the package")
    parser.add_argument("--map", type=Path, required=True, help="which tests run which lines; "
                        "made if it is not there, brought up to date if tests have changed")
    parser.add_argument("--tests", nargs="+", default=["tests"], help="files or folders to use")
    parser.add_argument("--every", type=int, default=1, help="only every so many changes")
    parser.add_argument("--first", type=int, default=0, help="how many changes to pass over first")
    parser.add_argument("--seconds", type=float, default=10, help="budget of tests for a change")
    parser.add_argument("--only", type=Path, help="a list of survivors: only these are tried")
    parser.add_argument("--survivors", type=Path, help="a file to write what survives to")
    parser.add_argument("--root", type=Path, default=ROOT, help="the tree, if it is another one")
    asked = parser.parse_args()
    os.environ.setdefault("SOCKSCRIPT_EXAMPLES", "40")
    root = asked.root.resolve()
    recorded = CoverageMap(asked.map.resolve())
    modules = sorted({path.relative_to(root).as_posix() for name in asked.modules
                      for path in ((root / name).rglob("*.py") if (root / name).is_dir()
                                   else [root / name])})
    left: list[str] = []
    only = survivors_in(asked.only) if asked.only else None

    def work() -> None:
        tried = 0
        for module in modules:
            began = time.monotonic()
            found, count = measure(trial, module, asked.every, asked.first, only)
            left.extend(found)
            tried += count
            if count:
                print(f"{module}: {count - len(found)} of {count} changes are seen "
                      f"({time.monotonic() - began:.0f} s)", flush=True)
        print(f"In all {tried - len(left)} of {tried} changes are seen"
              f" ({100 * (tried - len(left)) / max(tried, 1):.0f} %)", flush=True)

    with tempfile.TemporaryDirectory() as name:
        folder = Path(name).resolve()
        package = modules[0].split("/")[0]
        copy_tree(root, folder, package)
        recorded.record(folder, package, asked.tests)
        recorded.keep_to(asked.tests)
        trial = Trial(folder, package, recorded, asked.seconds)
        trial.start(modules, work)
    if asked.survivors:
        asked.survivors.write_text("".join(f"{one}\n" for one in left), "utf-8")


if __name__ == "__main__":
    main()
