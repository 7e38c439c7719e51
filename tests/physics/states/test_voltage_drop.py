"""Volts at loads: feed and return apart, and all of the loop accounted for."""

import pytest

from harnessgen.physics.electrical.conditions import Case
from tests.line import FLAT_SIX, physics_of
from tests.physics.small_designs import BANK, LOADS

TEXTS = {"bank": BANK, "loads": LOADS, "flat six": FLAT_SIX}

# 100 ft of 16 AWG one way at 4.99 ohm/1000 ft, with a load that draws 4 A at 24 V: worked example 15 (training text
# using NEC chapter 9 table 8, seen); printed 4.0 V, recomputed 3.992 V.
BRANCH = """\
format: 2
harness: {title: Two-wire branch, number: W-15, revision: A, wire: nec-16, terminal: bare}
units: {length: ft, size: AWG}
zones: {warm: 20 degC}
route: {panel: {lamp: {length: 100, zone: warm}}}
supplies: {BAT: {voltage: 24 V, at: panel}}
grounds: {G1: {at: panel}}
loads: {X1: {current: 4 A, at-voltage: 20 V, keeps: current, at: lamp}}
circuits:
  1: {from: BAT, to: X1/1, color: RD, size: 16}
  2: {from: G1, to: X1/2, color: BK, size: 16}
parts:
  contacts:
    bare: {title: joint without resistance, from: 0.3 mm2, to: 6 mm2, current: 20 A, rating: 90 degC,
           resistance: 0.000001 ohm, strip: 5 mm}
  wires:
    nec-16:
      title: stranded uncoated copper
      system: AWG
      rating: 90 degC
      source: NEC chapter 9 table 8, 4.99 ohm/1000 ft
      sizes: {16: {area: 1.31 mm2, resistance: 16.3714 mohm/m, diameter: 3 mm}}
states: {on: {title: on}}
"""


@pytest.mark.parametrize("case", Case)
@pytest.mark.parametrize("name", TEXTS)
def test_the_volts_of_a_loop_add_up(name: str, case: Case) -> None:
    """Supply less what it loses inside, less feed, less return, is what the load has across it, without residual."""
    physics = physics_of(TEXTS[name])
    for state in physics.network.design.states:
        for drop in physics.drops_in(state, case):
            assert abs(drop.derivation.balances[0].residual) < 1e-9
            assert drop.derivation.result == pytest.approx(drop.across_v)
            assert drop.across_v == pytest.approx(drop.supply_v - drop.feed_v - drop.return_v, abs=1e-9)
            for side, volts in (("feed", drop.feed_v), ("return", drop.return_v)):
                assert drop.path_derivation(side).again() == pytest.approx(volts, rel=1e-12)


def test_every_load_with_current_is_listed() -> None:
    """Loads and coils that carry current are there, with the volts that the operating point has across them."""
    physics = physics_of(BANK)
    point = physics.point_in("steady", Case.WEAK)
    drops = {each.load: each for each in physics.drops_in("steady")}
    elements = {each.name: each for each in physics.network.electrical.elements}
    assert list(drops) == ["K1 coil", "INJ1", "INJ2", "INJ3"]
    for name, drop in drops.items():
        assert drop.across_v == pytest.approx(abs(point.across(elements[name])), rel=1e-12)
        assert drop.current_a == pytest.approx(abs(point.amperes[name]), rel=1e-12)


def test_the_way_there_and_back_is_named_part_by_part() -> None:
    """From the supply's terminal over fuse, relay and splice to the injector, and back through the driver to ground."""
    drop = next(each for each in physics_of(BANK).drops_in("steady") if each.load == "INJ2")
    assert [part.element for part in drop.feed] == ["20A", "20B", "F1", "22A", "K1 30-87", "30A", "30C", "C22/1"]
    assert [part.element for part in drop.return_] == ["C22/2", "31C", "31A", "C1/14", "Q1", "C1/1", "90A", "G1"]
    assert drop.title == "cylinder 2"
    devices = [part for part in (*drop.feed, *drop.return_) if not part.is_wiring]
    assert [part.element for part in devices] == ["F1", "K1 30-87", "Q1", "G1"]


def test_a_side_has_to_be_feed_or_return() -> None:
    """Another word is refused."""
    drop = physics_of(BANK).drops_in("steady")[0]
    with pytest.raises(ValueError, match="no sideways"):
        drop.path_derivation("sideways")


def test_a_two_wire_branch_has_the_published_drop() -> None:
    """Worked example 15 (training text using NEC chapter 9 table 8, seen): 4 A in 100 ft of 16 AWG lose 3.992 V."""
    (drop,) = physics_of(BRANCH).drops_in("on", Case.STATED)
    assert drop.lost_v == pytest.approx(3.992, rel=2e-4)
    assert drop.feed_v == pytest.approx(drop.return_v, rel=1e-6)


def test_a_state_without_current_lists_nothing() -> None:
    """A design that is parked has no drops."""
    assert physics_of(FLAT_SIX).drops_in("parked") == ()
