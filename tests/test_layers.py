"""The order of the stages: an import goes left only, lazy ones and dotted names in rule records too."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "harnessgen"
ORDER = (
    "version", "measures", "source", "evidence", "parts", "design", "network",
    "lengths", "physics", "rules", "remedies", "bench",
    "catalogue", "cutting",
    "explain", "schedules", "outside", "sheets", "drawings", "documents", "run", "builder", "disk", "interface", "cli",
)  # fmt: skip
OUTSIDE = {"__init__", "__main__"}
FILES = sorted(PACKAGE.rglob("*.py"))
DOTTED = re.compile(r"^harnessgen(\.[a-z0-9_]+)+(:[a-z_]+(\.md)?)?$")


def stage_of(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imported(path: Path, *, with_types: bool) -> Iterator[tuple[int, str]]:
    """Line and stage of everything of the package that a file imports or names by a dotted text."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    typed = {
        id(child)
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test)
        for child in ast.walk(node)
    }
    for node in ast.walk(tree):
        if id(node) in typed and not with_types:
            continue
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: a relative import hides its stage"
            names = [f"{node.module}.{alias.name}" for alias in node.names]
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and DOTTED.match(node.value):
            names = [node.value]
        for name in names:
            parts = re.split(r"[.:]", name)
            if parts[0] == "harnessgen" and len(parts) > 1:
                yield getattr(node, "lineno", 0), parts[1]


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_imports_go_left(path: Path) -> None:
    """No stage reaches backwards, not even lazily, for a type, or by a name in a text."""
    stage = stage_of(path)
    if stage in OUTSIDE:
        return
    assert stage in ORDER, f"{path}: {stage} has no place in the order of the stages"
    for line, other in imported(path, with_types=True):
        assert ORDER.index(other) <= ORDER.index(stage), f"{path}:{line}: {stage} reaches right, to {other}"


DISK = ("disk", "interface", "cli")
FORBIDDEN = {
    "logging": (),
    "yaml": ("source",),
    "networkx": ORDER[ORDER.index("network") :],
    "pathlib": (*DISK, "outside"),
    "os": (*DISK, "outside"),
    "shutil": (*DISK, "outside"),
    "tempfile": DISK,
    "time": (),
    "datetime": (),
    "random": (),
    "subprocess": ("outside",),
}


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_only_the_edge_touches_the_world(path: Path) -> None:
    """Disk, clock and terminal belong to the right end; YAML to the reader; networkx to the network and after."""
    stage = stage_of(path)
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        modules = (
            [alias.name for alias in node.names]
            if isinstance(node, ast.Import)
            else [node.module or ""]
            if isinstance(node, ast.ImportFrom)
            else []
        )
        for module in modules:
            allowed = FORBIDDEN.get(module.partition(".")[0])
            assert allowed is None or stage in allowed, f"{path}:{node.lineno}: {module} in {stage}"
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            assert node.func.id not in ("print", "open", "input") or stage == "cli", f"{path}:{node.lineno}"


TABLES = {
    "design/limits/table.py": "every limit with its key, default, words and source",
    "rules/records.py": "every rule with its record",
}
"""Modules that are one table, by what it lists: cutting such a table in two would only hide its end."""


def test_files_can_be_read_in_one_sitting() -> None:
    """No module is longer than 400 lines, but for a table; and a table stays on the list only while it is longer."""
    long = {str(path.relative_to(PACKAGE)) for path in FILES if len(path.read_text().splitlines()) > 400}
    assert long == TABLES.keys()


@pytest.mark.parametrize("name", TABLES)
def test_a_module_excused_as_a_table_is_one(name: str) -> None:
    """More than half of its lines are one class body or one literal."""
    text = (PACKAGE / name).read_text(encoding="utf-8")
    longest = max((node.end_lineno or 0) - node.lineno + 1 for node in ast.parse(text).body)
    assert longest > len(text.splitlines()) / 2


def documented(node: ast.AST) -> Iterator[ast.FunctionDef | ast.ClassDef]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.FunctionDef | ast.ClassDef) and not child.name.startswith("_"):
            yield child
            if isinstance(child, ast.ClassDef):
                yield from documented(child)


def raised(function: ast.FunctionDef) -> set[str]:
    """Names of the exceptions that a function raises itself."""
    found = set()
    inner = {
        id(node)
        for child in ast.walk(function)
        if isinstance(child, ast.FunctionDef) and child is not function
        for node in ast.walk(child)
    }
    for node in ast.walk(function):
        if id(node) in inner:
            continue
        if isinstance(node, ast.Raise) and node.exc is not None:
            target = node.exc.func if isinstance(node.exc, ast.Call) else node.exc
            if isinstance(target, ast.Name):
                found.add(target.id)
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_what_is_public_says_what_it_is(path: Path) -> None:
    """Every public function and class has a docstring, and tells what it raises."""
    for item in documented(ast.parse(path.read_text(encoding="utf-8"))):
        text = ast.get_docstring(item)
        assert text, f"{path}:{item.lineno}: {item.name} has no docstring"
        if isinstance(item, ast.FunctionDef):
            for name in raised(item):
                if name[0].isupper():
                    assert name in text, f"{path}:{item.lineno}: {item.name} raises {name} and does not say so"
