"""Steady temperatures of bundles against single wires, a published curve and physics."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.physics.heat.bundle import allowed_current_in_bundle_a, bundle_temperatures
from harnessgen.physics.heat.derivation import bundle_derivation
from harnessgen.physics.heat.single_wire import (
    HeatedWire,
    allowed_current_a,
    conductor_temperature_degc,
    heat_lost_w_per_m,
)
from tests.samples import examples

# No. 18: 20.44 ohm/km (FAA AC 43.13-1B CHG 1 table 11-9); diameters and conductivity of its insulation from memory.
NO_18 = HeatedWire(0.02044, 1.24, 1.68, 0.24)

# Wires, enclosing circle over wire diameter (published best packings), MIL-W-5088L bundling curve at 100 % load.
BUNDLING = [
    (2, 2.0, 0.825),
    (3, 2.1547, 0.725),
    (5, 2.7013, 0.61),
    (7, 3.0, 0.54),
    (12, 4.0296, 0.43),
    (19, 4.8637, 0.3425),
]


@pytest.mark.parametrize(("count", "packing", "printed"), BUNDLING)
def test_loaded_bundles_follow_the_published_curve(count: int, packing: float, printed: float) -> None:
    """MIL-W-5088L bundle derating, all wires loaded: within 8 % with a conductivity of 0.2 W/(m K) across the bundle.

    That conductivity is common practice, no source; 0.15 to 0.25 moves the result by up to 3 %.
    """
    alone = allowed_current_a(NO_18, 105.0, 50.0)
    found = allowed_current_in_bundle_a(NO_18, count, packing * 1.68, 105.0, 50.0)
    assert found / alone == pytest.approx(printed, rel=0.08)


WIRES = st.builds(
    lambda ohm, conductor, wall, conductivity: HeatedWire(ohm, conductor, conductor + 2 * wall, conductivity),
    st.floats(0.001, 0.2),
    st.floats(0.3, 4.0),
    st.floats(0.0, 1.0),
    st.floats(0.1, 0.5),
)
AMBIENTS = st.floats(-40.0, 120.0)
INSIDE = st.floats(0.05, 1.0)


@settings(deadline=None)
@given(WIRES, st.floats(0.0, 30.0), AMBIENTS, INSIDE)
def test_bundle_of_one_is_the_single_wire(wire: HeatedWire, current: float, ambient: float, inside: float) -> None:
    """One wire in a bundle of its own diameter has its own temperature, or none where it has none."""
    found = bundle_temperatures([wire], [current], wire.outside_diameter_mm, ambient, inside)
    alone = conductor_temperature_degc(wire, current, ambient)
    assert found.conductors_degc[0] == pytest.approx(alone, abs=1e-6)
    if math.isfinite(alone):
        allowed = allowed_current_in_bundle_a(wire, 1, wire.outside_diameter_mm, 105.0 + ambient, ambient, inside)
        assert allowed == pytest.approx(allowed_current_a(wire, 105.0 + ambient, ambient), rel=1e-9)


@settings(deadline=None)
@given(WIRES, st.integers(1, 40), st.floats(1.0, 3.0), AMBIENTS, st.floats(1.0, 150.0), INSIDE)
def test_allowed_current_and_temperatures_of_a_bundle_agree(
    wire: HeatedWire, count: int, room: float, ambient: float, rise: float, inside: float
) -> None:
    """Like wires with the current allowed for a temperature come to that temperature."""
    diameter = room * math.sqrt(count) * wire.outside_diameter_mm
    current = allowed_current_in_bundle_a(wire, count, diameter, ambient + rise, ambient, inside)
    found = bundle_temperatures([wire] * count, [current] * count, diameter, ambient, inside)
    assert found.conductors_degc == pytest.approx([ambient + rise] * count, abs=1e-6)


LOADED = st.lists(st.tuples(WIRES, st.floats(0.0, 6.0)), min_size=1, max_size=12)


@settings(deadline=None)
@given(LOADED, AMBIENTS, INSIDE)
def test_power_into_a_bundle_is_power_out(
    loaded: list[tuple[HeatedWire, float]], ambient: float, inside: float
) -> None:
    """Each wire makes the heat of its own temperature, and all of it leaves the surface; no wire is below ambient."""
    wires, currents = [each for each, _ in loaded], [each for _, each in loaded]
    diameter = 1.2 * math.hypot(*(each.outside_diameter_mm for each in wires))
    found = bundle_temperatures(wires, currents, diameter, ambient, inside)
    if math.isinf(found.surface_degc):
        assert all(math.isinf(each) for each in found.conductors_degc)
        return
    for wire, current, conductor, heat in zip(wires, currents, found.conductors_degc, found.heats_w_per_m, strict=True):
        assert heat == pytest.approx(wire.heat_made_w_per_m(current, conductor), rel=1e-9)
        assert conductor >= ambient - 1e-9
    assert found.heat_w_per_m == pytest.approx(math.fsum(found.heats_w_per_m), rel=1e-9)
    lost = heat_lost_w_per_m(found.surface_degc, ambient, diameter)
    assert lost == pytest.approx(found.heat_w_per_m, rel=1e-6, abs=1e-9)


def test_more_current_in_a_neighbour_warms_every_wire() -> None:
    """A dead wire takes the temperature of the middle, and rises with its neighbours' current."""
    cool = bundle_temperatures([NO_18] * 3, [0.0, 5.0, 5.0], 3.7, 40.0)
    warm = bundle_temperatures([NO_18] * 3, [0.0, 5.0, 8.0], 3.7, 40.0)
    assert all(before < after for before, after in zip(cool.conductors_degc, warm.conductors_degc, strict=True))
    assert cool.surface_degc < cool.conductors_degc[0] < cool.conductors_degc[1]


def test_bundle_that_melts_has_no_steady_state() -> None:
    """A current that no bundle stands gives infinite temperatures, whether it melts at once or runs away."""
    for current in (60.0, 1e4):
        found = bundle_temperatures([NO_18] * 7, [current] * 7, 5.04, 40.0)
        assert found.conductors_degc == (math.inf,) * 7
        with pytest.raises(ValueError, match="no steady temperature"):
            bundle_derivation("T", found, 0, [NO_18] * 7, 5.04, 40.0, 0.2)


@settings(deadline=None, max_examples=examples(30))
@given(st.lists(st.floats(0.0, 4.0), min_size=2, max_size=9), AMBIENTS)
def test_bundle_derivations_balance(currents: list[float], ambient: float) -> None:
    """The balances of every wire's temperature cancel."""
    wires, diameter = [NO_18] * len(currents), 1.2 * 1.68 * math.sqrt(len(currents)) + 1.0
    found = bundle_temperatures(wires, currents, diameter, ambient)
    for which in range(len(wires)):
        solved = bundle_derivation("T", found, which, wires, diameter, ambient, 0.2)
        assert solved.result == found.conductors_degc[which]
        for balance in solved.balances:
            largest = max(abs(value) for _, value in balance.terms)
            assert abs(balance.residual) <= 1e-7 * largest + 1e-9


def test_impossible_bundles_are_refused() -> None:
    """No wires, wrong counts, too thin an envelope, no conductivity and molten surroundings are refused."""
    with pytest.raises(ValueError, match="2 currents for 1 wires"):
        bundle_temperatures([NO_18], [1.0, 2.0], 3.0, 20.0)
    with pytest.raises(ValueError, match="at least one wire"):
        bundle_temperatures([], [], 3.0, 20.0)
    with pytest.raises(ValueError, match="thinner than a wire"):
        bundle_temperatures([NO_18], [1.0], 1.0, 20.0)
    with pytest.raises(ValueError, match="conductivity"):
        bundle_temperatures([NO_18], [1.0], 3.0, 20.0, 0.0)
    with pytest.raises(ValueError, match="molten"):
        bundle_temperatures([NO_18], [1.0], 3.0, 1100.0)
    with pytest.raises(ValueError, match="at least one wire"):
        allowed_current_in_bundle_a(NO_18, 0, 3.0, 105.0, 50.0)
    assert allowed_current_in_bundle_a(NO_18, 2, 4.0, 105.0, 120.0) == 0.0
