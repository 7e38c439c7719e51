"""Published tables against the worked examples of their publications, and their refusals."""

from dataclasses import replace

import pytest

from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.physics.heat.air import pressure_pa
from harnessgen.physics.heat.published_tables import Lying, OutOfDomain, Published, published

BUNDLED = {
    "18": ((20, 17), (14, 11.9), (12, 10.2), (10, 8.5)),
    "16": ((25, 21.3), (17.5, 14.9), (15, 12.8), (12.5, 10.6)),
    "14": ((35, 29.8), (24.5, 20.8), (21, 17.9), (17.5, 14.9)),
    "12": ((45, 38.3), (31.5, 26.8), (27, 23), (22.5, 19.1)),
    "10": ((60, 51), (42, 35.7), (36, 30.6), (30, 25.5)),
    "8": ((80, 68), (56, 47.6), (48, 40.8), (40, 34)),
    "6": ((120, 102), (84, 71.4), (72, 61.2), (60, 51)),
    "4": ((160, 136), (112, 95.2), (96, 81.6), (80, 68)),
    "2": ((210, 178.5), (147, 125), (126, 107.1), (105, 89.3)),
    "1": ((245, 208.3), (171.5, 145.8), (147, 125), (122.5, 104.1)),
}
"""ABYC E-11 by AWG, for 1 or 2, 3, 4 to 6 and 7 to 24 loaded wires: amperes outside and inside an engine space."""


def lying(
    label: str, rating: float, ambient: float, wires: int = 1, loaded: int = 1, altitude_ft: float = 0.0
) -> Lying:
    return Lying(ConductorSize("AWG", label), rating, ambient, wires, loaded, altitude_ft * 0.3048)


def allowed(method: str, how: Lying) -> float:
    found = published(method, "allowed", how)
    assert isinstance(found, Published)
    assert found.derivation.again() == found.allowed_a
    return found.allowed_a


@pytest.mark.parametrize(
    ("how", "printed"),
    [
        (lying("4", 105, 30), 160.0),
        (lying("4", 105, 50), 136.0),
        (lying("12", 105, 50, 5, 5), 23.0),
        (lying("14", 105, 50, 8, 8), 14.9),
        (lying("10", 90, 30), 55.0),
        (lying("10", 60, 30), 40.0),
    ],
)
def test_small_craft(how: Lying, printed: float) -> None:
    """33 CFR 183.425 table 5 and ABYC E-11: the printed rows, which are rounded to a tenth or to whole amperes."""
    assert allowed("boat-table", how) == pytest.approx(printed, abs=0.06)


@pytest.mark.parametrize("loaded", [2, 3, 5, 12])
@pytest.mark.parametrize("label", ["18", "16", "14", "12", "10", "8", "6", "4", "2", "1"])
def test_small_craft_in_bundles(label: str, loaded: int) -> None:
    """ABYC E-11 for 105 degC, a second full copy of its table (seen): outside and inside engine spaces, as printed."""
    outside, inside = BUNDLED[label][(2, 3, 5, 12).index(loaded)]
    assert allowed("boat-table", lying(label, 105, 30, loaded, loaded)) == pytest.approx(outside, abs=0.06)
    assert allowed("boat-table", lying(label, 105, 50, loaded, loaded)) == pytest.approx(inside, abs=0.06)


@pytest.mark.parametrize(
    ("how", "printed"),
    [
        (lying("14", 200, 50), 47.0),
        (lying("14", 200, 50, 8, 4, 20000), 25.66),
        (lying("12", 200, 25, 12, 12), 29.2),
        (lying("12", 200, 60, 12, 12, 20000), 23.8),
        (lying("20", 200, 60), 21.5),
        (lying("22", 200, 60), 16.2),
    ],
)
def test_aircraft(how: Lying, printed: float) -> None:
    """FAA AC 43.13-1B 11-66 to 11-69, read from curves: example 2 (seen), 12 and 35 wires (from memory)."""
    assert allowed("aircraft-curves", how) == pytest.approx(printed, rel=0.03)


@pytest.mark.parametrize(("wires", "factor"), [(1, 1.0), (2, 0.9643), (8, 0.75), (15, 0.5), (16, 0.5), (50, 0.5)])
def test_space(wires: int, factor: float) -> None:
    """ECSS-Q-ST-30-11C Rev.2 table C-3, 12 AWG 26.7 A; MIL-STD-975M appendix A 3.16, bundle factors."""
    how = replace(lying("12", 200, 70, wires, wires), is_in_vacuum=True)
    assert allowed("space-derating", how) == pytest.approx(26.7 * factor, abs=0.003)


@pytest.mark.parametrize(
    ("method", "how"),
    [
        ("boat-table", lying("20", 105, 30)),
        ("boat-table", lying("12", 150, 30)),
        ("boat-table", lying("12", 105, 50.1)),
        ("boat-table", replace(lying("12", 105, 30), is_in_vacuum=True)),
        ("aircraft-curves", lying("8", 150, 30)),
        ("aircraft-curves", lying("12", 150, 121)),
        ("aircraft-curves", lying("12", 200, -60)),
        ("aircraft-curves", lying("22", 200, 60, 35, 7, 60000)),
        ("aircraft-curves", lying("22", 200, 60, 1, 1, 60001)),
        ("space-derating", lying("12", 200, 70)),
        ("space-derating", replace(lying("12", 200, 71), is_in_vacuum=True)),
        ("space-derating", replace(lying("12", 105, 70), is_in_vacuum=True)),
        ("space-derating", replace(lying("10", 200, 70), is_in_vacuum=True)),
    ],
)
def test_a_table_is_refused_outside_its_domain(method: str, how: Lying) -> None:
    assert isinstance(published(method, "allowed", how), OutOfDomain)


def test_metric_sizes_are_none_of_the_tables() -> None:
    assert isinstance(
        published("boat-table", "", replace(lying("12", 105, 30), size=ConductorSize("mm2", "2.5"))), OutOfDomain
    )


@pytest.mark.parametrize(("height_m", "pascal"), [(0, 101325.0), (5000, 54019.9), (11000, 22632.1), (20000, 5474.9)])
def test_pressure_of_the_standard_atmosphere(height_m: float, pascal: float) -> None:
    """U.S. Standard Atmosphere, 1976, geopotential altitudes (from memory)."""
    assert pressure_pa(height_m) == pytest.approx(pascal, rel=1e-4)
