"""The packaged parts against published tables, whose figures are copied here with their source."""

import pytest

from harnessgen.measures.conductor_size import gauge_diameter_mm
from harnessgen.parts.library import packaged_parts

PARTS = packaged_parts()

# IEC 60228, highest ohm/km of plain copper at 20 degC: area in mm2, classes 1 and 2, classes 5 and 6.
IEC_60228 = """
0.5 36.0 39.0
0.75 24.5 26.0
1 18.1 19.5
1.5 12.1 13.3
2.5 7.41 7.98
4 4.61 4.95
6 3.08 3.3
10 1.83 1.91
16 1.15 1.21
25 0.727 0.78
"""

# ISO 6722-1, highest mohm/m of plain copper at 20 degC (from memory), largest thin-wall diameter in mm (0.75 to 10 mm2
# from a published range declared to ISO 6722, the others from memory).
ISO_6722 = """
0.35 54.4 1.4
0.5 37.1 1.6
0.75 24.7 1.9
1 18.5 2.1
1.5 12.7 2.4
2.5 7.6 3.0
4 4.71 3.7
6 3.14 4.3
10 1.82 6.0
16 1.16 7.2
25 0.743 8.7
"""

# SAE J1127, J1128, J378: least copper area in circular mils, as printed in a small-craft cable table.
SAE_CIRCULAR_MILS = {"18": 1537, "16": 2336, "14": 3702, "12": 5833, "10": 9343, "8": 14810}

# FAA AC 43.13-1B CHG 1, table 11-9: gauge, highest ohm per 1000 ft of tinned copper at 20 degC, circular mils.
FAA_11_9 = """
24 28.40 475
22 16.20 755
20 9.88 1216
18 6.23 1900
16 4.81 2426
14 3.06 3831
12 2.02 5874
10 1.26 9354
8 0.70 16983
"""

# ISO 8820-3 (and DIN 72581-3), colour of the body by rating.
ISO_8820_3_COLOURS = {
    "2": "grey", "3": "violet", "4": "pink", "5": "tan", "7.5": "brown", "10": "red", "15": "light blue",
    "20": "yellow", "25": "natural", "30": "light green", "40": "orange",
}  # fmt: skip

# Published data sheets of fuses declared to ISO 8820-3 and SAE J1284 or J1888: form, rating, cold resistance in mohm.
COLD_MOHM = [("blade-medium", "40", 1.44), ("blade-large", "30", 1.9), ("blade-large", "35", 1.7),
             ("blade-large", "40", 1.4)]  # fmt: skip

# ECE R37, highest power at 13.5 V of filament lamps of 5, 10 and 21 W (from memory).
ECE_R37_W = {"lamp-5": 5.5, "lamp-10": 11.0, "lamp-21": 26.5}

# ISO 6722-1 and ISO 19642-1: classes C and E. SAE J1128: cross-linked. UL 1426: dry. SAE AS22759: tin-plated.
RATINGS_DEGC = {"thin-wall-125": 125, "thin-wall-175": 175, "cross-linked-125": 125, "boat-105": 105,
                "aircraft-150": 150}  # fmt: skip

CIRCULAR_MIL_MM2 = 0.000506707479
FOOT_M = 0.3048


def rows(table: str) -> list[list[str]]:
    return [line.split() for line in table.split("\n") if line]


@pytest.mark.parametrize("name", ["thin-wall-125", "thin-wall-175"])
def test_thin_wall_wire_lies_between_the_classes_of_iec_60228(name: str) -> None:
    """Vehicle strands conduct a little worse than class 2 and a little better than class 5 of the same area."""
    sizes = PARTS.wires[name].sizes
    for area, class_2, class_5 in rows(IEC_60228):
        mohm_per_m = sizes[area].resistance_ohm_per_m.value * 1000
        assert 0.99 * float(class_2) < mohm_per_m < float(class_5)


@pytest.mark.parametrize("name", ["thin-wall-125", "thin-wall-175"])
def test_thin_wall_wire_is_that_of_iso_6722(name: str) -> None:
    """Resistance and diameter of each size."""
    family = PARTS.wires[name]
    listed = rows(ISO_6722)
    assert list(family.sizes) == [area for area, *_ in listed]
    for area, mohm, diameter in listed:
        figures = family.sizes[area]
        assert figures.area_mm2.value == float(area)
        assert figures.resistance_ohm_per_m.value * 1000 == pytest.approx(float(mohm))
        assert figures.diameter_mm.value == float(diameter)
    assert family.standing == "from memory"


def test_primary_wire_has_the_copper_of_sae_j1128() -> None:
    """Less than ASTM B258 says for the gauge; the resistance follows from it with 2 % for the lay."""
    sizes = PARTS.wires["cross-linked-125"].sizes
    assert set(sizes) == set(SAE_CIRCULAR_MILS)
    for gauge, mils in SAE_CIRCULAR_MILS.items():
        area = sizes[gauge].area_mm2.value
        assert area == pytest.approx(mils * CIRCULAR_MIL_MM2, abs=0.0006)
        assert area < 0.7853981634 * gauge_diameter_mm(gauge) ** 2
        assert sizes[gauge].resistance_ohm_per_m.value == pytest.approx(1.02 / 58 / area, rel=0.002)


def test_aircraft_wire_is_that_of_the_faa_table() -> None:
    """Area and resistance of each gauge in table 11-9."""
    sizes = PARTS.wires["aircraft-150"].sizes
    listed = rows(FAA_11_9)
    assert list(sizes) == [gauge for gauge, *_ in listed]
    for gauge, ohm_per_1000_ft, mils in listed:
        assert sizes[gauge].area_mm2.value == pytest.approx(int(mils) * CIRCULAR_MIL_MM2, rel=0.002)
        ohm_per_m = float(ohm_per_1000_ft) / 1000 / FOOT_M
        assert sizes[gauge].resistance_ohm_per_m.value == pytest.approx(ohm_per_m, rel=0.002)


def test_boat_cable_has_the_copper_of_its_gauge() -> None:
    """Area by ASTM B258; resistance with 2 % for the lay and the share of tin that IEC 60228 has (8.21 over 7.98)."""
    for gauge, figures in PARTS.wires["boat-105"].sizes.items():
        area = 0.7853981634 * gauge_diameter_mm(gauge) ** 2
        assert figures.area_mm2.value == pytest.approx(area, abs=0.0006)
        assert figures.resistance_ohm_per_m.value == pytest.approx(1.02 * 8.21 / 7.98 / 58 / area, rel=0.003)


def test_insulation_stands_what_its_standard_says() -> None:
    """Highest temperature of each family."""
    for name, degc in RATINGS_DEGC.items():
        assert PARTS.wires[name].rating_degc.value == degc


def test_fuses_have_the_colours_of_iso_8820_3() -> None:
    """Every rating of the medium blade."""
    ratings = PARTS.fuses["blade-medium"].ratings
    assert {rating: figures.colour for rating, figures in ratings.items()} == ISO_8820_3_COLOURS


@pytest.mark.parametrize(("form", "rating", "mohm"), COLD_MOHM)
def test_fuses_have_the_resistance_of_their_data_sheets(form: str, rating: str, mohm: float) -> None:
    """Those few whose cold resistance is published, and they alone say so."""
    family = PARTS.fuses[form]
    figures = family.ratings[rating]
    assert figures.resistance_ohm.value * 1000 == pytest.approx(mohm)
    published = {
        (name, label)
        for name, each in PARTS.fuses.items()
        for label, row in each.ratings.items()
        if each.origin(row).standing.value == "published"
    }
    assert published == {(name, label) for name, label, _ in COLD_MOHM}


def test_lamps_take_the_power_of_ece_r37() -> None:
    """Resistance at 13.5 V."""
    for name, watt in ECE_R37_W.items():
        assert 13.5**2 / PARTS.loads[name].resistance_ohm.value == pytest.approx(watt, rel=0.01)
