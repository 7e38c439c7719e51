"""Designs as a builder would get them wrong: each has the findings that its comments expect, and no others."""

import re
from pathlib import Path

import pytest

from tests.line import told

FAULTY = sorted((Path(__file__).parents[2] / "designs" / "faulty").glob("*.yaml"))
EXPECT = re.compile(r"# expect: (\S+) (.+)$")


def expected(text: str) -> list[tuple[str, int, str]]:
    """Rule, line and subject of each comment `# expect: rule subject`."""
    lines = enumerate(text.split("\n"), 1)
    return [(found[1], number, found[2]) for number, line in lines if (found := EXPECT.search(line)) is not None]


def test_there_are_fifteen() -> None:
    """Fifteen designs or more, each of which expects a finding."""
    assert len(FAULTY) >= 15
    assert all(expected(path.read_text(encoding="utf-8")) for path in FAULTY)


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.stem)
def test_a_faulty_design_has_what_it_expects(path: Path) -> None:
    """The errors and warnings are those that the comments name, at their lines, and no others."""
    text = path.read_text(encoding="utf-8")
    assert sorted(told(text), key=lambda each: each[1]) == expected(text)
