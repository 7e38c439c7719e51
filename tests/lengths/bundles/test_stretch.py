"""Bundles of stretches: room in coverings, bend radius, lay-up and mass, against published figures and geometry."""

import math

import pytest

from harnessgen.lengths.bundles.bend_radius import least_radius
from harnessgen.lengths.bundles.lay_up import lay_up
from harnessgen.lengths.bundles.stretch import (
    StretchBundle,
    copper_g_per_m,
    covering_g_per_m,
    insulation_g_per_m,
    room_of,
    stretch_bundles,
)
from harnessgen.physics.physics import Physics
from tests.line import FLAT_SIX, edited, physics_of


def bundle_of(physics: Physics, name: str) -> StretchBundle:
    return next(each for each in stretch_bundles(physics.network) if each.name == name)


def test_a_conduit_is_a_quarter_wider_than_its_bundle() -> None:
    """FAA AC 43.13-1B CHG 1, 11-249: about 25 % larger; four equal wires of 1.9 mm are 2.414214 * 1.9 mm thick."""
    physics = physics_of(FLAT_SIX)
    room = room_of(physics.network, bundle_of(physics, "fusebox to c10"))
    assert room.needed_mm == pytest.approx(1.25 * 2.414214 * 1.9, abs=1e-5)
    assert room.derivation.result == pytest.approx(room.needed_mm)
    assert not room.is_at_splice


def test_the_joint_beside_its_wires_has_to_go_in() -> None:
    """At S5 the barrel of 5.5 mm lies beside the three wires that pass it: 1.2 sqrt(5.5^2 + ...) by the rule."""
    physics = physics_of(FLAT_SIX)
    bundle = bundle_of(physics, "fusebox to relay")
    joined = {wire.mark for wire in physics.network.wires_at["S5"]}
    legs = [leg for leg in physics.network.route.legs if leg.name == "fusebox to relay"]
    past = {
        wire.mark: wire.figures.diameter_mm.value
        for leg in legs
        for wire in physics.network.wires_by_leg[leg.start, leg.end]
        if wire.mark not in joined
    }
    by_rule = 1.2 * math.sqrt(5.5**2 + math.fsum(each**2 for each in past.values()))
    assert bundle.splice == "S5"
    assert bundle.splice_mm == pytest.approx(max(by_rule, 5.5 + max(past.values())))


def test_a_splice_can_decide() -> None:
    """With a room of 1 the bundle would go in with ease; the splice on it does not."""
    old = "relay: {length: 110, covering: conduit-13}"
    text = edited((old, old.replace("13", "7")), ("states:", "limits: {covering-room: 1}\nstates:"))
    physics = physics_of(text)
    room = room_of(physics.network, bundle_of(physics, "fusebox to relay"))
    assert room.is_at_splice
    assert room.needed_mm > 7.0 > bundle_of(physics, "fusebox to relay").diameter.largest_mm


def test_fill_is_the_share_of_the_sections() -> None:
    """Four wires of 1.9 mm in 10 mm: 4 * 1.9^2 / 10^2."""
    assert bundle_of(physics_of(FLAT_SIX), "fusebox to c10").fill == pytest.approx(4 * 1.9**2 / 100.0)


def test_a_bend_is_ten_times_the_thickest_wire() -> None:
    """FAA AC 43.13-1B CHG 1, 11-96: 10 times the outside diameter of the largest wire; 3 times where it is held."""
    old = "c10: {length: 910 +/- 10,"
    held = edited((old, f"{old} bends: [90 deg, {{angle: 90 deg, held: yes}}],"))
    physics = physics_of(held)
    bundle = bundle_of(physics, "fusebox to c10")
    free, fixed = bundle.leg.stretch.bends
    assert least_radius(physics.network, bundle, free).radius_mm == pytest.approx(19.0)
    assert least_radius(physics.network, bundle, fixed).radius_mm == pytest.approx(5.7)
    assert least_radius(physics.network, bundle, free).derivation.result == pytest.approx(19.0)


@pytest.mark.parametrize(
    ("count", "layers"),
    [(1, "1"), (2, "2"), (3, "3"), (4, "4"), (5, "5"), (6, "1 + 6 (1 filler)"), (7, "1 + 6"), (8, "2 + 8 (2 fillers)"),
     (10, "2 + 8"), (12, "3 + 9"), (14, "4 + 10"), (16, "5 + 11"), (19, "1 + 6 + 12"), (24, "2 + 8 + 14"),
     (27, "3 + 9 + 15"), (30, "4 + 10 + 16"), (37, "1 + 6 + 12 + 18"), (61, "1 + 6 + 12 + 18 + 24")],
)  # fmt: skip
def test_equal_wires_lie_in_concentric_layers(count: int, layers: str) -> None:
    """The series of concentric lay: 1, 7, 19, 37, 61; 2, 10, 24; 3, 12, 27; 4, 14, 30; 5, 16 (elementary geometry)."""
    assert str(lay_up([2.0] * count)) == layers


def test_layers_are_as_thick_as_the_packing_says() -> None:
    """7, 19 and 37 equal wires are 3, 5 and 7 wires thick in hexagonal layers (elementary geometry)."""
    assert [lay_up([2.0] * count).layers[-1].outside_mm for count in (7, 19, 37)] == [6.0, 10.0, 14.0]


def test_unlike_wires_fill_a_layer_by_their_angles() -> None:
    """Around 4 mm lie wires of 2 mm: each takes 2 asin(2 / 6) = 38.9 deg, so nine of them, and a tenth starts anew."""
    best = lay_up([4.0] + [2.0] * 9)
    assert [(each.wires, each.fillers) for each in best.layers] == [(1, 0), (9, 0)]
    assert lay_up([4.0] + [2.0] * 8).fillers <= 1


def test_masses_are_those_of_rings_and_tubes() -> None:
    """0.75 mm2 of copper at 8.89 g/cm3 (IEC 60028) is 6.67 g/m; rings by hand."""
    physics = physics_of(FLAT_SIX)
    wire = next(each for each in physics.network.wires if str(each.size) == "0.75 mm2")
    assert copper_g_per_m(wire) == pytest.approx(6.6675)
    ring = math.pi / 4 * 1.9**2 - 0.75 / 0.77
    assert insulation_g_per_m(wire) == pytest.approx(ring * 1.7)
    conduit = physics.network.parts.coverings["conduit-10"]
    assert covering_g_per_m(conduit) == pytest.approx(math.pi / 4 * (12.0**2 - 10.0**2) * 1.13)
