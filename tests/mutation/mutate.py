"""One small change at a time in a module, and whether its tests see it.

    python tests/mutation/mutate.py sockscript/trace/passes.py --tests tests/trace

works in a copy of the tree, changes a comparison, a number, a sign, an ``and``, a ``not`` or leaves
a statement out, runs the tests until the first failure, and lists what survived.  What stands in
``equal.txt`` with its reason makes no difference that could be seen, and does not count.
"""

from __future__ import annotations

import argparse
import ast
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from typing import NamedTuple, TypeGuard

import pytest

ROOT = Path(__file__).resolve().parents[2]
EQUAL = Path(__file__).with_name("equal.txt")
COPIED = ("sockscript", "tests", "grammar", "examples", "pyproject.toml", "README.md")
PATIENCE = 10
"""A change after which the tests take so many times as long has been noticed."""

COMPARED = {
    ast.Lt: "<=", ast.LtE: "<", ast.Gt: ">=", ast.GtE: ">", ast.Eq: "!=", ast.NotEq: "==",
    ast.Is: "is not", ast.IsNot: "is", ast.In: "not in", ast.NotIn: "in",
}
SIGNS = {ast.Add: "-", ast.Sub: "+", ast.LShift: ">>", ast.RShift: "<<", ast.BitAnd: "|",
         ast.BitOr: "&", ast.Mult: "+", ast.FloorDiv: "*", ast.Mod: "*", ast.BitXor: "|"}


class Change(NamedTuple):
    """One change of a module: the line where it stands, what it is (a number with its column), and
    the text that it makes."""

    line: int
    what: str
    text: str


class _Text:
    """A source with its places as the parser of Python counts them: lines and bytes."""

    def __init__(self, source: str) -> None:
        self.data = source.encode()
        self.starts = [0]
        for line in self.data.splitlines(keepends=True):
            self.starts.append(self.starts[-1] + len(line))

    def at(self, line: int, column: int) -> int:
        return self.starts[line - 1] + column

    def span(self, node: ast.AST) -> tuple[int, int]:
        return (self.at(node.lineno, node.col_offset),  # type: ignore[attr-defined]
                self.at(node.end_lineno, node.end_col_offset))  # type: ignore[attr-defined]

    def changed(self, start: int, end: int, new: str) -> str:
        return (self.data[:start] + new.encode() + self.data[end:]).decode()


def changes(source: str) -> Iterator[Change]:
    """Every small change of a module, in the order of its lines."""
    tree = ast.parse(source)
    text = _Text(source)
    docs = {id(node.body[0].value) for node in ast.walk(tree)
            if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef)) and node.body
            and isinstance(node.body[0], ast.Expr)}
    skipped = {id(inner) for node in ast.walk(tree) for outer in _annotations(node)
               for inner in ast.walk(outer)}
    found = [change for node in ast.walk(tree) if id(node) not in skipped
             for change in _of(node, text, docs)]
    yield from sorted(found, key=lambda change: change.line)


def _annotations(node: ast.AST) -> list[ast.AST]:
    parts = [getattr(node, "annotation", None), getattr(node, "returns", None)]
    if isinstance(node, (ast.Import, ast.ImportFrom)):
        parts.append(node)
    return [part for part in parts if part is not None]


def _of(node: ast.AST, text: _Text, docs: set[int]) -> Iterator[Change]:
    if isinstance(node, ast.Compare):
        left: ast.AST = node.left
        for op, right in zip(node.ops, node.comparators, strict=True):
            yield _between(left, right, text, COMPARED[type(op)], node.lineno)
            left = right
    elif isinstance(node, ast.BoolOp):
        other = "or" if isinstance(node.op, ast.And) else "and"
        for left, right in zip(node.values, node.values[1:], strict=False):
            yield _between(left, right, text, other, node.lineno)
    elif isinstance(node, ast.BinOp) and type(node.op) in SIGNS:
        yield _between(node.left, node.right, text, SIGNS[type(node.op)], node.lineno)
    elif isinstance(node, ast.AugAssign):
        if type(node.op) in SIGNS:
            yield _between(node.target, node.value, text, SIGNS[type(node.op)] + "=", node.lineno)
        yield _left_out(node, text)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, (ast.Not, ast.Invert, ast.USub)):
        start, end = text.span(node)
        inner = text.data[slice(*text.span(node.operand))].decode()
        yield Change(node.lineno, f"without its {text.data[start:start + 3].decode().strip()[:3]}",
                     text.changed(start, end, f"({inner})"))
    elif isinstance(node, ast.Constant):
        yield from _constant(node, text)
    elif _may_go(node, docs):
        yield _left_out(node, text)


def _may_go(node: ast.AST, docs: set[int]) -> TypeGuard[ast.stmt]:
    """Whether a statement can be left out without a name going missing."""
    if isinstance(node, ast.Expr):
        return id(node.value) not in docs and not isinstance(node.value, ast.Constant)
    if isinstance(node, ast.Assign):
        return not any(isinstance(target, ast.Name) for target in node.targets)
    return isinstance(node, (ast.Continue, ast.Break, ast.Delete))


def _constant(node: ast.Constant, text: _Text) -> Iterator[Change]:
    start, end = text.span(node)
    if isinstance(node.value, bool):
        yield Change(node.lineno, f"{node.value} → {not node.value}",
                     text.changed(start, end, str(not node.value)))
    elif isinstance(node.value, int):
        for other in (node.value + 1, node.value - 1):
            yield Change(node.lineno, f"{node.value} → {other} at {node.col_offset + 1}",
                         text.changed(start, end, f"({other})"))


def _between(left: ast.AST, right: ast.AST, text: _Text, new: str, line: int) -> Change:
    """Another sign between two parts; brackets that stand between stay."""
    start, end = text.span(left)[1], text.span(right)[0]
    old = text.data[start:end].decode()
    sign = old.strip(" ()\\\n")
    place = old.index(sign)
    made = old[:place] + new + old[place + len(sign):]
    return Change(line, f"{sign} → {new}", text.changed(start, end, made))


def _left_out(node: ast.stmt, text: _Text) -> Change:
    return Change(node.lineno, "left out", text.changed(*text.span(node), "pass"))


# ---- running the tests


def known_equal(module: str) -> dict[tuple[str, str], str]:
    """Changes of a module that make no difference: its line and the change, with the reason."""
    found = {}
    for entry in EQUAL.read_text("utf-8").split("\n\n"):
        lines = [line for line in entry.splitlines() if line and not line.startswith("#")]
        if lines and lines[0] == module:
            found[lines[1].strip(), lines[2].strip()] = " ".join(lines[3:])
    return found


def copy_tree(into: Path) -> None:
    """What the tests need, with the tables of the grammar."""
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, into / name,
                            ignore=shutil.ignore_patterns("__pycache__", "node_modules"))
        else:
            shutil.copy(source, into / name)
    subprocess.run(
        [sys.executable, "-c", "from sockscript.text.parser import *; TABLES.write_bytes("
         "compiled_tables(grammar_file().read_text('utf-8')))"],
        env={**os.environ, "PYTHONPATH": str(into)}, cwd=into, check=True)


def passes(folder: Path, tests: list[str], patience: float | None, loaded: Path | None = None
           ) -> bool:
    """Whether the tests pass on the package in a folder, in time.

    They run in a fork of this process, which has loaded what takes longest but not the package.
    ``loaded``: a file that is told which libraries the tests load.
    """
    child = os.fork()
    if not child:
        nowhere = os.open(os.devnull, os.O_RDWR)
        for stream in (0, 1, 2):
            os.dup2(nowhere, stream)
        os.chdir(folder)
        sys.path.insert(0, str(folder))
        sys.dont_write_bytecode = True
        status = int(pytest.main(["-x", "-q", "-n0", "-p", "no:cacheprovider", *tests]))
        if loaded is not None:
            loaded.write_text("\n".join(
                name for name, module in list(sys.modules.items())
                if "site-packages" in str(getattr(module, "__file__", None))), "utf-8")
        os._exit(status)
    until = time.monotonic() + patience if patience is not None else None
    while True:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            return status == 0
        if until is not None and time.monotonic() > until:
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)
            return False
        time.sleep(0.02)


def survivors(module: str, tests: list[str], every: int, first: int) -> tuple[list[Change], int]:
    """The changes that no test sees, and how many were tried."""
    source = (ROOT / module).read_text("utf-8")
    equal = known_equal(module)
    lines = source.splitlines()
    tried = [change for change in changes(source)
             if (lines[change.line - 1].strip(), change.what) not in equal][first::every]
    found = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        copy_tree(folder)
        began = time.monotonic()
        loaded = folder / "loaded.txt"
        if not passes(folder, tests, None, loaded):
            sys.exit("The tests fail before anything is changed.")
        for library in loaded.read_text("utf-8").split():
            with suppress(Exception):
                import_module(library)
        patience = 10 + PATIENCE * (time.monotonic() - began)
        for change in tried:
            (folder / module).write_text(change.text, "utf-8")
            if passes(folder, tests, patience):
                found.append(change)
                print(f"{module}:{change.line}: {change.what}\n"
                      f"    {lines[change.line - 1].strip()}", flush=True)
    return found, len(tried)


def main() -> None:
    """Change the modules that are named and say what survives."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("modules", nargs="+", help="modules such as sockscript/trace/passes.py")
    parser.add_argument("--tests", nargs="+", default=["tests/trace"], help="what to run")
    parser.add_argument("--every", type=int, default=1, help="only every so many changes")
    parser.add_argument("--first", type=int, default=0, help="how many changes to pass over first")
    asked = parser.parse_args()
    os.environ.setdefault("SOCKSCRIPT_EXAMPLES", "150")
    left = tried = 0
    for module in asked.modules:
        found, count = survivors(module, asked.tests, asked.every, asked.first)
        left, tried = left + len(found), tried + count
        print(f"{module}: {count - len(found)} of {count} changes are seen", flush=True)
    if len(asked.modules) > 1 and tried:
        print(f"In all {tried - left} of {tried} ({100 * (tried - left) // tried} %)")


if __name__ == "__main__":
    main()
