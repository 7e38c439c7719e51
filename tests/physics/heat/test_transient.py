"""Limited time: the adiabatic closed form for short times, the steady balance for long ones, energy in between."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.physics.heat.single_wire import HeatedWire, conductor_temperature_degc
from harnessgen.physics.heat.stretch import shared_heat
from harnessgen.physics.heat.transient import adiabatic_degc, energies, highest_degc, warmed
from tests.samples import examples

WIRE = HeatedWire(0.0247, 0.98, 1.9, 0.2)
"""0.75 mm2 at 24.7 ohm/km; diameters from memory."""

AREA_MM2 = 0.75

THICK = HeatedWire(0.00509, 2.3, 3.5, 0.2)
"""4 mm2 at 5.09 ohm/km; diameters from memory."""

THICK_MM2 = 4.0


def test_the_adiabatic_form_is_the_published_one() -> None:
    """ICEA P-32-382, (I/A)^2 t = 0.0297 log10((T2 + 234) / (T1 + 234)).

    10 AWG, 10380 circular mil, 1 s, 75 to 150 degC: 549.5 A. The constants of this form differ a little: 2 %.
    """
    area_mm2 = 10380 * 5.067e-4
    ohm_per_m = 1.7241e-8 / (area_mm2 * 1e-6)
    wire = HeatedWire(ohm_per_m, 2.6, 3.6, 0.2)
    assert adiabatic_degc(wire, area_mm2, 549.5, 75.0, 1.0) == pytest.approx(150.0, abs=0.02 * 75.0 + 1.0)


@pytest.mark.parametrize("lasts_s", [0.001, 0.005, 0.01])
def test_in_a_short_time_the_copper_keeps_its_heat(lasts_s: float) -> None:
    """After milliseconds the rise is the adiabatic one within 2 %, and never above it."""
    current = 500.0 / math.sqrt(lasts_s / 0.005)
    closed = adiabatic_degc(WIRE, AREA_MM2, current, 40.0, lasts_s) - 40.0
    (found,) = warmed([WIRE], [AREA_MM2], [current], [40.0], lasts_s, None, 40.0).conductors_degc
    assert closed > 5.0
    assert found - 40.0 == pytest.approx(closed, rel=0.02)
    assert found - 40.0 <= closed * 1.0005


@settings(deadline=None, max_examples=examples(40))
@given(st.floats(1.0, 15.0), st.integers(1, 12), st.floats(0.0, 100.0))
def test_in_a_long_time_it_is_the_steady_balance(current: float, count: int, ambient: float) -> None:
    """After a day a bundle has its steady temperatures, from wherever it started; or it has none either way."""
    wires, currents = [WIRE] * count, [current] * count
    steady = shared_heat(wires, currents, None, ambient)
    after = warmed(wires, [AREA_MM2] * count, currents, [ambient + 10.0] * count, 86400.0, None, ambient)
    if math.isinf(steady.hottest_degc):
        assert after.hottest_degc > 400.0
    else:
        assert after.hottest_degc == pytest.approx(steady.hottest_degc, abs=0.05)


def test_against_a_fine_integration_of_one_wire() -> None:
    """A wire of two masses by explicit steps of a tenth of a millisecond, written apart: within 0.5 % of the rise."""
    from harnessgen.physics.heat.single_wire import heat_lost_w_per_m

    copper, rubber = 3.45e6 * 0.75e-6, 1.7e6 * math.pi / 4.0 * (1.9**2 - 0.98**2) * 1e-6
    half, current, ambient = WIRE.insulation_k_m_per_w / 2.0, 40.0, 40.0
    inner = outer = surface = ambient
    step, found = 1e-3, {}
    for number in range(1, 20001):
        made = WIRE.heat_made_w_per_m(current, inner)
        # The surface has no mass: it gives what reaches it.
        for _ in range(2):
            lost = heat_lost_w_per_m(surface, ambient, 1.9) if surface > ambient else 0.0
            slope = lost / (surface - ambient) if surface > ambient else 0.05
            surface = (outer / half + slope * ambient) / (1.0 / half + slope)
        across, away = (inner - outer) / half, (outer - surface) / half
        inner += step * (made - across) / copper
        outer += step * (across - away) / rubber
        if number in (1000, 5000, 20000):
            found[number * step] = inner
    for lasts_s, degc in found.items():
        (mine,) = warmed([WIRE], [AREA_MM2], [current], [ambient], lasts_s, None, ambient).conductors_degc
        assert mine - ambient == pytest.approx(degc - ambient, rel=0.005)


@settings(deadline=None, max_examples=examples(40))
@given(st.lists(st.floats(0.5, 12.0), min_size=1, max_size=8), st.floats(0.05, 3000.0), st.floats(0.0, 90.0))
def test_energy_made_is_stored_or_lost(currents: list[float], lasts_s: float, ambient: float) -> None:
    """Over any time the energies of a bundle balance."""
    count = len(currents)
    starts = [ambient + 5.0 * index for index in range(count)]
    found = warmed([WIRE] * count, [AREA_MM2] * count, currents, starts, lasts_s, None, ambient)
    if math.isinf(found.hottest_degc):
        return
    made, stored, lost = energies(
        [WIRE] * count, [AREA_MM2] * count, currents, starts, lasts_s, found.deciding, None, ambient
    )
    assert made == pytest.approx(stored + lost, rel=1e-6, abs=1e-6)


def test_warmth_rises_with_time_and_stays_below_the_steady_one() -> None:
    """A stalled motor's feed: hotter by the second, never above its steady temperature."""
    steady = conductor_temperature_degc(WIRE, 14.0, 40.0)
    times = (0.1, 1.0, 5.0, 30.0, 120.0, 600.0)
    found = [warmed([WIRE], [AREA_MM2], [14.0], [40.0], each, None, 40.0).hottest_degc for each in times]
    assert found == sorted(found)
    assert found[-1] <= steady + 0.01


def test_what_melts_on_the_way_has_no_temperature() -> None:
    """A short's current for a minute leaves nothing."""
    assert math.isinf(warmed([WIRE], [AREA_MM2], [400.0], [40.0], 60.0, None, 40.0).hottest_degc)
    with pytest.raises(ValueError, match="melts on the way"):
        energies([WIRE], [AREA_MM2], [400.0], [40.0], 60.0, [0], None, 40.0)


@settings(deadline=None, max_examples=examples(150))
@given(
    st.lists(st.tuples(st.floats(0.0, 150.0), st.sampled_from([WIRE, THICK]), st.floats(0.0, 60.0)), min_size=1),
    st.floats(1e-3, 30.0),
    st.floats(0.0, 80.0),
)
def test_nothing_gets_hotter_than_the_bound(
    wires: list[tuple[float, HeatedWire, float]], lasts_s: float, ambient: float
) -> None:
    """Whatever the bundle, its currents, where its wires start and how long it lasts."""
    currents, bodies, above = (list(each) for each in zip(*wires, strict=True))
    areas = [AREA_MM2 if body is WIRE else THICK_MM2 for body in bodies]
    starts = [ambient + each for each in above]
    bound = highest_degc(bodies, areas, currents, starts, lasts_s)
    found = warmed(bodies, areas, currents, starts, lasts_s, None, ambient)
    if bound < 200.0:
        assert found.hottest_degc <= bound + 1e-9
        assert found.inner_degc <= bound + 1e-9
