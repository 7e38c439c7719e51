"""What the vehicle has: circuits, fuses and connectors that take part, and taps on them, by an example by hand."""

import pytest

from harnessgen.catalogue import RULES
from harnessgen.design.reading.read import read_files
from harnessgen.design.understand import understand
from harnessgen.lengths.wire_length import wire_length
from harnessgen.network.electrical import ElementKind
from harnessgen.physics.physics import Physics
from harnessgen.rules.examine import examine
from harnessgen.schedules.parts_to_buy import buy_rows
from harnessgen.schedules.wires.cavity_chart import cavity_rows
from harnessgen.schedules.wires.splice_schedule import splice_rows
from tests.network.test_bank import EXAMPLE as WITHOUT
from tests.network.test_bank import network_of

EXAMPLE = """\
format: 2
harness: {title: Lamp on an ignition circuit, number: T-1, revision: A, splice: barrel-hot, wire: thin-wall-125}
zones: {cabin: 20 degC}
route:
  dash: {fuse: {length: 120 mm, zone: cabin}, ecu: {length: 400 mm, zone: cabin}}
  fuse: {lamp: {length: 900 mm, zone: cabin}}
supplies: {BAT: {voltage: 13.8 V}}
grounds: {G1: {}}
switches: {SW1: {title: ignition switch, resistance: 20 mohm}}
fuses: {F3: {rating: 5 A, at: fuse, terminal: tab-6.3}}
drivers: {Q1: {terminals: {out: C1/14, ground: C1/1}}}
connectors: {C5: {part: sealed-2, at: lamp, mate: lamp}}
loads:
  E1: {kind: resistor, resistance: 12 ohm, connector: C5}
  ECU: {kind: resistor, resistance: 40 ohm, terminals: {1: C1/3, 2: C1/1}}
circuits:
  50: {from: S9, to: F3, color: RD/WH, size: 1.5 mm2}
  51: {from: F3, to: C5/1, color: RD/YE, size: 0.75 mm2}
  52: {from: C5/2, to: C1/14, color: BK, size: 0.75 mm2}
vehicle:
  fuses: {VF7: {rating: 20 A}}
  circuits:
    V6: {from: BAT, to: SW1, size: 4 mm2, length: 1500 mm, zone: cabin, carries: 6 A}
    V7: {from: SW1, to: VF7, size: 2.5 mm2, length: 600 mm, zone: cabin, carries: 6 A}
    V8: {from: VF7, to: C1/3, size: 2.5 mm2, length: 1000 mm, zone: cabin, carries: 6 A}
    V9: {from: C1/1, to: G1, size: 2.5 mm2, length: 1400 mm, zone: cabin, carries: 5 A}
  connectors: {C1: {part: header-26, at: ecu, occupied: [3, 4, 7]}}
  taps: {S9: {onto: V8, after: 400 mm, at: dash}}
states:
  off: {off: [E1, ECU]}
  on: {on: [SW1, Q1]}
"""

GIVEN = """\
V6   BAT      SW1/in   1500
V7   SW1/out  VF7/in   600
V8A  VF7/out  S9       400
V8B  S9       C1/3     600
V9   C1/1     G1       1400
"""

# mark, ends, way along the route and what the ends add: 15 mm overlap in a splice, 12 mm inside sealed-2, 16 mm inside
# header-26. Only these are cut.
WIRES = """\
50A  S9       F3/in    120   15
51A  F3/out   C5/1     900   12
52A  C5/2     C1/14    1420  12+16
"""


def findings_of(text: str, rule: str) -> list[str]:
    """Subject and message of each finding of a rule."""
    network = network_of(text)
    found = examine(RULES, (), network, Physics(network), (), "")
    return [f"{each.subject}: {each.message}" for each in found.findings if each.rule == rule]


def test_the_wires_of_the_vehicle_are_cut_at_taps_alone() -> None:
    """Each circuit from end to end; the one with a tap in two pieces whose lengths are its own."""
    found = [(each.mark, each.a, each.b, each.length_mm) for each in network_of(EXAMPLE).given]
    rows = (row.split() for row in GIVEN.splitlines())
    assert found == [(mark, a, b, float(length)) for mark, a, b, length in rows]


def test_only_our_wires_are_cut() -> None:
    """The wires of the harness, from the tap on, by mark, ends and length."""
    network = network_of(EXAMPLE)
    found = [(each.mark, str(each.a), str(each.b), wire_length(network, each).needed_mm) for each in network.wires]
    rows = (row.split() for row in WIRES.splitlines())
    assert found == [(mark, a, b, float(way) + sum(map(float, more.split("+")))) for mark, a, b, way, more in rows]


def test_the_circuit_is_solved_through_the_vehicle() -> None:
    """Current of E1 by hand: resistances of thin-wall-125 wire at 20 degC, one path, G1 and BAT ideal."""
    network = network_of(EXAMPLE)
    physics = Physics(network)
    per_m = {
        size: figures.resistance_ohm_per_m.value for size, figures in network.parts.wires["thin-wall-125"].sizes.items()
    }
    assert physics.ohms["V6"] == pytest.approx(per_m["4"] * 1.5)
    assert physics.ohms["V8A"] == pytest.approx(per_m["2.5"] * 0.4)
    point = physics.points["on"]
    for wire in network.given:
        drop = point.volts[wire.a] - point.volts[wire.b]
        assert drop == pytest.approx(
            point.amperes[wire.mark] * per_m["4" if wire.mark == "V6" else "2.5"] * wire.length_mm / 1000
        )
    assert point.amperes["V8A"] == pytest.approx(point.amperes["50A"] + point.amperes["V8B"])
    assert point.amperes["V8B"] == pytest.approx(point.amperes["ECU"])
    assert point.amperes["V9"] == pytest.approx(point.amperes["E1"] + point.amperes["ECU"])


def test_what_it_carries_already_adds_to_the_drop() -> None:
    """E1 loses what 6 A take in V6, SW1, V7, VF7 and V8A, and 5 A in V9, besides its own; and no more."""
    with_it, without = (
        next(each for each in Physics(network_of(text)).drops_in("on") if each.load == "E1")
        for text in (EXAMPLE, EXAMPLE.replace("carries: 6 A", "carries: 0 A").replace("carries: 5 A", "carries: 0 A"))
    )
    physics = Physics(network_of(EXAMPLE))
    ohms = physics.ohms_in(with_it.case)
    assert with_it.feed_v - without.feed_v == pytest.approx(
        6 * sum(ohms[each] for each in ("V6", "SW1", "V7", "VF7", "V8A"))
    )
    assert with_it.return_v - without.return_v == pytest.approx(5 * ohms["V9"])
    lost_v = with_it.source_v - with_it.inside_v - with_it.feed_v - with_it.return_v
    assert with_it.across_v == pytest.approx(lost_v)


def test_a_fuse_of_the_vehicle_that_carries_much_already_is_too_small() -> None:
    """20 A carry three quarters, 15 A: 14 A of the vehicle's and 1.5 A of ours are too much; nothing enlarges it."""
    much = EXAMPLE.replace("VF7: {rating: 20 A}", "VF7: {rating: 20 A, carries: 14 A}")
    network = network_of(much)
    found = examine(RULES, (), network, Physics(network), (), "")
    (finding,) = [each for each in found.findings if each.rule == "fuse-too-small"]
    assert finding.subject == "VF7"
    assert finding.numbers[0].value == pytest.approx(14 + Physics(network).points["on"].amperes["VF7"])
    assert not tuple(finding.proposals)
    assert not findings_of(EXAMPLE, "fuse-too-small")


def test_a_wire_of_the_vehicle_that_carries_much_already_is_too_thin() -> None:
    """60 A are too much for 2.5 mm2 in any air; the finding stands at the vehicle's circuit."""
    much = EXAMPLE.replace("length: 1000 mm, zone: cabin, carries: 6 A", "length: 1000 mm, zone: cabin, carries: 60 A")
    assert [each.partition(":")[0] for each in findings_of(much, "wire-overload")] == ["V8"]
    assert not findings_of(EXAMPLE, "wire-overload")


def test_what_nobody_says_is_not_examined() -> None:
    """Without `carries` of V8 its own verdict, its fuse's and the drops through it are not examined."""
    unsaid = EXAMPLE.replace("length: 1000 mm, zone: cabin, carries: 6 A", "length: 1000 mm, zone: cabin")
    network = network_of(unsaid.replace("length: 600 mm, zone: cabin, carries: 6 A", "length: 600 mm, zone: cabin"))
    found = examine(RULES, (), network, Physics(network), (), "").not_examined
    assert {(each.rule, each.subject) for each in found if each.subject not in ("", "BAT")} == {
        ("wire-overload", "V7"),
        ("wire-overload", "V8"),
        ("fuse-too-small", "VF7"),
        ("excess-drop", "E1"),
        ("excess-drop", "ECU"),
    }
    whole = network_of(EXAMPLE)
    assert not [
        each
        for each in examine(RULES, (), whole, Physics(whole), (), "").not_examined
        if each.subject not in ("", "BAT")
    ]


def test_nothing_of_the_vehicle_is_bought() -> None:
    """The tap's barrel, our fuse and C5 are; VF7, C1 and the vehicle's wire are not."""
    network = network_of(EXAMPLE)
    rows = [(row.kind, row.part, row.needed) for row in buy_rows(network, Physics(network))]
    assert [row for row in rows if row[0] in ("connector", "splice", "fuse", "cavity plug")] == [
        ("connector", "sealed-2", 1),
        ("splice", "barrel-hot", 1),
        ("fuse", "blade-medium", 1),
    ]
    assert sum(metres for kind, _, metres in rows if kind == "wire") < 3.0


def test_the_charts_name_what_is_the_vehicles() -> None:
    """Occupied cavities and the pieces of the tapped wire in the splice schedule."""
    network = network_of(EXAMPLE)
    (section,) = network.sections.sections
    fills = {row.cavity: row.fill for row in cavity_rows(network, section) if row.connector == "C1"}
    assert [cavity for cavity, fill in fills.items() if fill == "vehicle's own wire"] == ["1", "3", "4", "7"]
    rows = [(row.splice, row.mark, row.colour, row.other_end) for row in splice_rows(network, section)]
    assert rows == [
        ("S9", "V8A", "vehicle's own", "VF7/out"),
        ("S9", "V8B", "vehicle's own", "C1/3"),
        ("S9", "50A", "RD/WH", "F3/in"),
    ]


@pytest.mark.parametrize("cavity", ["3", "4"])
def test_a_wire_of_ours_in_an_occupied_cavity_is_a_fault(cavity: str) -> None:
    """Whether a circuit under `vehicle` ends there or `occupied` names it."""
    text = EXAMPLE.replace("52: {from: C5/2, to: C1/14", f"52: {{from: C5/2, to: C1/{cavity}")
    (found,) = findings_of(text, "double-filled-cavity")
    assert found.startswith(f"C1/{cavity}: C1/{cavity} holds ")


def test_vehicle_wires_are_edges_of_their_own_kind() -> None:
    """An element for each piece, which carries its record and no wire of ours."""
    found = [each for each in network_of(EXAMPLE).electrical.elements if each.kind is ElementKind.VEHICLE_WIRE]
    assert [each.name for each in found] == ["V6", "V7", "V8A", "V8B", "V9"]
    assert all(each.given is not None and each.wire is None for each in found)


FAULTS = {
    "a tap beyond the wire's end": (
        "after: 400 mm",
        "after: 1000 mm",
        "V8 is 1000 mm long, and S9 sits on it after 1000 mm.",
    ),
    "a tap on nothing": ("onto: V8", "onto: V5", "There is no circuit of the vehicle called V5."),
    "a fuse twice": (
        "fuses: {F3",
        "fuses: {VF7: {rating: 5 A}, F3",
        "VF7 is a fuse of the vehicle here and a fuse elsewhere.",
    ),
    "a circuit twice": (
        "    V6: {from: BAT",
        "    50: {from: BAT",
        "50 is a circuit of the vehicle here and one of the harness elsewhere.",
    ),
    "a name of a thing": (
        "    V6: {from: BAT",
        "    F3: {from: BAT",
        "F3 is a circuit of the vehicle, and a thing of the design has that name too.",
    ),
    "a cavity that is not there": ("occupied: [3, 4, 7]", "occupied: [3, 47]", "C1 has no cavity 47."),
    "a size that is not made": ("size: 4 mm2", "size: 4.3 mm2", "No 4.3 mm2 wire is made in thin-wall-125."),
    "a zone that is not there": (
        "length: 1500 mm, zone: cabin",
        "length: 1500 mm, zone: bay",
        "There is no zone called bay.",
    ),
    "an end that is not there": (
        "from: BAT, to: SW1",
        "from: BAT, to: SW2",
        "There is no connector, splice or device called SW2.",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_of_the_vehicle_is_told_where_it_stands(name: str) -> None:
    """Each with a line of the file, and a remedy."""
    old, new, message = FAULTS[name]
    assert EXAMPLE.count(old) == 1
    faults = understand(read_files("car.yaml", lambda _: EXAMPLE.replace(old, new))).faults
    assert message in [fault.message for fault in faults]
    fault = next(fault for fault in faults if fault.message == message)
    assert fault.place.line > 1
    assert fault.mend


def test_a_design_without_a_vehicle_has_no_wires_of_one() -> None:
    """Nothing changes for designs that say nothing of the vehicle."""
    network = network_of(WITHOUT)
    assert network.given == ()
    assert network.occupied == frozenset()
    assert not any(each.given is not None for each in network.electrical.elements)
