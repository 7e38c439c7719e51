"""Loads as they are: where a resistance comes from, evaluated again; temperature where a device sits; inrush."""

import pytest

from harnessgen.design.records.device import Load
from harnessgen.design.records.state import State
from harnessgen.measures.quantity import Quantity
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.loads.model import (
    case_degc,
    device_degc,
    load_resistance,
    stated_resistance,
)
from harnessgen.physics.states.conditions import pull_in, supply_range
from tests.line import FLAT_SIX, physics_of
from tests.physics.small_designs import BANK, LOADS, changed


@pytest.mark.parametrize("case", Case)
@pytest.mark.parametrize("text", [BANK, LOADS, FLAT_SIX], ids=["bank", "loads", "flat six"])
def test_a_resistance_is_its_derivation_evaluated_again(text: str, case: Case) -> None:
    """Every load in every state: formula and inputs give the ohms that the solver used."""
    physics = physics_of(text)
    network = physics.network
    for name, state in network.design.states.items():
        used = physics.conditions_in(name, case).ohms
        for load in network.design.loads.values():
            found = load_resistance(network, load, case, state)
            assert found.derivation.again() == pytest.approx(found.result_ohm, rel=1e-12)
            assert used[load.name] == pytest.approx(found.result_ohm, rel=1e-12)


def test_a_coil_is_as_hot_as_its_zone() -> None:
    """Behind a connector in a zone of 90 degC a coil has 90 degC; a relay in no zone the limit's 40 degC."""
    network = physics_of(BANK).network
    assert device_degc(network, network.design.loads["INJ2"]) == 90.0
    assert case_degc(network, network.design.loads["INJ2"], Case.WEAK) == 90.0
    assert case_degc(network, network.design.loads["INJ2"], Case.STRONG) == 20.0
    assert device_degc(network, network.design.relays["K1"]) == 40.0


def test_a_zone_that_is_never_warm_keeps_its_coils_cold() -> None:
    """Where the zone lies below the limit for cold coils, the zone decides."""
    network = physics_of(changed(BANK, ("bay: 90 degC", "bay: 5 degC"))).network
    assert case_degc(network, network.design.loads["INJ1"], Case.STRONG) == 5.0


def test_a_power_with_a_tolerance_gives_a_resistance_with_one() -> None:
    """13.5 V and 60 W +/- 10 % are 3.04 ohm, from 2.76 to 3.38 (arithmetic)."""
    network = physics_of(LOADS).network
    load = Load(name="X", power_w=Quantity(60.0, 6.0, 6.0))
    ohm = stated_resistance(network, load)
    assert (ohm.value, ohm.lowest, ohm.highest) == pytest.approx((182.25 / 60, 182.25 / 66, 182.25 / 54))
    current = stated_resistance(network, Load(name="X", current_a=Quantity(2.0)))
    assert (current.value, current.plus, current.minus) == (6.75, 0.0, 0.0)


def test_a_cold_lamp_and_a_held_motor_take_their_inrush() -> None:
    """A lamp a tenth of its resistance, a motor its stall."""
    network = physics_of(LOADS).network
    at_once = State(stalled=("M1", "M2"), cold=("H1",))
    loads = network.design.loads
    inrush = {
        name: load_resistance(network, loads[name], Case.STRONG, at_once).result_ohm for name in ("M1", "M2", "H1")
    }
    assert inrush == pytest.approx({"M1": 0.4, "M2": 182.25 / 60 / 4, "H1": 182.25 / 55 / 10}, rel=1e-12)


def test_the_families_own_figures_come_before_the_usual_rise() -> None:
    """A packaged lamp states its cold resistance, and that is taken."""
    network = physics_of(changed(LOADS, ("H1: {kind: lamp, power: 55 W,", "H1: {part: lamp-21,"))).network
    family = network.parts.loads["lamp-21"]
    assert family.cold_ohm is not None
    found = load_resistance(network, network.design.loads["H1"], Case.STATED, State(cold=("H1",)))
    assert found.result_ohm == family.cold_ohm.value
    assert found.source == family.publication


def test_a_hot_relay_needs_more_volts() -> None:
    """8 V at 20 degC are 10.20 V at 90 degC (arithmetic): a coil closes by its current, and copper's ohms rise."""
    network = physics_of(changed(BANK, ("relay: 200 mm", "relay: {length: 200 mm, zone: bay}"))).network
    relay = network.design.relays["K1"]
    assert pull_in(network, relay, Case.STATED).result == 8.0
    assert pull_in(network, relay, Case.WEAK).result == pytest.approx(8.0 * 324.5 / 254.5, rel=1e-12)
    assert pull_in(network, relay, Case.WEAK).again() == pull_in(network, relay, Case.WEAK).result


def test_a_range_says_where_it_comes_from() -> None:
    """A condition names its standard and that it is from memory; a voltage of the state names its place in the file."""
    design = physics_of(LOADS).network.design
    supply = design.supplies["BAT"]
    cranking = supply_range(design, supply, design.states["cranking"])
    assert str(cranking.source).startswith("ISO 16750-2:2012")
    assert "from memory" in str(cranking.source)
    assert "set in the design" in str(supply_range(design, supply, design.states["charging"]).source)
    assert "set in the design" in str(supply_range(design, supply, None).source)
