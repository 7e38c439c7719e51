"""A load or a driver whose return reaches no ground point, whatever is switched on."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.conduction import Conduction, conduction
from harnessgen.network.electrical import Element, ElementKind, mate_of
from harnessgen.network.network import Network
from harnessgen.rules.cavity.lost_wire import lost_returns
from harnessgen.rules.cavity.reported_ends import told_ends
from harnessgen.rules.wording.places import node_place

RULE = "missing-ground"


def check(network: Network) -> list[Finding]:
    """One finding for each driver without ground, and for each load or coil whose return ends short of one."""
    return [_finding(network, element, node) for element, node in ungrounded(network)]


def ungrounded(network: Network) -> Iterator[tuple[Element, str]]:
    """Each such element with the node at which its return ends.

    Where a half of a disconnect or a cavity lacks its wire, that is the cause and is told by its own rule.
    """
    elements = network.electrical.elements
    ways = conduction(network.electrical, lambda element: element.kind is not ElementKind.DRIVER)
    told = told_ends(network)
    outputs = {element.a for element in elements if element.kind is ElementKind.DRIVER}
    # A sensor with a signal is two elements; its ground is that of either.
    terminals: dict[str, list[str]] = {}
    for element in elements:
        if element.kind.does_work and element.device is not None:
            terminals.setdefault(element.device.name, []).extend((element.a, element.b))
    settled = _Settled(ways, told, outputs)
    for element in elements:
        if element.kind is ElementKind.DRIVER:
            if not settled.output(element.b):
                yield element, _end(network, _nearest_first(ways, element.b))
        elif element.device is not None and element.device.name in terminals:
            yield from _load(network, settled, element, terminals.pop(element.device.name))


class _Settled:
    """Which nodes have a way to ground, or to what another rule or an output answers for; each part is walked once."""

    def __init__(self, ways: Conduction, told: set[str], outputs: set[str]) -> None:
        self.ways = ways
        self._told = {self._part(node) for node in (*ways.grounds, *told)}
        self._switched = {self._part(node) for node in outputs}

    def _part(self, node: str) -> str:
        """The node that the part of a node is known by."""
        return self.ways.part(node)[0]

    def output(self, node: str) -> bool:
        """Whether an output has its return."""
        return self._part(node) in self._told

    def load(self, node: str) -> bool:
        """Whether a load has its return by this terminal."""
        return self.output(node) or self._part(node) in self._switched


def _load(network: Network, settled: _Settled, element: Element, terminals: list[str]) -> Iterator[tuple[Element, str]]:
    """The load with the end of its return, unless a way from a terminal leads to ground or is settled."""
    if any(map(settled.load, terminals)):
        return
    ways = settled.ways
    sides = [_nearest_first(ways, node) for node in terminals]
    fed = [any(node in ways.supplies for node in side) for side in sides]
    if any(fed) and not all(fed):
        yield element, _end(network, sides[fed.index(False)])


def _nearest_first(ways: Conduction, start: str) -> list[str]:
    return [start, *(node for _, node in ways.reached(start))]


def _end(network: Network, reached: list[str]) -> str:
    """The bus bar that a way leads to, or a wire's end that is no load's, or the splice where the most copper meets.

    Where several returns meet in splices and no wire leads on, none of them lacks its ground: the trunk lacks. Else it
    is the last node that carries a name the builder gave.
    """
    design, wires_at = network.design, network.wires_at
    bus = next((node for node in reached if node in design.buses), None)
    if bus is not None:
        return bus
    loads = {node for each in network.electrical.elements if each.kind.does_work for node in (each.a, each.b)}
    named = [node for node in reached if not node.endswith(" mate")]
    splices = [node for node in named if node in design.splices]
    onward = [node for node in named if node in wires_at and node not in splices and not _at_load(node, loads)]
    if splices and not onward:
        return max(splices, key=lambda node: sum(wire.figures.area_mm2.value for wire in wires_at.get(node, ())))
    return next(reversed(onward or named), reached[0].removesuffix(" mate"))


def _at_load(node: str, loads: set[str]) -> bool:
    return node in loads or mate_of(node) in loads


def _finding(network: Network, element: Element, node: str) -> Finding:
    assert element.device is not None
    name = element.device.name
    said = f"The coil of {name}" if element.kind is ElementKind.COIL else name
    message = f"{said} has no ground: its way there ends at {node}, and no wire leads on to a ground point or driver."
    mend = f"lead {node} on to a ground point, or to a driver's output"
    place, proposals = node_place(network, node), lost_returns(network, node, [element.device])
    return Finding(RULE, Severity.ERROR, name, place, message, mend=mend, proposals=proposals)
