"""The rooms of the package: small enough to see at a glance, each saying what it holds, and no circle between them."""

import ast
import re
from functools import cache
from pathlib import Path

import networkx as nx
import pytest

PACKAGE = Path(__file__).parents[1] / "harnessgen"
FILES = sorted(PACKAGE.rglob("*.py"))
ROOMS = sorted(path.parent for path in FILES if path.name == "__init__.py" and path.parent != PACKAGE)
MOST_MODULES = 20
"""Modules in one folder, besides its `__init__`; a folder of rules has one for each rule of its group."""
SENTENCE_END = re.compile(r"[.!?](?=\s|$)")


def module_of(path: Path) -> str:
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def room_of(module: str) -> str:
    """The folder of a module; a module beside the stages is a stage by itself."""
    path = PACKAGE.parent.joinpath(*module.split("."))
    return module if path.is_dir() or path.parent == PACKAGE else module.rpartition(".")[0]


@cache
def imports() -> "nx.DiGraph[str]":
    """Every import between modules of the package: lazy ones and those for types too."""
    modules = {module_of(path): path for path in FILES}
    graph: nx.DiGraph[str] = nx.DiGraph()
    for module, path in modules.items():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                named = {alias.name for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module:
                both = ((f"{node.module}.{alias.name}", node.module) for alias in node.names)
                named = {inner if inner in modules else outer for inner, outer in both}
            else:
                continue
            graph.add_edges_from((module, each) for each in named if each in modules and each != module)
    return graph


def circles(graph: "nx.DiGraph[str]") -> list[list[str]]:
    return [sorted(each) for each in nx.strongly_connected_components(graph) if len(each) > 1]


@pytest.mark.parametrize("folder", [PACKAGE, *ROOMS], ids=lambda path: str(path.relative_to(PACKAGE)))
def test_a_folder_can_be_seen_at_a_glance(folder: Path) -> None:
    modules = [path.name for path in folder.glob("*.py") if path.name != "__init__.py"]
    assert len(modules) <= MOST_MODULES


@pytest.mark.parametrize("folder", ROOMS, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_a_room_says_what_it_holds(folder: Path) -> None:
    """What is in it, what comes in and what goes out: two sentences at least."""
    said = ast.get_docstring(ast.parse((folder / "__init__.py").read_text(encoding="utf-8"))) or ""
    assert len(SENTENCE_END.findall(said)) >= 2, said


def test_every_folder_with_modules_is_a_room() -> None:
    assert {path.parent for path in FILES} == {PACKAGE, *ROOMS}


def test_no_module_imports_what_imports_it() -> None:
    """Not lazily, and not for a type."""
    assert imports().number_of_edges() > 1000
    assert circles(imports()) == []


def test_no_room_imports_what_imports_it() -> None:
    between: nx.DiGraph[str] = nx.DiGraph()
    between.add_edges_from((room_of(a), room_of(b)) for a, b in imports().edges)
    assert circles(between) == []


def test_a_circle_would_be_found() -> None:
    assert circles(nx.DiGraph([("a", "b"), ("b", "c"), ("c", "a"), ("c", "d")])) == [["a", "b", "c"]]
