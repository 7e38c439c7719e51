"""Every term of a needed length by hand, and what holds for all of them together."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.lengths.bundles.diameter import bundle_diameter
from harnessgen.lengths.wire_length import (
    margin_derivation,
    needed_length_derivation,
    needed_uncertainty_derivation,
)
from harnessgen.lengths.wire_length_terms import TermKind
from tests.lengths.designs import ENDS_MM, diameter_mm, length_of, measured
from tests.samples import examples

PLAIN_MM = 40 + 120 + ENDS_MM
LEG = "v1: 120 +/- 3"


def extra_of(mark: str, *changes: tuple[str, str]) -> dict[TermKind, float]:
    """The terms beside way, ends and slack of a wire, and the proof that they are all that was added."""
    length = length_of(measured(*changes), mark)
    plain = (TermKind.WAY, TermKind.END, TermKind.SLACK)
    extra = {term.kind: term.length_mm for term in length.terms if term.kind not in plain}
    assert math.fsum(extra.values()) == pytest.approx(length.extra_mm)
    assert math.fsum(term.length_mm for term in length.terms) == pytest.approx(length.needed_mm)
    return extra


def test_way_and_ends_alone() -> None:
    """40 mm back to b1 and 120 mm on to C1, 15 mm of overlap in the splice and 12 mm inside the connector."""
    length = length_of(measured(), "20B")
    assert length.needed_mm == PLAIN_MM
    assert length.extra_mm == 0.0
    assert [str(term) for term in length.terms] == [
        "way along battery to b1",
        "way along b1 to v1",
        "overlap in the splice at S1",
        "wire end inside the connector at C1/1",
    ]


def test_the_doubt_of_the_way_is_that_of_its_parts() -> None:
    """40 of 500 mm share 6 mm of bound by that part, 120 mm have 3 mm: rectangular, k = 2 (JCGM 100:2008)."""
    length = length_of(measured(), "20B")
    assert length.expanded_mm == pytest.approx(2 * math.hypot(6 * 40 / 500, 3) / math.sqrt(3))
    assert length.uncertainty_mm == pytest.approx(length.expanded_mm / 2)
    assert length.freedom == math.inf


def test_slack_drip_loop_and_movement_count_by_the_part_that_the_wire_lies_in() -> None:
    """All of the leg's, and 40 of 500 mm of the trunk's."""
    physics = measured(
        (LEG, "v1: {length: 120 +/- 3, slack: 30, drip-loop: 25, movement: 14}"),
        ("b1: 500 +/- 6", "b1: {length: 500 +/- 6, slack: 100}"),
    )
    length = length_of(physics, "20B")
    assert [(str(term), term.length_mm) for term in length.terms[4:]] == [
        ("slack of the bundle from battery to b1", 100 * 40 / 500),
        ("slack of the bundle from b1 to v1", 30),
        ("drip loop from b1 to v1", 25),
        ("movement from b1 to v1", 14),
    ]
    assert length.needed_mm == pytest.approx(PLAIN_MM + 30 + 25 + 14 + 100 * 40 / 500)


def test_service_loops_at_the_connector_and_by_the_limit() -> None:
    """Two re-terminations of 20 mm at C1; elsewhere one of 15 mm at each crimped end, and none in a splice."""
    own = ("C1: {part: sealed-2, at: v1}", "C1: {part: sealed-2, at: v1, service-loops: {count: 2, each: 20 mm}}")
    limits = ("states:", "limits: {service-loops: 1}\nstates:")
    assert extra_of("20B", own)[TermKind.LOOPS] == 40
    assert extra_of("20B", own, limits)[TermKind.LOOPS] == 40
    both = measured(own, limits)
    assert length_of(both, "20C").extra_mm == 15
    assert length_of(both, "32A").extra_mm == 30
    assert length_of(both, "31A").extra_mm == 55


def test_the_outside_of_bends_is_longer_by_angle_and_diameters() -> None:
    """Two bends of 90 and 45 deg: 3/4 pi times half the difference of bundle and wire (arc, elementary geometry)."""
    physics = measured((LEG, "v1: {length: 120 +/- 3, bends: [90 deg, 45 deg]}"))
    pair_mm = diameter_mm(physics, "20B") + diameter_mm(physics, "31A")
    expected = 0.75 * math.pi * (pair_mm - diameter_mm(physics, "20B")) / 2
    assert length_of(physics, "20B").extra_mm == pytest.approx(expected)


def test_a_twisted_bundle_takes_up_as_a_helix() -> None:
    """Unrolled, a turn is the hypotenuse of its lay and the circle that the wire's middle runs on."""
    physics = measured((LEG, "v1: {length: 120 +/- 3, lay-length: 30 mm}"))
    wires = [diameter_mm(physics, mark) for mark in ("20B", "31A")]
    radius = (bundle_diameter(wires).diameter_mm - wires[0]) / 2
    turns = 120 / 30
    expected = turns * math.hypot(30, 2 * math.pi * radius) - 120
    assert length_of(physics, "20B").extra_mm == pytest.approx(expected)


def test_a_connector_that_was_turned_or_moved_needs_less() -> None:
    """Freedom alone changes nothing; what is used of it is taken off."""
    free = ("C1: {part: sealed-2, at: v1}", "C1: {part: sealed-2, at: v1, reach: {turn: 60 deg, radius: 30 mm}}")
    assert length_of(measured(free), "20B").needed_mm == PLAIN_MM
    used = (free[0], free[1].replace("radius: 30 mm", "radius: 30 mm, turned: 60 deg, move: 9, moved: 4"))
    length = length_of(measured(used), "20B")
    # Square to a leg of 120 mm: the axis lies sqrt(120^2 - 30^2) from the breakout, and 30 deg are left.
    axis = math.sqrt(120**2 - 30**2)
    left = math.sqrt(axis**2 + 30**2 - 2 * axis * 30 * math.cos(math.radians(30)))
    assert length.needed_mm == pytest.approx(PLAIN_MM - (120 - left) - 4)


def test_the_place_of_a_splice_may_be_in_doubt() -> None:
    """A tolerance of the splice's offset counts in the wires that end there."""
    length = length_of(measured(("offset: 40 mm", "offset: 40 +/- 5 mm")), "20B")
    assert length.expanded_mm == pytest.approx(2 * math.hypot(6 * 40 / 500, 3, 5) / math.sqrt(3))


def test_three_tolerances_stay_apart() -> None:
    """Measurement, build and cutting are three fields, and may be one-sided."""
    physics = measured(
        (LEG, "v1: {length: 120 +/- 3, build: +10/-2}"),
        ("states:", "limits: {cutting-tolerance: +6/-1}\nstates:"),
    )
    length = length_of(physics, "20B")
    assert (length.build_mm.plus, length.build_mm.minus) == (10, 2)
    assert length.shortest_available_mm == length.cut_mm - 1
    assert length.expanded_mm == pytest.approx(2 * math.hypot(6 * 40 / 500, 3) / math.sqrt(3))


def test_a_measured_wire_has_no_cutting_tolerance() -> None:
    """What was measured on the wire counts with the doubt of that measurement alone, at the verdict's coverage."""
    run = "{from: S1, to: V1/1}"
    exact = length_of(measured((run, "{from: S1, to: V1/1, have: 200 mm, cut: 190 mm}")), "20B")
    assert (exact.shortest_available_mm, exact.is_measured) == (200, True)
    bound = length_of(measured((run, "{from: S1, to: V1/1, have: 200 +/- 2 mm}")), "20B")
    assert bound.shortest_available_mm == 198
    covered = length_of(measured((run, "{from: S1, to: V1/1, have: 200 +/- 3 mm (k=3)}")), "20B")
    assert covered.shortest_available_mm == 198


def test_derivations_give_their_numbers_again() -> None:
    """Each term, the sum, its uncertainty and the margin come out of their own printed formula and inputs."""
    physics = measured(
        (LEG, "v1: {readings: [119 +/- 1, 121, 122], slack: 30, bends: 90 deg, lay-length: 40 mm, movement: 9}"),
        (
            "C1: {part: sealed-2, at: v1}",
            "C1: {part: sealed-2, at: v1, service-loops: 2, reach: {turn: 60 deg, radius: 30 mm, turned: 20 deg,"
            " move: 5, moved: 2}}",
        ),
        ("b1: 500 +/- 6", "b1: {length: 500 +6/-2, drip-loop: 12}"),
        ("color: RD/WH", "color: RD/WH\n    slack: 7 mm"),
    )
    for length in physics.lengths.values():
        for term in length.terms:
            assert term.derivation.again() == pytest.approx(term.length_mm, abs=1e-9)
        assert needed_length_derivation(length).again() == pytest.approx(length.needed_mm)
        assert needed_uncertainty_derivation(length).again() == pytest.approx(length.expanded_mm)
        assert margin_derivation(length).again() == pytest.approx(length.margin_mm)
    kinds = {term.kind for term in length_of(physics, "20B").terms}
    assert kinds == set(TermKind) - {TermKind.CABLE_TAKE_UP}


@settings(max_examples=examples(25), deadline=None)
@given(slack=st.integers(0, 500), movement=st.integers(0, 50), bend=st.integers(1, 360))
def test_what_is_added_is_needed_and_cut(slack: int, movement: int, bend: int) -> None:
    """More of any term needs as much more, and the length to cut always reaches, on its step."""
    extra = f"v1: {{length: 120 +/- 3, slack: {slack}, movement: {movement}, bends: {bend} deg}}"
    length = length_of(measured((LEG, extra)), "20B")
    assert length.needed_mm >= PLAIN_MM + slack + movement
    assert length.margin_mm >= -1e-6
    assert length.cut_mm % length.step.value.value == pytest.approx(0.0)
