"""One name is one class: who reads `Fault` or `Network` knows which it is."""

import ast
from collections import defaultdict
from pathlib import Path

PACKAGE = Path(__file__).parents[1] / "harnessgen"


def test_every_class_has_a_name_of_its_own() -> None:
    """No two classes of the package share a name, hidden and nested ones included."""
    found: defaultdict[str, list[str]] = defaultdict(list)
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                found[node.name].append(str(path.relative_to(PACKAGE)))
    assert len(found) > 300
    assert {name: files for name, files in found.items() if len(files) > 1} == {}
