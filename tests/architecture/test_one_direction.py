"""The stages import only from earlier stages, and their modules stay small."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import networkx
import pytest

import sockscript

PACKAGE = Path(sockscript.__file__).parent
STAGES = ["text", "numbers", "operations", "fit", "tree", "format", "machine", "trace", "expand",
          "highlight", "fabric", "findings", "sharing", "pictures", "sheet", "compare", "follow",
          "logs", "service", "catalogue", "commands"]
MODULES = sorted(PACKAGE.glob("*/**/*.py"))


def imported(path: Path) -> set[str]:
    """The stages that a module imports from, wherever in it the import stands."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        names = []
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [node.module]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        found |= {name.split(".")[1] for name in names if name.startswith("sockscript.")}
    return found


def stage_of(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0]


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_a_module_imports_from_no_later_stage(path):
    own = STAGES.index(stage_of(path))

    assert {name for name in imported(path) if name in STAGES and STAGES.index(name) > own} == set()


def test_all_stages_are_known():
    assert {stage_of(path) for path in MODULES} == set(STAGES)


def test_no_modules_import_each_other_in_a_circle():
    """Nor where an import stands in a function or serves only the types."""
    graph = networkx.DiGraph()
    names = {".".join(("sockscript", *path.relative_to(PACKAGE).with_suffix("").parts)): path
             for path in MODULES}
    for name, path in names.items():
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module:
                told = {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
                graph.add_edges_from((name, other) for other in told & names.keys())

    assert graph.number_of_edges() > 300
    assert [sorted(circle) for circle in networkx.strongly_connected_components(graph)
            if len(circle) > 1] == []


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_a_module_is_of_one_idea(path):
    assert len(path.read_text("utf-8").splitlines()) <= 350


def test_only_the_commands_print():
    for path in MODULES:
        calls = [node for node in ast.walk(ast.parse(path.read_text("utf-8")))
                 if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
                 and node.func.id == "print"]
        assert not calls or stage_of(path) == "commands", path


def types_of(path: Path) -> list[str]:
    """The classes of a module, and the names that it gives to types."""
    tree = ast.parse(path.read_text("utf-8"))
    classes = [node.name for node in ast.walk(tree) if isinstance(node, ast.ClassDef)]
    named = [target.id for node in tree.body if isinstance(node, ast.Assign)
             for target in node.targets
             if isinstance(target, ast.Name) and re.fullmatch("_?[A-Z][a-z]\\w*", target.id)]
    return classes + named


def test_a_name_of_a_type_has_one_meaning():
    """Whoever reads it need not ask which of two is meant."""
    places: dict[str, list[str]] = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        for name in types_of(path):
            places.setdefault(name, []).append(str(path.relative_to(PACKAGE)))

    assert len(places) > 400
    assert {name: found for name, found in places.items() if len(found) > 1} == {}
