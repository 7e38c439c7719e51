"""Lengths of stretches from readings and from coordinates, and what makes no sense about lengths."""

import pytest

from harnessgen.design.reading.read import read_files
from harnessgen.design.records.design import Design
from harnessgen.design.understand import understand

HEAD = "format: 2\nharness: {title: T, number: T-1, revision: A}\n"


def design_of(text: str) -> Design:
    """The design of a text without faults."""
    understood = understand(read_files("d.yaml", lambda name: HEAD + text))
    assert understood.faults == ()
    assert understood.expanded is not None
    return understood.expanded


def told(text: str) -> list[tuple[str, str]]:
    """Rule and message of each fault of a text."""
    faults = understand(read_files("d.yaml", lambda name: HEAD + text)).faults
    return [(fault.rule, fault.message) for fault in faults]


def test_readings_give_their_mean() -> None:
    """Three readings of 408, 412 and 413 mm stand for 411 mm."""
    stretch = design_of("route: {a: {b: {readings: [408, 412 mm, 413 +/- 1]}}}").route["a"]["b"]
    assert stretch.length_mm.value == pytest.approx(411.0)


def test_points_give_the_straight_distance_times_the_path_factor() -> None:
    """A 2-3-6 box has a diagonal of 7; the path is longer by the factor, here 10 %, else by the limit of 5 %."""
    points = "points: {a: {x: 100, y: 0}, b: {x: 120, y: 30 mm, z: 6 cm}, c: {x: 120, y: 90, z: 60}}\n"
    route = "route: {a: {b: {path-factor: 1.1}}, b: {c: {}}}\n"
    design = design_of(points + route)
    assert design.route["a"]["b"].length_mm.value == pytest.approx(77.0)
    assert design.route["b"]["c"].length_mm.value == pytest.approx(63.0)
    assert design.route["b"]["c"].is_from_points


def test_a_length_that_is_written_counts_before_the_points() -> None:
    """Points may be there for the drawing alone."""
    design = design_of("points: {a: {x: 0, y: 0}, b: {x: 10, y: 0}}\nroute: {a: {b: 400 mm}}")
    assert design.route["a"]["b"].length_mm.value == 400.0
    assert not design.route["a"]["b"].is_from_points


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("route: {a: {b: {zone: z}}}\nzones: {z: 40}", ("missing-key", "Nothing says how long the stretch a to b is.")),
        (
            "route: {a: {b: {length: 4, readings: [4, 5]}}}",
            ("bad-value", "The stretch a to b has a length, and readings besides."),
        ),
        (
            "route: {a: {b: {length: 4, path-factor: 1.1}}}",
            ("bad-value", "The stretch a to b has a path factor, and its length does not come from points."),
        ),
        (
            "points: {a: {x: 1, y: 1}, b: {x: 1, y: 1}}\nroute: {a: {b: {}}}",
            ("bad-value", "a and b lie at the same place, so that the stretch between them has no length."),
        ),
        (
            "points: {aa: {x: 1, y: 1}}\nroute: {a: {b: 4}}",
            ("unknown-reference", "There is no point of the route called aa."),
        ),
        (
            "route: {a: {b: 4}}\nconnectors: {C1: {part: sealed-2, at: b, reach: {turn: 30 deg}}}",
            ("missing-key", "C1 can be turned, and nothing says how far its face lies from the axis."),
        ),
        (
            "route: {a: {b: 4}}\nconnectors: {C1: {part: sealed-2, at: b, reach: {move: 3 mm, moved: 4 mm}}}",
            ("bad-value", "C1 is moved by 4 mm, and can be moved by 3 mm."),
        ),
        (
            "route: {a: {b: 4}}\n"
            "connectors: {C1: {part: sealed-2, at: b, reach: {turn: 3 deg, turned: 4 deg, radius: 9}}}",
            ("bad-value", "C1 is turned by 4 deg, and can be turned by 3 deg."),
        ),
        (
            "route: {a: {b: 4, c: 4}}\n"
            "disconnects: {C1: {part: sealed-2, at: a, socket-side: b, lift: {travel: 9, comes: G7}}}",
            ("unknown-reference", "There is no device or connector called G7."),
        ),
    ],
)
def test_what_makes_no_sense_is_told(text: str, expected: tuple[str, str]) -> None:
    """Each fault about lengths is told once, in the builder's words."""
    assert told(text) == [expected]


def test_a_length_that_cannot_be_read_is_told_once() -> None:
    """A wrong unit is not told as a missing length besides, nor as a splice that lies beyond its stretch."""
    text = "route: {a: {b: 4 V}}\nsplices: {S1: {at: a, offset: 2, toward: b}}"
    assert [rule for rule, _ in told(text)] == ["wrong-unit"]


def test_one_length_belongs_to_one_wire() -> None:
    """A measured length of a circuit of several wires is told."""
    text = (
        "route: {a: {b: 40, c: 40}}\nsplices: {S1: a}\nsupplies: {B: {voltage: 12 V, at: a}}\n"
        "loads: {L1: {resistance: 4 ohm, at: b}, L2: {resistance: 4 ohm, at: c}}\n"
        "circuits: {1: {from: B, to: [L1/1, L2/1], splice: S1, color: RD, size: 1 mm2, have: 40 mm}}\n"
    )
    assert told(text) == [("unclear-circuit", "Circuit 1 is several wires, and the length of one is given.")]
