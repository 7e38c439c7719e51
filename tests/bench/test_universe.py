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
    assert counts[FaultKind.CHAFED_TO_GROUND] == 2 * sum(len(wire.way) for wire in network.wires)
    nets_in: dict[tuple[str, str], set[int]] = {}
    for wire in network.wires:
        for leg in wire.way:
            nets_in.setdefault((leg.start, leg.end), set()).add(net_of[wire.a.node])
    assert counts[FaultKind.NETS_BRIDGED] == sum(len(nets) * (len(nets) - 1) // 2 for nets in nets_in.values())
    assert counts[FaultKind.FUSE_MISSING] == len(network.design.fuses)
    neighbours = 0
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
    assert counts[FaultKind.NEIGHBOURS_BRIDGED] == neighbours


def test_every_severe_fault_of_the_flat_six_is_shown() -> None:
    """All of it, and what the shield of the ignition harness hides is owned up to."""
    assert proofs_of(text_of("flat-six")).untested == ()
    hidden = proofs_of(text_of("ignition-sensors")).untested
    assert {fault.subject for fault in hidden} == {"52A"}
    assert not any(fault.consequence.is_severe for fault in hidden)
    assert Counter(fault.kind for fault in hidden)[FaultKind.WIRE_OPEN] == 1
