"""Loads that lose too much of their supply's volts: the numbers, the wire to blame, and the limit per circuit."""

import pytest

from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading import excess_drop
from tests.line import physics_of, underlined
from tests.physics.small_designs import BANK, LOADS, changed

LAMP = """\
format: 2
harness: {title: Work lamp, number: WL-1, revision: A}
route: {battery: {block: 300 mm, boom: 12 m}}
supplies: {BAT: {voltage: 13.5 V, at: battery}}
grounds: {G1: {at: block}}
fuses: {F1: {rating: 7.5 A, at: battery}}
loads: {H1: {title: boom lamp, kind: lamp, power: 55 W, at: boom}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 2.5 mm2}
  11: {from: F1, to: H1/1, color: RD, size: 0.75 mm2}
  90: {from: H1/2, to: G1, color: BK, size: 2.5 mm2}
states: {lit: {title: lamp on}}
"""
MENDED = changed(LAMP, ("0.75 mm2", "1.5 mm2"))


def lamp_loss(physics: Physics) -> float:
    """Volts that the wires of the lamp take, from node voltages alone."""
    volts = physics.point_in("lit", Case.WEAK).volts
    return volts["BAT"] - volts["H1/1"] + volts["H1/2"] - volts["G1"]


def test_the_numbers_are_those_of_the_node_voltages() -> None:
    """What is lost out and back, held against a tenth of the volts at the supply's terminal."""
    physics = physics_of(LAMP)
    (finding,) = excess_drop.check(physics)
    loses, allowed = finding.numbers
    assert loses.value == pytest.approx(lamp_loss(physics), rel=1e-9)
    assert allowed.value == pytest.approx(1.35, rel=1e-9)
    assert underlined(LAMP, finding) == "0.75 mm2"
    assert "(boom lamp)" in finding.message
    assert [each.text for each in finding.proposals] == ["1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2"]


def test_just_below_the_limit_is_silent() -> None:
    """The limit set a hair above the loss leaves nothing to tell, a hair below it tells."""
    loss = lamp_loss(physics_of(LAMP)) / 13.5
    above, below = (
        excess_drop.check(physics_of(f"{LAMP}limits: {{drop: {100 * loss + by:.4f} %}}\n")) for by in (0.01, -0.01)
    )
    assert above == []
    assert len(below) == 1


def test_a_circuit_has_a_limit_of_its_own() -> None:
    """A limit on the circuit at the load holds in place of the design's."""
    strict = changed(MENDED, ("size: 1.5 mm2}", "size: 1.5 mm2, limits: {drop: 3 %}}"))
    assert excess_drop.check(physics_of(MENDED)) == []
    (finding,) = excess_drop.check(physics_of(strict))
    assert finding.numbers[1].value == pytest.approx(0.405)
    assert "set in the design" in finding.numbers[1].source


def test_a_moment_is_not_judged() -> None:
    """Held motors and cold lamps pull the volts down for a moment; only the lasting states are held to the limit."""
    thin = changed(LOADS, ("F1, color: RD, size: 4 mm2", "F1, color: RD, size: 6 mm2"))
    found = excess_drop.check(physics_of(thin))
    assert found
    assert all("stalled" not in each.numbers[0].source and "switch-on" not in each.numbers[0].source for each in found)


def test_a_driver_is_no_part_of_the_harness() -> None:
    """A driver of two ohms takes volts that no wire could bring back: the rule says nothing."""
    assert excess_drop.check(physics_of(changed(BANK, ("resistance: 100 mohm", "resistance: 2 ohm")))) == []


def test_a_state_with_a_short_is_left_out() -> None:
    """Its voltages are the short's."""
    short = changed(LAMP, ("states:", "  12: {from: BAT, to: G1, color: BK, size: 2.5 mm2}\nstates:"))
    assert excess_drop.check(physics_of(short)) == []
