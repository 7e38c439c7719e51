"""Lifting a part away at its disconnect: the slack that it takes, and what else ties the sections together."""

import math

import pytest

from harnessgen.lengths.lift import LiftCheck, lift_checks, ties
from harnessgen.physics.physics import Physics
from tests.line import physics_of

PLENUM = """\
format: 2
harness: {title: Plenum harness, number: PL-1, revision: A}
route:
  battery: {block: 300, c10: {length: 400, slack: 30}}
  c10: {b1: {length: 120, movement: 10}}
  b1: {v1: {length: 160, slack: 25}, v2: 140, c20: 90}
  c20: {v3: 70}
disconnects:
  C10: {part: sealed-4, at: c10, socket-side: battery, lift: {travel: 60 mm}}
  C20: {part: sealed-2, at: c20, socket-side: b1}
connectors: {C1: {part: sealed-2, at: v1}}
supplies: {BAT: {voltage: 13.5 V, resistance: 10 mohm, at: battery}}
grounds: {G1: {at: block}}
fuses: {F1: {rating: 10 A, at: battery}}
loads: {V1: {resistance: 12 ohm, connector: C1}, V3: {resistance: 12 ohm, at: v3}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 1.5 mm2}
  11: {from: F1, to: V1/1, through: C10/1, color: RD, size: 1.5 mm2}
  12: {from: F1, to: V3/1, through: [C10/3, C20/1], color: RD, size: 1.5 mm2}
  90: {from: V1/2, to: G1, through: C10/2, color: BK, size: 1.5 mm2}
  91: {from: V3/2, to: G1, through: [C10/4, C20/2], color: BK, size: 1.5 mm2}
states: {running: {on: []}}
"""


def changed(*changes: tuple[str, str]) -> Physics:
    text = PLENUM
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return physics_of(text)


def lift_of(*changes: tuple[str, str]) -> LiftCheck:
    (lift,) = lift_checks(changed(*changes).network)
    return lift


def tied(*changes: tuple[str, str]) -> list[tuple[str, str]]:
    """What ties the lifted section: the thing, and the wire that ends there."""
    physics = changed(*changes)
    return [(tie.thing, tie.wire.mark) for tie in ties(physics.network, physics.network.design.disconnects["C10"])]


TRAVEL = "lift: {travel: 60 mm}"


def test_along_the_bundle_the_travel_is_taken_whole() -> None:
    """60 mm of travel and 20 mm to part the halves, against 30 and 10 mm of slack between the next points."""
    lift = lift_of()
    assert (lift.slack_mm, lift.loose_mm, lift.needed_mm, lift.margin_mm) == (40, 520, 80, -40)


def test_across_the_bundle_it_is_the_hypotenuse() -> None:
    """520 mm between the fixings, lifted square to them by 60 mm."""
    lift = lift_of((TRAVEL, "lift: {travel: 60 mm, direction: across}"))
    assert lift.needed_mm == pytest.approx(math.hypot(520, 60) - 520 + 20)
    assert lift.margin_mm > 0
    assert lift.derivation_of_lift.again() == lift.lifted_mm


def test_fixings_further_out_free_more_bundle() -> None:
    """Of the cavities the one with least slack decides: the way to v1 has 25 mm more, the one beyond C20 none."""
    fixed = "lift: {travel: 60 mm, fixed: [battery, v1, v2]}"
    lift = lift_of((TRAVEL, fixed))
    assert (lift.slack_mm, lift.cavity in "34") == (40, True)
    without = changed((TRAVEL, fixed), ("c20: 90}", "c20: {length: 90, slack: 50}}"))
    (other,) = lift_checks(without.network)
    assert (other.slack_mm, other.cavity in "12") == (65, True)


def test_the_stroke_is_a_limit_and_the_travel_may_have_a_tolerance() -> None:
    """The part may have to be lifted further than usual."""
    lift = lift_of((TRAVEL, "lift: 60 +/- 5 mm"), ("states:", "limits: {parting-stroke: 12 mm}\nstates:"))
    assert lift.needed_mm == 77


def test_a_harness_that_only_meets_at_its_disconnect_is_free() -> None:
    """The section beyond C20 comes away with the one that it hangs on."""
    assert tied() == []


def test_a_ground_point_on_the_lifted_side_is_a_tie_unless_it_comes() -> None:
    """A ring terminal under a bolt holds the section, except where the bolt is on the part."""
    ground = ("grounds: {G1: {at: block}}", "grounds: {G1: {at: block}, G2: {at: v2}}")
    wire = ("to: G1, through: C10/2,", "to: G2,")
    assert tied(ground, wire) == [("G2", "90A")]
    assert tied(ground, wire, (TRAVEL, "lift: {travel: 60 mm, comes: G2}")) == []


def test_a_tie_is_found_in_a_section_that_hangs_on_the_lifted_one() -> None:
    """The part carries what is mated to its harness further out; a ground point there holds as well."""
    ground = ("grounds: {G1: {at: block}}", "grounds: {G1: {at: block}, G2: {at: v3}}")
    assert tied(ground, ("to: G1, through: [C10/4, C20/2],", "to: G2,")) == [("G2", "91A")]


def test_what_is_said_to_stay_is_a_tie() -> None:
    """A load or a connector of the lifted section that sits on what stays."""
    assert tied((TRAVEL, "lift: {travel: 60 mm, stays: C1}")) == [("C1", "11B")]
    assert tied((TRAVEL, "lift: {travel: 60 mm, stays: [V3]}")) == [("V3", "12C")]


def test_the_other_half_can_be_the_one_that_comes() -> None:
    """Lifted by its socket side, supply and ground are what holds it."""
    found = tied((TRAVEL, "lift: {travel: 60 mm, half: sockets}"))
    assert [thing for thing, _ in found] == ["BAT", "G1"]


def test_a_device_served_from_both_sides_is_a_tie() -> None:
    """A load with one connector on either side of the disconnect is plugged into both."""
    both = (
        "V1: {resistance: 12 ohm, connector: C1}",
        "V1: {resistance: 12 ohm, terminals: {1: C1/1, 2: C2/1}}",
    )
    other = (
        "connectors: {C1: {part: sealed-2, at: v1}}",
        "connectors: {C1: {part: sealed-2, at: v1}, C2: {part: sealed-2, at: block}}",
    )
    assert tied(both, other, ("to: G1, through: C10/2,", "to: G1,")) == [("V1", "11B")]


def test_without_a_lift_nothing_is_asked() -> None:
    """A disconnect that serves no part that is lifted has no check."""
    physics = changed((", " + TRAVEL, ""))
    assert list(lift_checks(physics.network)) == []
    assert ties(physics.network, physics.network.design.disconnects["C10"]) == []
