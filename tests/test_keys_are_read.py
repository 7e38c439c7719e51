"""A key of the format that no code reads is a promise that nothing keeps."""

import ast
from pathlib import Path

PACKAGE = Path(__file__).parents[1] / "harnessgen"
TREES = {path: ast.parse(path.read_text(encoding="utf-8")) for path in sorted(PACKAGE.rglob("*.py"))}
BY_NAME = {
    ("Design", "include"): "read from the text before the records are made (design/reading/read.py)",
    ("Units", "temperature"): "bare numbers look their unit up by the name of the dimension",
    ("Limits", "supply_cranking_v"): "asked as supply- and the word of the condition",
    ("Limits", "supply_normal_v"): "asked as supply- and the word of the condition",
    ("Limits", "supply_high_v"): "asked as supply- and the word of the condition",
}
"""Keys that no attribute and no plain text reads: how they are read instead, or the word that they are dead."""


def test_every_declared_key_is_read_somewhere() -> None:
    """An attribute of that name is read, or for a limit its name stands in a text outside the table.

    Names are compared, not types: a dead key that shares its name with a live attribute passes.
    """
    attributes = {node.attr for tree in TREES.values() for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
    texts = {
        node.value
        for path, tree in TREES.items()
        if path.parts[-2:] != ("limits", "table.py")
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    unread = set()
    for tree in TREES.values():
        for owner in (node for node in ast.walk(tree) if isinstance(node, ast.ClassDef)):
            for line in owner.body:
                call = line.value if isinstance(line, ast.AnnAssign) else None
                if not isinstance(call, ast.Call) or not isinstance(call.func, ast.Name):
                    continue
                assert isinstance(line, ast.AnnAssign)
                assert isinstance(line.target, ast.Name)
                name = line.target.id
                is_limit = call.func.id in ("declared", "chosen_word")
                if call.func.id == "key" or is_limit:
                    first = call.args[0]
                    is_read = name in attributes
                    if is_limit and isinstance(first, ast.Constant):
                        is_read = first.value in texts
                    if not is_read:
                        unread.add((owner.name, name))
    assert unread == BY_NAME.keys()
