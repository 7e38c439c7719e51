"""Near names: one is offered only when it exists and is like what was typed."""

import pytest

from harnessgen.source.near import did_you_mean, nearest


@pytest.mark.parametrize(
    ("name", "known", "near"),
    [
        ("colour", ["color", "size"], "color"),
        ("LENGTH", ["length"], "length"),
        ("lenght", ["length", "zone"], "length"),
        ("from", ["to", "size"], None),
        ("x", [], None),
        ("C21", ["C2", "c21"], "c21"),
    ],
)
def test_the_nearest_known_name_is_found(name: str, known: list[str], near: str | None) -> None:
    """The same name in other capitals comes first, then the one most alike; nothing far off is offered."""
    assert nearest(name, known) == near


@pytest.mark.parametrize(
    ("name", "known", "words"),
    [
        ("lenght", ["length", "zone"], "did you mean length?"),
        ("q", ["length", "zone"], "known: length, zone"),
        ("q", [], ""),
        ("q", [f"name{n}" for n in range(14)], "known: " + ", ".join(f"name{n}" for n in range(12)) + " and 2 more"),
    ],
)
def test_without_a_near_name_the_known_ones_are_listed(name: str, known: list[str], words: str) -> None:
    """The mend names the near name, or the known names as far as they are few, or nothing."""
    assert did_you_mean(name, known) == words
