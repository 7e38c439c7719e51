"""Measured values with a coverage factor, angles, and quantities written back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harnessgen.measures.quantity import (
    ANGLE,
    LENGTH,
    VOLTAGE,
    Quantity,
    QuantityError,
    parse_quantity,
    quantity_text,
)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("410 +/- 8 mm (k=2)", Quantity(410, 8, 8, 2.0)),
        ("410 ± 8 mm ( k = 1.96 )", Quantity(410, 8, 8, 1.96)),
        ("16 in +/- 0.25 (k=2)", Quantity(406.4, 6.35, 6.35, 2.0)),
        ("410 +/- 2 % (k=3)", Quantity(410, 8.2, 8.2, 3.0)),
        ("410 +/- 8 mm", Quantity(410, 8, 8)),
    ],
)
def test_a_coverage_factor_stands_behind_the_bounds(text: str, expected: Quantity) -> None:
    """A measurement may say with which coverage factor its uncertainty was expanded."""
    assert parse_quantity(text, LENGTH, may_cover=True) == expected


@pytest.mark.parametrize("text", ["410 mm (k=2)", "410 +10/-0 mm (k=2)", "410 +/- 8 mm (k=0)"])
def test_a_coverage_factor_that_covers_nothing_is_refused(text: str) -> None:
    """Without bounds, with one-sided ones, or as nought, it means nothing."""
    with pytest.raises(QuantityError, match="covers nothing"):
        parse_quantity(text, LENGTH, may_cover=True)


def test_only_measurements_take_a_coverage_factor() -> None:
    """Elsewhere it would be read and ignored, so it is refused."""
    with pytest.raises(QuantityError, match="is no voltage"):
        parse_quantity("13.8 V +/- 0.2 (k=2)", VOLTAGE)


def test_angles_are_read_in_degrees() -> None:
    """An angle has one unit, in two spellings."""
    assert parse_quantity("60 deg", ANGLE) == parse_quantity("60°", ANGLE) == Quantity(60.0)
    with pytest.raises(QuantityError, match="degC measures temperature"):
        parse_quantity("60 degC", ANGLE)


THOUSANDTHS = st.integers(0, 10**7).map(lambda number: number / 1000)


@given(value=THOUSANDTHS, plus=THOUSANDTHS, minus=THOUSANDTHS, coverage=st.none() | st.integers(1, 3).map(float))
def test_a_quantity_written_back_reads_the_same(
    value: float, plus: float, minus: float, coverage: float | None
) -> None:
    """Text and quantity are the same thing, to the thousandth that is written."""
    if coverage is not None:
        minus = plus = max(plus, 0.001)
    quantity = Quantity(value, plus, minus, coverage)
    assert parse_quantity(quantity_text(quantity, "mm"), LENGTH, may_cover=True) == quantity
