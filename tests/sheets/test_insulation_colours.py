"""Insulation colours: all codes of the standard, and stripes that are seen on their base."""

from itertools import combinations

import pytest

from harnessgen.sheets.insulation_colours import (
    BLACK,
    EDGE,
    INSULATION_COLOURS,
    UNKNOWN,
    WHITE,
    base_and_stripe,
    contrast,
    insulation_colour,
)

# IEC 60757 table 1, in the order of the standard; GNYE is a base with a stripe and is tested apart.
IEC_60757_TABLE_1 = ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR"]


def test_every_code_of_the_standard_has_a_shade_of_its_own() -> None:
    """The table holds the codes of IEC 60757 table 1 in its order, and no two shades are near one another."""
    assert list(INSULATION_COLOURS) == IEC_60757_TABLE_1
    for one, other in combinations(INSULATION_COLOURS.values(), 2):
        assert sum((a - b) ** 2 for a, b in zip(one, other, strict=True)) > 40**2


def test_light_shades_are_seen_by_their_edge() -> None:
    """White, silver and yellow conductors stand out on white paper by their edge (WCAG 2.1 SC 1.4.11: 3 to 1)."""
    assert contrast(EDGE, WHITE) > 3
    for code in ("WH", "SR", "YE", "PK"):
        assert contrast(EDGE, insulation_colour(code)) > 3


def test_an_unknown_code_still_draws() -> None:
    """A code that is none of the standard is drawn grey and raises nothing."""
    assert insulation_colour("XX") == insulation_colour("") == UNKNOWN


def test_notation_is_split_into_base_and_stripe() -> None:
    """BU/WH is blue with a white stripe, GNYE green with yellow."""
    assert base_and_stripe("BU/WH") == ("BU", "WH")
    assert base_and_stripe("WH/BU") == ("WH", "BU")
    assert base_and_stripe("GNYE") == ("GN", "YE")
    assert base_and_stripe("RD") == ("RD", "")
    assert base_and_stripe("") == ("", "")


def test_contrast_is_that_of_the_guideline() -> None:
    """Black on white is 21 to 1 (WCAG 2.1, definition of contrast ratio), grey #767676 on white about 4.54."""
    assert contrast(BLACK, WHITE) == pytest.approx(21)
    assert contrast(WHITE, (0x76, 0x76, 0x76)) == pytest.approx(4.54, abs=0.01)
