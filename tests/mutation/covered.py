"""Which tests run each line of a module, and how long each test takes: kept in a file.

The file outlives small edits: a line is found again by its text, and test files that are new or
have changed are recorded again.  After larger edits of the package make a new one (throw the file
away).
"""

from __future__ import annotations

import gc
import hashlib
import json
import os
import sys
from collections.abc import Iterable, Iterator
from difflib import SequenceMatcher
from functools import _lru_cache_wrapper
from itertools import groupby
from pathlib import Path
from typing import Any, cast

import coverage
import pytest

SLOW = 5.0
"""Seconds of the processor; a test that takes longer is never run for a change."""
LEFT_OUT = ("tests/bench", "tests/editors", "tests/mutation", "tests/architecture",
            "tests/attack", "tests/catalogue")
"""Tests that take long and look at what others look at too, or at no line of the package."""
OPTIONS = ["-o", "addopts=", "-q", "--import-mode=importlib", "-p", "no:xdist",
           "-p", "no:cacheprovider", "-p", "no:rerunfailures", "-p", "no:benchmark", "-W", "ignore"]


def quick_hypothesis() -> None:
    """Random tests stop at the first failure: nothing is made smaller, nothing is remembered."""
    from hypothesis import HealthCheck, Phase, settings

    settings.register_profile("mutation", phases=[Phase.explicit, Phase.generate], database=None,
                              derandomize=True, deadline=None,
                              suppress_health_check=list(HealthCheck))
    settings.load_profile("mutation")


class CoverageMap:
    """What was recorded: tests with their seconds, and for each line of a module its tests, as a
    bit mask over them."""

    def __init__(self, file: Path) -> None:
        self.file = file
        kept: dict[str, Any] = json.loads(file.read_text("utf-8")) if file.exists() else {}
        self.tests: list[str] = kept.get("tests", [])
        """By number; one that is gone is an empty word."""
        self.seconds: list[float] = kept.get("seconds", [])
        self.files: dict[str, str] = kept.get("files", {})
        self.modules: dict[str, dict[str, Any]] = kept.get("modules", {})

    def stale(self, root: Path, folders: list[str]) -> list[str]:
        """The test files of folders that are new, changed or gone since they were recorded, those
        of a folder together, in the order of the folders."""
        there = [(path.relative_to(root).as_posix(), folder) for folder in folders
                 for path in ([root / folder] if folder.endswith(".py")
                              else sorted((root / folder).rglob("test_*.py")))]
        gone = [name for name in self.files if not (root / name).exists()]
        return [*gone, *(name for name, folder in there
                         if self.files.get(name) != _digest(root / name)
                         and (folder.startswith(LEFT_OUT) or not name.startswith(LEFT_OUT)))]

    def lines(self, module: str, now: list[str]) -> dict[int, int]:
        """For each line of a module as it now stands, the tests that run it; lines that were not
        there when they were recorded have those of the lines beside them."""
        kept = self.modules.get(module)
        if kept is None:
            return {}
        masks = {int(line): int(mask, 16) for line, mask in kept["lines"].items()}
        if now == kept["source"]:
            return masks
        found: dict[int, int] = {}
        for tag, old, old_end, new, new_end in SequenceMatcher(
                None, kept["source"], now, autojunk=False).get_opcodes():
            for step in range(new_end - new):
                if tag == "equal":
                    mask = masks.get(old + step + 1)
                else:
                    mask = union(masks.get(line, 0) for line in range(old, old_end + 1))
                if mask:
                    found[new + step + 1] = mask
        return found

    def outside(self, module: str) -> set[str]:
        """The texts of lines that also run while tests are only being loaded."""
        kept = self.modules.get(module, {"source": [], "outside": []})
        return {kept["source"][line - 1].strip() for line in kept["outside"]
                if line <= len(kept["source"])}

    def keep_to(self, folders: list[str]) -> None:
        """Forget the tests of other folders."""
        self.tests = [test if test.startswith(tuple(folders)) else "" for test in self.tests]

    def names(self, mask: int) -> Iterator[int]:
        """The numbers of the tests in a mask that are still there."""
        while mask:
            low = mask & -mask
            number = low.bit_length() - 1
            if self.tests[number]:
                yield number
            mask ^= low

    def record(self, root: Path, package: str, tests: list[str]) -> None:
        """Run the stale ones of the test files in a copy of the tree, a folder at a time, and keep
        which lines of the package they run."""
        for _, group in groupby(self.stale(root, tests), key=lambda name: Path(name).parent):
            files = list(group)
            self.tests = ["" if test.split("::")[0] in files else test for test in self.tests]
            there = [name for name in files if (root / name).exists()]
            if there:
                self._add(_recorded(root, package, there), root)
            for name in files:
                self.files.pop(name, None)
            self.files |= {name: _digest(root / name) for name in there}
            self.file.write_text(json.dumps({
                "tests": self.tests, "seconds": self.seconds, "files": self.files,
                "modules": self.modules}), "utf-8")

    def _add(self, told: dict[str, Any], root: Path) -> None:
        number = {}
        for test, seconds in told["tests"].items():
            number[test] = len(self.tests)
            self.tests.append(test)
            self.seconds.append(seconds)
        for module, lines in told["lines"].items():
            source = (root / module).read_text("utf-8").splitlines()
            masks = self.lines(module, source)
            outside = {line for line, text in enumerate(source, 1)
                       if text.strip() in self.outside(module)}
            for line, tests in lines.items():
                if "" in tests:
                    outside.add(int(line))
                for test in tests:
                    if test in number:
                        masks[int(line)] = masks.get(int(line), 0) | 1 << number[test]
            self.modules[module] = {
                "source": source, "outside": sorted(outside),
                "lines": {line: f"{mask:x}" for line, mask in sorted(masks.items())}}


class _Recorder:
    """A plugin that has the coverage of each test kept apart."""

    def __init__(self, watch: coverage.Coverage) -> None:
        self.watch = watch
        self.seconds: dict[str, float] = {}
        self.passed: set[str] = set()
        self.caches: list[Any] = []

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = [item for item in items if "browser" not in getattr(item, "fixturenames", ())]
        self.caches = [one for one in gc.get_objects() if isinstance(one, _lru_cache_wrapper)
                       and str(one.__module__).startswith("sockscript.")
                       and not one.__module__.startswith("sockscript.text")]

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        for one in self.caches:
            one.cache_clear()
        self.watch.switch_context(item.nodeid)
        before = sum(os.times()[:4])
        result = yield
        self.seconds[item.nodeid] = round(sum(os.times()[:4]) - before, 3)
        self.watch.switch_context("")
        return result

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.when == "call" and report.passed:
            self.passed.add(report.nodeid)
        elif report.failed:
            print("left out, it does not pass:", report.nodeid, report.longreprtext[-300:])

    def told(self, folder: Path) -> dict[str, Any]:
        """The tests that may be used, and the lines that each test runs, by module."""
        data = self.watch.get_data()
        return {
            "tests": {test: seconds for test, seconds in self.seconds.items()
                      if test in self.passed and seconds <= SLOW},
            "lines": {Path(file).relative_to(folder).as_posix(): data.contexts_by_lineno(file)
                      for file in data.measured_files()},
        }


def _recorded(folder: Path, package: str, files: list[str]) -> dict[str, Any]:
    """What some test files run in a copy of the tree, in a fork that loads it."""
    result = folder / "recorded.json"
    child = os.fork()
    if not child:
        os.chdir(folder)
        sys.path.insert(0, str(folder))
        watch = coverage.Coverage(data_file=None, config_file=False, source=[str(folder / package)])
        watch.start()
        quick_hypothesis()
        recorder = _Recorder(watch)
        pytest.main([*OPTIONS, *files], plugins=[recorder])
        watch.stop()
        result.write_text(json.dumps(recorder.told(folder)), "utf-8")
        os._exit(0)
    os.waitpid(child, 0)
    return cast(dict[str, Any], json.loads(result.read_text("utf-8")))


def union(masks: Iterable[int]) -> int:
    """The tests of all the masks."""
    together = 0
    for mask in masks:
        together |= mask
    return together


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()[:16]
