"""The faults are as many as the network has places for them, counted another way."""

import re
from collections import Counter
from itertools import combinations
from math import ceil

import networkx
import pytest

from harnessgen.bench.faults.fault import FaultKind
from harnessgen.bench.setup.connector_half import seal_in
from harnessgen.design.checks.consistency import suppression_of
from harnessgen.design.records.device import Device, Shield
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind
from tests.bench.proving import SOME, fitted_of, proofs_of, text_of


@pytest.mark.parametrize("name", SOME)
def test_the_number_of_each_class_follows_from_the_size_of_the_network(name: str) -> None:
    """Wires, their ends, the stretches they lie in, pairs of nets in each section, neighbours in each connector."""
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
    shared = _stretches_shared(network)
    assert counts[FaultKind.NETS_BRIDGED] == len(shared)
    bridged = [each.name for each in proofs_of(text_of(name)).universe.faults if each.kind is FaultKind.NETS_BRIDGED]
    assert sorted(map(_stretches_named, bridged)) == sorted(shared.values())
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


def _stretches_shared(network: Network) -> Counter[frozenset[int]]:
    """Number of stretches of each two nets that are two on the bench, studs apart, and two in the vehicle as well."""
    graph: networkx.Graph[str] = networkx.Graph()
    for wire in network.wires:
        ends = (f"{end.node}{wire.mark if end.kind is EndKind.LANDING else ''}" for end in wire.ends)
        networkx.add_path(graph, [wire.mark + " itself", *ends])
    parts = {node: number for number, part in enumerate(networkx.connected_components(graph)) for node in part}
    shared: Counter[frozenset[int]] = Counter()
    for leg in network.route.legs:
        inside = [wire for wire in network.wires if leg in wire.way]
        firsts = {network.net_of[wire.a.node]: wire for wire in reversed(inside)}.values()
        shared.update(map(frozenset, combinations((parts[wire.mark + " itself"] for wire in firsts), 2)))
    return shared


def _stretches_named(name: str) -> int:
    """In how many stretches two nets can chafe together, by the words of the fault."""
    more = re.search(r", or in (\d+) more stretch(es)?$", name)
    return 1 + (int(more[1]) if more else 0)


SHARED = """\
format: 2
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


@pytest.mark.parametrize("name", SOME)
def test_the_other_classes_follow_from_the_size_of_the_network_too(name: str) -> None:
    """Cavities, splices, landed ends, sizes, devices and sections; with the test above every class is counted."""
    network, universe = fitted_of(text_of(name)).network, proofs_of(text_of(name)).universe
    design, net_of, counts = network.design, network.net_of, universe.counts
    ends = [end for wire in network.wires for end in wire.ends]
    cavities = {end.node: end for end in ends if end.kind is EndKind.CAVITY}
    by_connector: dict[str, list[int]] = {}
    for end in cavities.values():
        by_connector.setdefault(end.designator, []).append(net_of[end.node])
    pairs = [pair for nets in by_connector.values() for pair in combinations(nets, 2)]
    assert counts[FaultKind.WIRES_SWAPPED] == sum(one != other for one, other in pairs)
    assert counts[FaultKind.FUSE_WRONG] == len(design.fuses)
    assert counts[FaultKind.OUTPUT_STUCK_ON] == counts[FaultKind.OUTPUT_STUCK_OFF] == len(design.drivers)
    assert counts[FaultKind.LABEL_WRONG] == len({wire.section for wire in network.wires})
    assert counts[FaultKind.LATCH_OPEN] == len(cavities)
    assert counts[FaultKind.SEAL_MISSING] == sum(network.seal_at(end) is not None for end in cavities.values())
    assert counts[FaultKind.SPLICE_UNSEALED] == len({end.designator for end in ends if end.kind is EndKind.SPLICE})
    landed = [end for end in ends if end.kind is EndKind.LANDING]
    landed = [end for end in landed if not isinstance(design.devices[end.designator], Shield)]
    assert counts[FaultKind.CRIMP_LOOSE] == len(landed)
    least_mm2 = [min(size.area_mm2.value for size in wire.family.sizes.values()) for wire in network.wires]
    sized = zip(network.wires, least_mm2, strict=True)
    assert counts[FaultKind.SIZE_WRONG] == sum(wire.figures.area_mm2.value > least for wire, least in sized)
    coils: list[Device] = [*design.relays.values(), *design.loads.values()]
    across = [suppression_of(each, network.parts) for each in coils]
    assert counts[FaultKind.DIODE_REVERSED] == sum(each is not None and each.kind == "diode" for each in across)


@pytest.mark.parametrize("name", SOME)
def test_free_cavities_and_exchanges_are_counted_and_what_is_left_out_is_named(name: str) -> None:
    """Plugs by the ways of each sealed connector; exchanges by ways through the route graph, harmless ones printed."""
    fitted, universe = fitted_of(text_of(name)), proofs_of(text_of(name)).universe
    network, design = fitted.network, fitted.network.design
    free = [
        (half, cavity)
        for designator, half in fitted.halves.items()
        for cavity in half.part.cavities
        if not network.wires_at.get(f"{designator}/{cavity}")
    ]
    assert universe.counts[FaultKind.PLUG_MISSING] == sum(seal_in(network, *each) is not None for each in free)
    graph, place = network.route.graph, network.route.node_of
    for _, _, held in graph.edges(data=True):
        held["mm"] = held["record"].length_mm
    loads = [each for each in fitted.load_connectors if fitted.served[each]]
    near = 0
    for one, other in combinations(loads, 2):
        a, b = design.connectors[one], design.connectors[other]
        if a.part == b.part and networkx.has_path(graph, place(a.at), place(b.at)):
            mm = networkx.shortest_path_length(graph, place(a.at), place(b.at), weight="mm")
            near += mm <= design.fault_sizes.exchange_reach_mm.value
    harmless = [line for line in universe.left_out if line.startswith("Harmless exchanges")]
    named = sum(line.count(" with ") for line in harmless)
    assert universe.counts[FaultKind.CONNECTORS_EXCHANGED] + named == near


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
