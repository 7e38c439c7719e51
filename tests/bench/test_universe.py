"""The faults are as many as the network has places for them, counted another way."""

from collections import Counter
from math import ceil

import pytest

from harnessgen.bench.fault import FaultKind
from harnessgen.network.wires import EndKind
from tests.bench.proving import DESIGNS, fitted_of, proofs_of, text_of


@pytest.mark.parametrize("name", DESIGNS)
def test_the_number_of_each_class_follows_from_the_size_of_the_network(name: str) -> None:
    """Wires, their ends, the stretches they lie in, pairs of nets in each stretch, neighbours in each connector."""
    network = fitted_of(text_of(name)).network
    counts = proofs_of(text_of(name)).universe.counts
    ends = [end for wire in network.wires for end in wire.ends]
    splices = sum(end.kind is EndKind.SPLICE for end in ends)
    net_of = network.net_of
    assert counts[FaultKind.WIRE_OPEN] == len(network.wires)
    assert counts[FaultKind.SPLICE_LEG_OPEN] == splices
    assert counts[FaultKind.TERMINAL_OPEN] == len(ends) - splices
    assert counts[FaultKind.POOR_JOINT] == 3 * len(ends)
    assert counts[FaultKind.COMES_AND_GOES] == len(ends)
    assert counts[FaultKind.CHAFED_TO_GROUND] == 2 * sum(len(wire.way) for wire in network.wires)
    nets_in: dict[tuple[str, str], set[int]] = {}
    for wire in network.wires:
        for leg in wire.way:
            nets_in.setdefault((leg.start, leg.end), set()).add(net_of[wire.a.node])
    assert counts[FaultKind.NETS_BRIDGED] == sum(len(nets) * (len(nets) - 1) // 2 for nets in nets_in.values())
    assert counts[FaultKind.FUSE_MISSING] == len(network.design.fuses)
    neighbours = swaps = 0
    in_cavity = Counter(end.node for end in ends if end.kind is EndKind.CAVITY)
    wired: dict[str, dict[str, int]] = {}
    for end in ends:
        if end.kind is EndKind.CAVITY:
            wired.setdefault(end.designator, {})[end.terminal] = net_of[end.node]
    for connector, nets in wired.items():
        part = network.connector_part(connector)
        across = ceil(len(part.cavities) / part.rows)
        places = {cavity: divmod(at, across) for at, cavity in enumerate(part.cavities)}
        for one, other in ((a, b) for a in nets for b in nets if a < b and nets[a] != nets[b]):
            apart = [abs(p - q) for p, q in zip(places[one], places[other], strict=True)]
            neighbours += sum(apart) == 1
            swaps += in_cavity[f"{connector}/{one}"] * in_cavity[f"{connector}/{other}"]
    assert counts[FaultKind.NEIGHBOURS_BRIDGED] == neighbours
    assert counts[FaultKind.WIRES_SWAPPED] == swaps


SHARED = """\
format: 1
harness: {title: Two lamps, number: TL-1, revision: A}
route: {battery: {lamps: 1 m}, lamps: {rear: 1 m}}
connectors: {C1: {part: sealed-2, at: lamps}, C2: {part: sealed-2, at: rear}}
supplies: {BAT: {voltage: 13.5 V, at: battery}}
grounds: {G1: {at: battery}}
fuses: {F1: {rating: 5 A, at: battery}}
loads: {E1: {kind: lamp, power: 5 W, connector: C1}, E2: {kind: lamp, power: 5 W, connector: C2}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 1 mm2}
  12: {from: F1, to: C1/1, color: RD, size: 1 mm2}
  13: {from: C1/1, to: C2/1, color: RD, size: 1 mm2}
  90: {from: C1/2, to: G1, color: BK, size: 1 mm2}
  91: {from: C2/2, to: G1, color: BK, size: 1 mm2}
states:
  on: {on: []}
"""


def test_each_of_two_wires_in_a_cavity_can_be_swapped() -> None:
    """C1/1 holds 12A and 13A: either can sit in 90A's place, and only one of the two lamps is lost with 13A."""
    faults = proofs_of(SHARED).universe.faults
    swaps = [fault.name for fault in faults if fault.kind is FaultKind.WIRES_SWAPPED and fault.subject == "C1"]
    assert swaps == [
        "12A and 90A in each other's place, C1/1 and C1/2",
        "13A and 90A in each other's place, C1/1 and C1/2",
    ]
    assert sum(fault.kind is FaultKind.NEIGHBOURS_BRIDGED and fault.subject == "C1" for fault in faults) == 1
    assert not proofs_of(SHARED).untested


def test_every_severe_fault_of_the_flat_six_is_shown() -> None:
    """All of it, and what the shield of the ignition harness hides is owned up to."""
    assert proofs_of(text_of("flat-six")).untested == ()
    hidden = proofs_of(text_of("ignition-sensors")).untested
    assert {fault.subject for fault in hidden} == {"52A"}
    assert not any(fault.consequence.is_severe for fault in hidden)
    assert Counter(fault.kind for fault in hidden)[FaultKind.WIRE_OPEN] == 1


def test_a_diode_the_wrong_way_round_is_a_fault_that_is_shown() -> None:
    """No complete design has a diode across a coil. Here one has: it shorts its fuse once it is fed."""
    text = SHARED.replace(
        "{kind: lamp, power: 5 W, connector: C2}", "{kind: coil, resistance: 40 ohm, connector: C2, suppression: diode}"
    )
    proofs = proofs_of(text)
    assert proofs.universe.counts[FaultKind.DIODE_REVERSED] == 1
    assert FaultKind.DIODE_REVERSED not in {fault.kind for fault in proofs.untested}
