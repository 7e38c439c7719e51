"""Cables: what runs together, and a shield that is grounded at one end and hangs free at the other."""

import math

import pytest

from harnessgen.design.reading.read import read_files
from harnessgen.design.understand import Understood, understand
from harnessgen.network.network import Network, build_network
from harnessgen.physics.physics import Physics

CABLE = """\
format: 2
harness: {title: Wheel speed sensor, number: WS-1, revision: A, wire: aircraft-150}
units: {length: mm, size: AWG}
route:
  ecu: {c10: 900}
  c10: {wheel: 600}
connectors:
  C1: {part: header-26, at: ecu}
  C2: {part: sealed-2, at: wheel}
disconnects: {C10: {part: sealed-4, at: c10, socket-side: ecu}}
supplies: {VB: {voltage: 2.5 V, resistance: 10 kohm, cavity: C1/1}}
grounds:
  G1: {cavity: C1/2, resistance: 10 kohm}
  G2: {cavity: C1/3}
loads: {N1: {part: crank-sensor, connector: C2}}
circuits:
  70: {from: VB, to: N1/1, through: C10/1, color: WH, size: 20}
  71: {from: G1, to: N1/2, through: C10/2, color: BU, size: 20}
cables:
  W1:
    circuits: [70, 71]
    lay: twisted
    shield: {circuit: 72, to: G2, through: C10/3, free-at: wheel, cut-back: 30, color: BK, size: 20}
states: {driving: {}}
"""


def understood(text: str) -> Understood:
    return understand(read_files("cable.yaml", lambda name: text))


def network_of(text: str) -> Network:
    result = understood(text)
    assert result.faults == ()
    assert result.expanded is not None
    return build_network(result.expanded, result.parts)


def told(old: str, new: str) -> list[tuple[str, str, str]]:
    """Rule, message and what is underlined of each fault after a change of the text."""
    assert CABLE.count(old) == 1
    text = CABLE.replace(old, new)
    result = understood(text)
    faults = result.faults or (build_network(result.expanded, result.parts).faults if result.expanded else ())
    return [(each.rule, each.message, text[each.place.start : each.place.end]) for each in faults]


def test_the_drain_is_cut_and_marked_like_any_wire() -> None:
    """From the grounded end through the disconnect to where it is cut back, as long as the pair but for that."""
    network = network_of(CABLE)
    lengths = Physics(network).lengths
    wires = [(wire.mark, str(wire.a), str(wire.b), wire.cable) for wire in network.wires]
    assert wires == [
        ("70A", "C1/1", "C10s/1", "W1"),
        ("70B", "C10p/1", "C2/1", "W1"),
        ("71A", "C1/2", "C10s/2", "W1"),
        ("71B", "C10p/2", "C2/2", "W1"),
        ("72A", "C1/3", "C10s/3", "W1"),
        ("72B", "C10p/3", "W1", "W1"),
    ]
    # Inside C1 16 mm, C10 14 mm, C2 12 mm; the shield ends 30 mm before the point of C2. Three cores of one size lie in
    # a circle of 2.1547 of their diameters, and turn once in 12 of it: each takes up 0.98 % more than its way.
    take_up = math.hypot(1, math.pi * (2.154701 - 1) / (12 * 2.154701)) - 1
    ends = {"70A": (900, 930), "70B": (600, 626), "72A": (900, 930), "72B": (600, 584)}
    assert {mark: lengths[mark].needed_mm for mark in ends} == pytest.approx(
        {mark: straight + way * take_up for mark, (way, straight) in ends.items()}, abs=1e-6
    )


def test_the_free_end_of_a_shield_leads_nowhere() -> None:
    """It is a node of its own kind, nothing is crimped to it, and it carries no current."""
    network = network_of(CABLE)
    point = Physics(network).points["driving"]
    assert network.electrical.nodes["W1"].kind == "shield"
    assert network.contact_at(network.wire_of["72B"].b) is None
    assert [each.name for each in network.electrical.elements if "W1" in (each.a, each.b)] == ["72B"]
    assert (point.amperes["72A"], point.amperes["72B"]) == (0.0, 0.0)
    assert point.amperes["70A"] == pytest.approx(2.5 / (10_000 + 860 + 10_000), rel=1e-4)


def test_what_does_not_run_together_is_no_cable() -> None:
    """A circuit that ends elsewhere, one that branches, and a shield that does not lie along the pair."""
    other = "C2: {part: sealed-2, at: wheel}\n  C3: {part: sealed-2, at: hub}\n"
    elsewhere = CABLE.replace("C2: {part: sealed-2, at: wheel}\n", other).replace("wheel: 600", "wheel: 600, hub: 90")
    elsewhere = elsewhere.replace(
        "N1: {part: crank-sensor, connector: C2}", "N1: {part: crank-sensor, terminals: {1: C2/1, 2: C3/1}}"
    )
    (fault,) = network_of(elsewhere).faults
    assert fault.message == "W1 holds 70 and 71, which do not run the same way from end to end."
    assert told("free-at: wheel", "free-at: ecu") == [
        ("unrouted-wire", "Circuit 72 does not come past C10 on its way.", "C10/3")
    ]
    assert told("through: C10/3, free-at: wheel", "free-at: ecu") == [
        ("unclear-circuit", "The shield of W1 runs from G2 to ecu, and not along all of 70.", "ecu")
    ]
    splice = "splices: {S1: {at: c10, offset: 50, toward: wheel}}\ncircuits:\n"
    branched = CABLE.replace("circuits:\n", splice, 1).replace(
        "70: {from: VB, to: N1/1, through: C10/1, color: WH, size: 20}",
        "70: {color: WH, size: 20, runs: [{from: VB, to: S1, through: C10/1}, {from: S1, to: N1/1}]}",
    )
    (fault,) = network_of(branched).faults
    assert fault.message == "Circuit 70 branches, and W1 can only hold it as one run."


def test_faults_of_a_cable_in_the_file() -> None:
    """A circuit that does not exist, one in two cables, a drain with the number of a circuit, a wire to the shield."""
    assert told("[70, 71]", "[70, 79]") == [
        ("unknown-reference", "There is no circuit number called 79.", "79"),
    ]
    assert told("states:", "  W2: {circuits: [71]}\nstates:") == [
        ("unclear-circuit", "Circuit 71 is in W1 already.", "[71]")
    ]
    assert told("circuit: 72", "circuit: 71") == [
        ("unclear-circuit", "71 is a circuit of its own, and here the drain of W1.", "71"),
    ]
    assert told("to: N1/2, through", "to: W1, through") == [
        ("unknown-reference", "W1 is a cable; a wire ends in what the cable leads to.", "W1")
    ]
    assert told("circuits: [70, 71]", "circuits: []")[0][1] == "W1 holds no circuit."
    assert told("loads: {N1:", "loads: {W1: {power: 5 W, at: ecu}, N1:")[0][0] == "duplicate-designator"
