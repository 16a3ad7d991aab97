"""The stages import only from earlier stages, and their modules stay small."""

from __future__ import annotations

import ast
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


def test_a_class_name_has_one_meaning():
    """Whoever reads the name of a class need not ask which of two is meant."""
    places: dict[str, list[str]] = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.ClassDef):
                places.setdefault(node.name, []).append(str(path.relative_to(PACKAGE)))

    assert len(places) > 300
    assert {name: found for name, found in places.items() if len(found) > 1} == {}
