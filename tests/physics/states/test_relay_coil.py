"""Relays at their weakest, and what sits across coils."""

import pytest

from harnessgen.physics.states.relay_coil import CoilFault, PullIn
from tests.line import physics_of
from tests.physics.small_designs import BANK, changed


def pull_in_of(text: str) -> PullIn:
    (found,) = physics_of(text).pull_ins["steady"]
    return found


HOT = changed(BANK, ("relay: 200 mm", "relay: {length: 200 mm, zone: bay}"))


def test_a_relay_in_the_cool_closes_at_the_stated_supply() -> None:
    """At 40 degC it needs 8.63 V (arithmetic), and 13.8 V less a few millivolts of wire are plenty."""
    found = pull_in_of(BANK)
    assert found.needs.result == pytest.approx(8.0 * 274.5 / 254.5, rel=1e-12)
    assert found.margin_v > 4.0
    assert found.gets_v == found.drop.across_v


def test_a_hot_coil_at_cranking_supply_may_stay_open() -> None:
    """At 90 degC it needs 10.20 V, and cranking leaves less than 8 V (ISO 16750-2, from memory)."""
    found = pull_in_of(changed(HOT, ("steady: {on: [SW1, Q1]}", "steady: {on: [SW1, Q1], supply: cranking}")))
    assert found.needs.result == pytest.approx(10.200, abs=1e-3)
    assert found.gets_v < 8.0
    assert found.margin_v < 0.0


def test_a_relay_that_is_not_fed_is_not_meant_to_close() -> None:
    """With the switch off nothing is listed."""
    text = changed(BANK, ("[SW1, Q1], speed: 6000 rpm, pulse: {Q1: {width: 12 ms}}", "Q1"), ("[SW1, Q1]", "Q1"))
    assert physics_of(text).pull_ins["steady"] == ()


RELAY = "part: plug-in-make"


def test_nothing_is_concluded_where_nobody_says() -> None:
    """A relay and injectors without a word on suppression raise no doubt."""
    assert physics_of(BANK).coil_faults == ()


@pytest.mark.parametrize("suppression", ["diode", "{kind: diode, cathode: 86}", "resistor"])
def test_what_takes_the_current_over_is_right(suppression: str) -> None:
    """A diode with its cathode at the fed terminal, or a resistor, is as it should be."""
    text = changed(BANK, (RELAY, f"{RELAY}, suppression: {suppression}"))
    assert physics_of(text).coil_faults == ()


def test_a_diode_the_wrong_way_round_is_found() -> None:
    """With its cathode at 85, which goes to ground, it conducts while the coil is fed."""
    text = changed(BANK, (RELAY, f"{RELAY}, suppression: {{kind: diode, cathode: 85}}"))
    (found,) = physics_of(text).coil_faults
    assert (found.element, found.fault, found.state) == ("K1 coil", CoilFault.REVERSED, "steady")


def test_a_coil_fed_the_other_way_round_makes_its_diode_wrong() -> None:
    """A relay with a diode, wired with 85 to the supply and 86 to ground: the diode that was right shorts it."""
    text = changed(
        BANK,
        (RELAY, f"{RELAY}, suppression: diode"),
        ("to: K1/86", "to: K1/X"),
        ("from: K1/85", "from: K1/86"),
        ("to: K1/X", "to: K1/85"),
    )
    assert [each.fault for each in physics_of(text).coil_faults] == [CoilFault.REVERSED]


def test_a_coil_with_nothing_across_it_is_found() -> None:
    """A relay whose design says that nothing sits across its coil, opened by the switch."""
    (found,) = physics_of(changed(BANK, (RELAY, f"{RELAY}, suppression: none"))).coil_faults
    assert (found.element, found.fault, found.opened_by) == ("K1 coil", CoilFault.ABSENT, "SW1")


def test_a_driver_that_states_its_clamp_takes_the_current() -> None:
    """Injectors without suppression on an output with a clamp are right, on one that states none they are not."""
    bare = changed(BANK, ("flow-match: 2 %", "suppression: none"))
    assert physics_of(bare).coil_faults == ()
    found = physics_of(changed(bare, (" clamp: 50 V,", ""))).coil_faults
    assert [(each.element, each.opened_by) for each in found] == [("INJ1", "Q1"), ("INJ2", "Q1"), ("INJ3", "Q1")]
