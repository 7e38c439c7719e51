"""The mutants themselves: each differs in one place, says so, and can be read; what is no code is left alone."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from tests.mutation.mutants import mutants

PACKAGE = Path(__file__).parents[2] / "harnessgen"


def changes(source: str) -> set[tuple[str, str]]:
    """What becomes of a text, by kind: the changed line, without spaces around."""
    lines = source.splitlines()
    found = set()
    for mutant in mutants("m.py", source):
        new = mutant.source.splitlines()
        assert [number for number, line in enumerate(new) if line != lines[number]] == [mutant.line - 1]
        found.add((mutant.kind, new[mutant.line - 1].strip()))
    return found


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("a < b", {("comparison", "(a <= b)"), ("comparison", "(a >= b)")}),
        ("a == b", {("comparison", "(a != b)")}),
        ("a + b", {("arithmetic", "(a - b)")}),
        ("a and b", {("boolean", "(a or b)")}),
        ("not a", {("sign", "(a)")}),
        ("a = True", {("constant", "a = False")}),
        ("a = 4", {("constant", "a = 5"), ("constant", "a = (3)")}),
        ("a = 0.5", {("constant", "a = 0.75")}),
        ("f(a, b)", {("arguments", "f(b, a)"), ("dropped", "pass")}),
        ("a = min(b, c)", {("call", "a = max(b, c)")}),
        ("a = b if c else d", {("condition", "a = (d if c else b)")}),
        ("a += b", {("dropped", "pass")}),
        ("def f():\n    return a", {("result", "return None")}),
    ],
)
def test_each_kind_of_change(source: str, expected: set[tuple[str, str]]) -> None:
    """By hand: what stands there, and every mutant of it."""
    assert changes(source) == expected


@pytest.mark.parametrize(
    "source",
    [
        '"""Words."""',
        "from a import b",
        "def f(a: int) -> int:\n    '''Words.'''",
        "a: dict[str, int]",
        "a = 'text'",
        "a = f'{b + 1}'",
        "a = f(b, b)",
        "def f() -> None:\n    return None",
    ],
)
def test_what_is_no_decision_is_left_alone(source: str) -> None:
    """Words, annotations, imports, and what would be the same."""
    assert changes(source) == set()


def test_signs_outside_of_ascii_do_not_shift_a_change() -> None:
    """Places in a line count bytes, and a mutant changes what it says."""
    assert changes("a = '\u00b0\u00b2' if b < c else d") >= {("comparison", "a = '\u00b0\u00b2' if (b <= c) else d")}


@pytest.mark.parametrize("path", sorted((PACKAGE / "rules" / "reach").glob("*.py")), ids=lambda path: path.stem)
def test_every_mutant_of_a_module_can_be_read(path: Path) -> None:
    """The text of each is Python, differs from the module, and no two are the same."""
    source = path.read_text(encoding="utf-8")
    found = mutants(path.name, source)
    for each in found:
        ast.parse(each.source)
        assert each.source != source
    assert len({each.source for each in found}) == len(found)


def test_a_function_runs_by_itself() -> None:
    """Its result comes back, its failure is told, and a loop without end is ended: in a process that has no threads."""
    done = subprocess.run(
        [sys.executable, "-c", ALONE], capture_output=True, text=True, cwd=PACKAGE.parent, check=False
    )
    assert done.stdout.split() == ["[1,", "'two']", "failed", "None"], done.stderr


ALONE = """
from tests.mutation.alone import alone
def for_ever():
    while True:
        pass
print(alone(lambda: [1, "two"], 5.0))
try:
    alone(lambda: 1 // 0, 5.0)
except RuntimeError:
    print("failed")
print(alone(for_ever, 1.0))
"""
