"""Quantities: published conversions, every spelling of number and tolerance, and what a wrong text is told."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.measures.quantity import (
    AREA,
    CURRENT,
    DIMENSIONS,
    FORCE,
    INDUCTANCE,
    LENGTH,
    LINEAR_RESISTANCE,
    POWER,
    RATIO,
    RESISTANCE,
    SPEED,
    TEMPERATURE,
    TIME,
    VOLTAGE,
    Dimension,
    Quantity,
    QuantityError,
    parse_quantity,
    parse_tolerance,
    plain_number,
    tolerance_text,
)


@pytest.mark.parametrize(
    ("text", "dimension", "published"),
    [
        # International yard and pound agreement of 1959: the inch is 25.4 mm, the foot 304.8 mm, both exactly.
        ("1 in", LENGTH, 25.4),
        ("1 ft", LENGTH, 304.8),
        # The same agreement's pound of 0.45359237 kg times the standard gravity of 9.80665 m/s2 (3rd CGPM, 1901).
        ("1 lbf", FORCE, 0.45359237 * 9.80665),
        # NIST SP 811 (2008), appendix B.8: degC = (degF - 32) / 1.8; water freezes at 32 and boils at 212 degF.
        ("32 degF", TEMPERATURE, 0.0),
        ("212 °F", TEMPERATURE, 100.0),
        ("-40 degF", TEMPERATURE, -40.0),
        # SI Brochure, 9th edition (2019), table 7 (prefixes) and table 8 (minute).
        ("1 cm", LENGTH, 10.0),
        ("1 m", LENGTH, 1000.0),
        ("1 mA", CURRENT, 0.001),
        ("1 mV", VOLTAGE, 0.001),
        ("1 mohm", RESISTANCE, 0.001),
        ("1 mΩ", RESISTANCE, 0.001),
        ("1 kohm", RESISTANCE, 1000.0),
        ("1 mohm/m", LINEAR_RESISTANCE, 0.001),
        ("1 mH", INDUCTANCE, 0.001),
        ("1 ms", TIME, 0.001),
        ("1 min", TIME, 60.0),
        ("1 kW", POWER, 1000.0),
        ("1 %", RATIO, 0.01),
        ("1 mm²", AREA, 1.0),
        ("600 rpm", SPEED, 600.0),
    ],
)
def test_units_are_worth_what_is_published(text: str, dimension: Dimension, published: float) -> None:
    """A unit is converted to the base unit by its published factor, to the last bit that a float holds."""
    assert parse_quantity(text, dimension).value == pytest.approx(published, rel=1e-15, abs=1e-15)


@pytest.mark.parametrize(
    ("text", "value_mm"),
    [
        ("410", 410.0),
        ("410mm", 410.0),
        ("  410  mm ", 410.0),
        ("+410 mm", 410.0),
        ("-12 mm", -12.0),
        (".5 mm", 0.5),
        ("5. mm", 5.0),
        ("4.1e2 mm", 410.0),
        ("4.1E+2 mm", 410.0),
        ("1/2 in", 12.7),
        ("14 1/2 in", 368.3),
        ("14-1/2 in", 368.3),
        ("-14 1/2 in", -368.3),
        ("14.5 in", 368.3),
        ("010", 10.0),
    ],
)
def test_numbers_are_read_in_every_spelling_of_the_trade(text: str, value_mm: float) -> None:
    """Decimals, exponents, signs and the fractions of an inch tape are read as they are meant."""
    assert parse_quantity(text, LENGTH) == Quantity(value_mm)


@pytest.mark.parametrize(
    ("text", "plus_mm", "minus_mm"),
    [
        ("410 +/- 8 mm", 8.0, 8.0),
        ("410 mm +/- 8", 8.0, 8.0),
        ("410 mm +/- 8 mm", 8.0, 8.0),
        ("410 ± 8 mm", 8.0, 8.0),
        ("410±8mm", 8.0, 8.0),
        ("410 +10/-0 mm", 10.0, 0.0),
        ("410 mm +10/-0", 10.0, 0.0),
        ("410 + 10 / - 0 mm", 10.0, 0.0),
        ("410 -2/+3 mm", 3.0, 2.0),
        ("410 mm +/- 2 %", 8.2, 8.2),
        ("410 +/- 2 % mm", 8.2, 8.2),
    ],
)
def test_a_tolerance_stands_behind_number_or_unit(text: str, plus_mm: float, minus_mm: float) -> None:
    """Every spelling of a tolerance gives its bounds in the base unit, and none moves the value."""
    quantity = parse_quantity(text, LENGTH)
    assert (quantity.value, quantity.plus, quantity.minus) == pytest.approx((410.0, plus_mm, minus_mm), rel=1e-15)


def test_a_tolerance_in_inches_is_converted_with_its_value() -> None:
    """Fractions are taken in the tolerance too, in the unit of the value."""
    quantity = parse_quantity("14 1/2 +/- 1/4 in", LENGTH)
    assert (quantity.lowest, quantity.highest) == pytest.approx((14.25 * 25.4, 14.75 * 25.4), rel=1e-15)


def test_a_tolerance_of_a_temperature_is_a_difference() -> None:
    """9 degF of tolerance are 5 K: the offset of the scale belongs to the value alone."""
    assert parse_quantity("212 +/- 9 degF", TEMPERATURE) == Quantity(100.0, 5.0, 5.0)


@pytest.mark.parametrize("text", ["75 % +/- 5 %", "75 +/- 5 %", "75 % +/- 5"])
def test_the_per_cent_of_a_ratio_is_its_unit(text: str) -> None:
    """A ratio in per cent has its tolerance in points, not as a share of itself."""
    assert parse_quantity(text, RATIO) == Quantity(0.75, 0.05, 0.05)


def test_a_bare_number_takes_the_unit_of_the_file() -> None:
    """Where the file declares inches, 10 is ten inches, and 10 mm stays millimetres."""
    assert parse_quantity("10", LENGTH, "in").value == 254.0
    assert parse_quantity("10 mm", LENGTH, "in").value == 10.0


@pytest.mark.parametrize(
    ("text", "plus_mm", "minus_mm"),
    [
        ("+10/-0", 10.0, 0.0),
        ("+/- 5 mm", 5.0, 5.0),
        ("± 5", 5.0, 5.0),
        ("-0/+10", 10.0, 0.0),
        ("+1/4/-1/8 in", 6.35, 3.175),
    ],
)
def test_a_tolerance_alone_has_no_value(text: str, plus_mm: float, minus_mm: float) -> None:
    """A build tolerance is read by itself, as bounds around zero."""
    assert parse_tolerance(text, LENGTH) == Quantity(0.0, plus_mm, minus_mm)


@pytest.mark.parametrize(
    ("text", "dimension", "sentence"),
    [
        ("5 mm", CURRENT, "mm measures length; a current is needed here; write a current such as 7.5 A"),
        ("5 ohm/m", RESISTANCE, "ohm/m measures resistance per length; a resistance is needed here; "
         "write a resistance such as 12 ohm"),
        ("5 inch", LENGTH, "'inch' is no unit of length; did you mean in? known units: mm, cm, m, in, ft"),
        ("5 MM", LENGTH, "'MM' is no unit of length; did you mean mm? known units: mm, cm, m, in, ft"),
        ("250 F", TEMPERATURE, "'F' is no unit of temperature; did you mean degF? known units: degC, degF"),
        ("5 furlong", LENGTH, "'furlong' is no unit of length; known units: mm, cm, m, in, ft"),
        ("5 x", RATIO, "'x' is no unit of ratio; known units: %"),
        ("14,5 mm", LENGTH, "'14,5 mm' has a comma; write the decimal point: 14.5 mm"),
        (
            "410 mm +/- 1/4 in",
            LENGTH,
            "'410 mm +/- 1/4 in' has two units, mm and in; write both in the first: 410 +/- 6.35 mm",
        ),
        ("about 5", LENGTH, "'about 5' is no length; write a number and a unit, such as 410 mm"),
        ("1_000 mm", LENGTH, "'1_000 mm' is no length; write a number and a unit, such as 410 mm"),
        ("1/0 in", LENGTH, "'1/0' divides by zero; mend the fraction"),
        ("", LENGTH, "'' is no length; write a number and a unit, such as 410 mm"),
    ],
)  # fmt: skip
def test_a_wrong_quantity_is_told_in_one_sentence(text: str, dimension: Dimension, sentence: str) -> None:
    """The refusal says what is wrong with the text, and what to write instead."""
    with pytest.raises(QuantityError) as caught:
        parse_quantity(text, dimension)
    assert str(caught.value) == sentence


@pytest.mark.parametrize("text", ["5 mm", "10", "+10", "8 %"])
def test_a_value_is_no_tolerance(text: str) -> None:
    """Where a tolerance alone is wanted, a value is refused with both ways to write it."""
    with pytest.raises(QuantityError) as caught:
        parse_tolerance(text, LENGTH)
    assert str(caught.value) == f"{text!r} is no tolerance; write it as +10/-0 or +/- 5 mm"


@pytest.mark.parametrize("text", ["1e400 mm", "1e999999999", "9" * 5000 + " mm", "1/" + "7" * 5000 + " in"])
def test_a_monstrous_number_is_refused_at_once(text: str) -> None:
    """A number that no float or no memory holds is a fault of the file like any other."""
    with pytest.raises(QuantityError):
        parse_quantity(text, LENGTH)


@settings(deadline=None)
@given(
    value=st.decimals(-10000, 10000, places=3),
    tolerance=st.decimals(0, 500, places=3),
    dimension=st.sampled_from(DIMENSIONS),
    data=st.data(),
)
def test_value_and_tolerance_return_through_any_unit(
    value: object, tolerance: object, dimension: Dimension, data: st.DataObject
) -> None:
    """What is written in any unit of a dimension is the value that its factor says, with the bounds scaled alike."""
    unit = data.draw(st.sampled_from([each for each in dimension.units if each != "1"]))
    quantity = parse_quantity(f"{value} +/- {tolerance} {unit}", dimension)
    factor = float(dimension.units[unit])
    offset = 32.0 if unit in ("degF", "°F") else 0.0
    assert quantity.value / factor + offset == pytest.approx(float(str(value)), rel=1e-9, abs=1e-9)
    assert quantity.plus / factor == quantity.minus / factor == pytest.approx(float(str(tolerance)), rel=1e-12)


@settings(deadline=None)
@given(st.decimals(-9999, 9999, places=2), st.decimals(0, 99, places=1), st.decimals(0, 99, places=1))
def test_what_is_printed_reads_back_the_same(value: object, plus: object, minus: object) -> None:
    """The printed value and tolerance of a length are a text that gives the same length again."""
    length = Quantity(float(str(value)), float(str(plus)), float(str(minus)))
    again = parse_quantity(f"{plain_number(length.value)} {tolerance_text(length)} mm", LENGTH)
    assert again == length


@settings(deadline=None)
@given(st.text(max_size=30), st.sampled_from(DIMENSIONS))
def test_any_text_is_a_quantity_or_a_plain_refusal(text: str, dimension: Dimension) -> None:
    """No text makes the reader of quantities break in another way."""
    try:
        quantity = parse_quantity(text, dimension)
    except QuantityError:
        return
    assert quantity.lowest <= quantity.value <= quantity.highest


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [(70.0, 3, "70"), (368.3, 3, "368.3"), (0.75, 3, "0.75"), (1200.0, 0, "1200"), (-0.0001, 3, "0"), (2.5, 0, "2")],
)
def test_plain_numbers_have_no_trailing_zeros(value: float, decimals: int, text: str) -> None:
    """A number is printed with the decimals it needs, and never as minus zero."""
    assert plain_number(value, decimals) == text


@pytest.mark.parametrize(
    ("quantity", "text"),
    [
        (Quantity(410.0), ""),
        (Quantity(410.0, 8.0, 8.0), "+/- 8"),
        (Quantity(0.0, 10.0, 0.0), "+10/-0"),
        (Quantity(0.0, 1.5, 2.0), "+1.5/-2"),
    ],
)
def test_a_tolerance_is_printed_as_drawings_write_it(quantity: Quantity, text: str) -> None:
    """Equal bounds are one figure, unequal ones two, and an exact length none."""
    assert tolerance_text(quantity) == text
