"""Relays that may stay open, diodes the wrong way round, coils with nothing across them: what each rule tells."""

import pytest

from harnessgen.rules.loading import reversed_diode, unsuppressed_coil, weak_pull_in
from tests.line import FLAT_SIX, physics_of, told, underlined
from tests.physics.small_designs import BANK, changed

HOT = changed(BANK, ("relay: 200 mm", "relay: {length: 200 mm, zone: bay}"))
RELAY = "part: plug-in-make"


@pytest.mark.parametrize(("volts", "is_told"), [("9.5 V", True), ("10.15 V", True), ("10.35 V", False)])
def test_a_hot_relay_needs_ten_volts(volts: str, is_told: bool) -> None:
    """At 90 degC a relay of 8 V needs 10.20 V (arithmetic); a few hundredths are lost in wires."""
    text = changed(HOT, ("steady: {on: [SW1, Q1]}", f"steady: {{on: [SW1, Q1], voltage: {{BAT: {volts}}}}}"))
    found = weak_pull_in.check(physics_of(text))
    assert bool(found) is is_told
    for finding in found:
        gets, needs = finding.numbers
        assert underlined(text, finding) == "plug-in-make"
        assert needs.value == pytest.approx(10.200, abs=1e-3)
        assert gets.value < needs.value
        assert "90 degC" in needs.source


def test_the_state_that_leaves_least_is_named() -> None:
    """Of two weak states the weaker one is told, and only once."""
    text = changed(
        HOT,
        (
            "steady: {on: [SW1, Q1]}",
            "steady: {on: [SW1, Q1], voltage: {BAT: 9.5 V}}\n  weaker: {on: [SW1, Q1], supply: cranking}",
        ),
    )
    (finding,) = weak_pull_in.check(physics_of(text))
    assert finding.message == "K1 may stay open in state weaker."


def test_relays_at_their_stated_supply_are_silent() -> None:
    """The shipped design and the bank have volts to spare."""
    assert weak_pull_in.check(physics_of(FLAT_SIX)) == []
    assert weak_pull_in.check(physics_of(HOT)) == []


def test_a_reversed_diode_is_one_finding_at_its_cathode() -> None:
    """The rules on currents and volts do not judge what is the diode's short; the relay's load stays dead."""
    text = changed(BANK, (RELAY, f"{RELAY}, suppression: {{kind: diode, cathode: 85}}"))
    (finding,) = reversed_diode.check(physics_of(text))
    assert underlined(text, finding) == "85"
    assert finding.message == "The diode across K1 has its cathode at 85, and 86 is fed: it shorts the coil."
    assert finding.numbers[0].value > 50.0
    added = {rule for rule, _, _ in told(text)} - {rule for rule, _, _ in told(BANK)}
    assert added <= {"reversed-diode", "open-circuit"}


def test_a_diode_that_comes_with_the_family_is_told_at_the_family() -> None:
    """A relay whose family has the diode, wired the other way round: the family's name is underlined."""
    figures = "contacts: make, coil: 90 ohm, pull-in: 8 V, contact: 5 mohm, current: 30 A, suppression: diode"
    family = f"  relays: {{with-diode: {{title: relay with diode, {figures}}}}}\n"
    text = changed(
        BANK,
        (RELAY, "part: with-diode"),
        ("parts:\n", "parts:\n" + family),
        ("to: K1/86", "to: K1/X"),
        ("from: K1/85", "from: K1/86"),
        ("to: K1/X", "to: K1/85"),
    )
    (finding,) = reversed_diode.check(physics_of(text))
    assert underlined(text, finding) == "with-diode"
    assert "cathode at 86, and 85 is fed" in finding.message


def test_a_bare_coil_is_told_at_the_word_that_says_so() -> None:
    """`suppression: none` on a relay that a switch opens."""
    text = changed(BANK, (RELAY, f"{RELAY}, suppression: none"))
    (finding,) = unsuppressed_coil.check(physics_of(text))
    assert underlined(text, finding) == "none"
    assert finding.message == "Nothing takes the current of K1 over when SW1 opens."
    assert reversed_diode.check(physics_of(text)) == []


@pytest.mark.parametrize("suppression", ["diode", "resistor"])
def test_a_suppressed_coil_is_silent(suppression: str) -> None:
    """With a diode the right way round or a resistor neither rule speaks."""
    physics = physics_of(changed(BANK, (RELAY, f"{RELAY}, suppression: {suppression}")))
    assert unsuppressed_coil.check(physics) == reversed_diode.check(physics) == []
