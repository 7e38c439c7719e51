"""Slips of the hand: one is known for what it is, and two are none."""

import pytest

from harnessgen.measures.slips import likeliest, slip


@pytest.mark.parametrize(
    ("typed", "known", "meant"),
    [
        ("E22", ["E1", "E3", "E2", "E12"], "E2"),
        ("mn", ["m", "cm", "mm", "in", "ft"], "mm"),
        ("switch", ["splices", "switches"], "switches"),
        ("F1O", ["F1", "F10"], "F10"),
        ("Fl", ["F2", "F1"], "F1"),
        ("BTA", ["BAR", "BAT"], "BAT"),
        ("bat", ["BAR", "BAT"], "BAT"),
        ("thin-wall-152", ["thin-wall-175", "thin-wall-125"], "thin-wall-125"),
        ("thinwall-125", ["thin-wall-175", "thin-wall-125"], "thin-wall-125"),
        ("F3", ["F2", "F4", "G3"], None),
        ("E9", ["E1", "E3"], None),
    ],
)
def test_the_likeliest_slip(typed: str, known: list[str], meant: str | None) -> None:
    """A letter twice, the key beside, a plural, digits for letters, two exchanged; another number is no slip."""
    assert likeliest(typed, known) == meant


def test_slips_are_ordered() -> None:
    """Capitals, look-alikes, separators, plural, doubled, beside, one too few, another letter; two are none."""
    pairs = [("A1", "a1"), ("AO", "A0"), ("a-b", "ab"), ("fuse", "fuses"), ("aab", "ab"), ("mn", "mm"), ("abx", "ab")]
    distances = [slip(*each) for each in pairs]
    assert None not in distances
    assert distances == sorted(distances, key=lambda each: each or 0.0)
    assert slip("abcd", "dcba") is None
