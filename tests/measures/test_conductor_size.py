"""Conductor sizes: labels as sold, and the diameter of a gauge against the published table."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.measures.conductor_size import ConductorSize, SizeError, gauge_diameter_mm, parse_size

# ASTM B258: solid wire of a gauge, diameter in mm and area in mm2, as a published table of the gauge prints them.
_B258 = [
    ("4/0", 11.6840, 107.22),
    ("3/0", 10.4049, 85.029),
    ("2/0", 9.2658, 67.431),
    ("1/0", 8.2515, 53.475),
    ("1", 7.3481, 42.408),
    ("2", 6.5437, 33.631),
    ("4", 5.1894, 21.151),
    ("6", 4.1154, 13.302),
    ("8", 3.2636, 8.3656),
    ("10", 2.5882, 5.2612),
    ("12", 2.0525, 3.3088),
    ("14", 1.6277, 2.0809),
    ("16", 1.2908, 1.3087),
    ("18", 1.0237, 0.82305),
    ("20", 0.8118, 0.51762),
    ("22", 0.6438, 0.32553),
    ("24", 0.5106, 0.20473),
    ("30", 0.2546, 0.050926),
]


@pytest.mark.parametrize(("label", "diameter_mm", "area_mm2"), _B258)
def test_a_gauge_has_the_diameter_of_the_standard(label: str, diameter_mm: float, area_mm2: float) -> None:
    """Diameter and area of a gauge are those of the table, to its last printed digit."""
    assert gauge_diameter_mm(label) == pytest.approx(diameter_mm, abs=5.1e-5)
    assert ConductorSize("AWG", label).nominal_area_mm2 == pytest.approx(area_mm2, rel=5e-5)


def test_the_gauge_hangs_on_its_two_defined_diameters() -> None:
    """ASTM B258 defines 36 AWG as 0.005 in and 4/0 AWG as 0.46 in."""
    assert gauge_diameter_mm("36") == 0.005 * 25.4
    assert gauge_diameter_mm("4/0") == pytest.approx(0.46 * 25.4, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("0.75 mm2", "0.75 mm2"),
        ("0.750mm2", "0.75 mm2"),
        (".5 mm²", "0.5 mm2"),
        ("10 mm2", "10 mm2"),
        ("0.75", "0.75 mm2"),
        ("18 AWG", "18 AWG"),
        ("18AWG", "18 AWG"),
        ("08 AWG", "8 AWG"),
        ("4/0 AWG", "4/0 AWG"),
        ("0000 AWG", "4/0 AWG"),
        ("000 AWG", "3/0 AWG"),
        ("00 AWG", "2/0 AWG"),
        ("0 AWG", "1/0 AWG"),
    ],
)
def test_a_size_has_one_label_however_it_is_spelled(text: str, printed: str) -> None:
    """Spellings of the same size give the same label, so that they compare equal."""
    assert str(parse_size(text)) == printed
    assert parse_size(printed) == parse_size(text)


def test_a_bare_number_takes_the_system_of_the_file() -> None:
    """18 is 18 AWG in a file of gauges, and 18 mm2 in a metric one."""
    assert parse_size("18", "AWG") == ConductorSize("AWG", "18")
    assert parse_size("18") == ConductorSize("mm2", "18")


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("41 AWG", "'41' is no gauge; write 18 AWG, or 2/0 AWG"),
        ("5/0 AWG", "'5/0' is no gauge; write 18 AWG, or 2/0 AWG"),
        ("00000 AWG", "'00000' is no gauge; write 18 AWG, or 2/0 AWG"),
        (
            "18 awg",
            "'awg' is no conductor size unit; did you mean 18 AWG? write mm2 or AWG, such as 0.75 mm2 or 18 AWG",
        ),
        (
            "0.75 mm",
            "'mm' is no conductor size unit; did you mean 0.75 mm2? write mm2 or AWG, such as 0.75 mm2 or 18 AWG",
        ),
        ("0 mm2", "a conductor has an area above zero; write 0.75 mm2 or 18 AWG"),
        ("4/0", "'4/0' is no conductor size; write 0.75 mm2 or 18 AWG"),
        ("0.75.5 mm2", "'0.75.5 mm2' is no conductor size; write 0.75 mm2 or 18 AWG"),
        ("thin", "'thin' is no conductor size; write 0.75 mm2 or 18 AWG"),
        ("-1 mm2", "'-1 mm2' is no conductor size; write 0.75 mm2 or 18 AWG"),
    ],
)
def test_a_wrong_size_is_told_in_one_sentence(text: str, sentence: str) -> None:
    """The refusal says what is wrong with the text, and what to write instead."""
    with pytest.raises(SizeError) as caught:
        parse_size(text)
    assert str(caught.value) == sentence


@settings(deadline=None)
@given(st.decimals("0.01", 500, places=2))
def test_a_metric_size_is_its_area(area: object) -> None:
    """A metric label is worth the figure that it prints, and reads back the same."""
    size = parse_size(f"{area} mm2")
    assert math.isclose(size.nominal_area_mm2, float(str(area)), rel_tol=1e-15)
    assert parse_size(str(size)) == size


@settings(deadline=None)
@given(st.text(max_size=20))
def test_any_text_is_a_size_or_a_plain_refusal(text: str) -> None:
    """No text makes the reader of sizes break in another way."""
    try:
        size = parse_size(text)
    except SizeError:
        return
    assert size.nominal_area_mm2 > 0
