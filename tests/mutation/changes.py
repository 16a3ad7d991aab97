"""Every small change of a module: a comparison, a number, a sign, an ``and``, a ``not``, a
statement left out.  And where what a module makes is used."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple, TypeGuard

COMPARED = {
    ast.Lt: "<=", ast.LtE: "<", ast.Gt: ">=", ast.GtE: ">", ast.Eq: "!=", ast.NotEq: "==",
    ast.Is: "is not", ast.IsNot: "is", ast.In: "not in", ast.NotIn: "in",
}
SIGNS = {ast.Add: "-", ast.Sub: "+", ast.LShift: ">>", ast.RShift: "<<", ast.BitAnd: "|",
         ast.BitOr: "&", ast.Mult: "+", ast.FloorDiv: "*", ast.Mod: "*", ast.BitXor: "|"}


EQUAL = Path(__file__).with_name("equal.txt")


class Change(NamedTuple):
    """One change of a module: the line where it stands, what it is (a number with its column), the
    text that it makes, and where it is."""

    line: int
    what: str
    text: str
    lines: range = range(0)
    """The lines of the statement that is changed (of an ``if`` or a ``for`` only its head)."""
    function: str = ""
    """The outermost function around it, as ``Class.method``; of a head (a default) also none."""
    names: tuple[str, ...] = ()
    """What the outermost statement around it makes: names of the module."""


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
    skipped = {id(inner) for node in ast.walk(tree) for outer in _passed_over(node)
               for inner in ast.walk(outer)}
    places = dict(_places(tree))
    found = [change._replace(lines=place[0], function=place[1], names=place[2])
             for node in ast.walk(tree) if id(node) not in skipped and (place := places.get(node))
             for change in _of(node, text, docs)]
    yield from sorted(found, key=lambda change: change.line)


def names_made(statement: ast.stmt) -> tuple[str, ...]:
    """The names that a statement of a module makes."""
    if isinstance(statement, (ast.FunctionDef, ast.ClassDef)):
        return (statement.name,)
    targets = (statement.targets if isinstance(statement, ast.Assign)
               else [statement.target] if isinstance(statement, ast.AnnAssign) else [])
    return tuple(inner.id for target in targets for inner in ast.walk(target)
                 if isinstance(inner, ast.Name))


_Place = tuple[range, str, tuple[str, ...]]


def _places(tree: ast.Module) -> Iterator[tuple[ast.AST, _Place]]:
    """For every node its statement's lines, its outermost function, and the names of the
    outermost statement."""
    def inside(node: ast.AST, place: _Place, within: str) -> Iterator[tuple[ast.AST, _Place]]:
        lines, function, names = place
        body: list[ast.AST] = getattr(node, "body", None) or []
        if isinstance(node, ast.stmt):
            first = body[0].lineno - 1 if body else node.end_lineno  # type: ignore[attr-defined]
            lines = range(node.lineno, max(node.lineno, first or 0) + 1)
        yield node, (lines, function, names)
        own = f"{within}{getattr(node, 'name', '')}"
        for child in ast.iter_child_nodes(node):
            run = isinstance(node, ast.FunctionDef) and child in body and not function
            yield from inside(child, (lines, own if run else function, names),
                              f"{own}." if isinstance(node, ast.ClassDef) else within)

    for statement in tree.body:
        yield from inside(statement, (range(0), "", names_made(statement)), "")


def _passed_over(node: ast.AST) -> list[ast.AST]:
    parts = [getattr(node, "annotation", None), getattr(node, "returns", None)]
    if isinstance(node, (ast.Import, ast.ImportFrom)) or (
            isinstance(node, ast.keyword) and node.arg == "strict"):
        parts.append(node)  # nothing to change: in what is right, zip is given equal lengths
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


def known_equal(module: str) -> dict[tuple[str, str], str]:
    """Changes of a module that make no difference: its line and the change, with the reason."""
    found = {}
    for entry in EQUAL.read_text("utf-8").split("\n\n"):
        lines = [line for line in entry.splitlines() if line and not line.startswith("#")]
        if lines and lines[0] == module:
            found[lines[1].strip(), lines[2].strip()] = " ".join(lines[3:])
    return found


def named(module: str, what: str, text: str) -> str:
    """A change in one line of words, wherever its line stands."""
    return f"{module}: {what}: {text.strip()}"


def survivors_in(file: Path) -> set[str]:
    """The changes that a list of survivors names."""
    lines = file.read_text("utf-8").splitlines()
    return {named(head.split(":")[0], head.split(": ", 1)[1].split("   (")[0], text)
            for head, text in zip(lines[::2], lines[1::2], strict=True)}


class Uses:
    """Where the names that modules make are used, by way of other names too: lines of functions,
    for a function or class also its own."""

    def __init__(self, root: Path, package: str) -> None:
        self.lines: dict[str, set[tuple[str, int]]] = {}
        self.makes: dict[str, set[str]] = {}
        for path in (root / package).rglob("*.py"):
            module = path.relative_to(root).as_posix()
            for statement in ast.parse(path.read_text("utf-8")).body:
                if not isinstance(statement, (ast.Import, ast.ImportFrom)):
                    self._look(statement, module, names_made(statement), False)

    def _look(self, node: ast.AST, module: str, made: tuple[str, ...], run: bool) -> None:
        name = getattr(node, "id", None) or getattr(node, "attr", None)
        if run and hasattr(node, "lineno"):
            for one in (*made, *([name] if name else [])):
                self.lines.setdefault(one, set()).add((module, node.lineno))
        elif name:
            self.makes.setdefault(name, set()).update(made)
        for child in ast.iter_child_nodes(node):
            self._look(child, module, made, run or isinstance(node, ast.FunctionDef))

    def of(self, names: tuple[str, ...]) -> set[tuple[str, int]]:
        """The lines that use one of the names, or what is made of it."""
        known, left = set(names), list(names)
        while left:
            more = self.makes.get(left.pop(), set()) - known
            known |= more
            left += more
        return {line for name in known for line in self.lines.get(name, ())}
