"""A load or a driver whose return reaches no ground point, whatever is switched on."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.rules.cavity.lost_wire import lost_returns
from harnessgen.rules.cavity.told_ends import told_ends
from harnessgen.rules.continuity.conduction import Conduction, conduction
from harnessgen.rules.places import node_place

RULE = "missing-ground"


def check(network: Network) -> list[Finding]:
    """One finding for each driver without ground, and for each load or coil whose return ends short of one."""
    return [_finding(network, element, node) for element, node in ungrounded(network)]


def ungrounded(network: Network) -> Iterator[tuple[Element, str]]:
    """Each such element with the node at which its return ends.

    Where a half of a disconnect or a cavity lacks its wire, that is the cause and is told by its own rule.
    """
    elements = network.electrical.elements
    ways = conduction(elements, lambda element: element.kind is not ElementKind.DRIVER)
    told = told_ends(network)
    outputs = {element.a for element in elements if element.kind is ElementKind.DRIVER}
    # A sensor with a signal is two elements; its ground is that of either.
    terminals: dict[str, list[str]] = {}
    for element in elements:
        if element.kind.does_work and element.device is not None:
            terminals.setdefault(element.device.name, []).extend((element.a, element.b))
    for element in elements:
        if element.kind is ElementKind.DRIVER:
            reached = list(ways.ways_from(element.b))
            if not _is_grounded(ways, reached) and not told.intersection(reached):
                yield element, _end(network, reached)
        elif element.device is not None and element.device.name in terminals:
            yield from _load(network, ways, element, terminals.pop(element.device.name), outputs | told)


def _load(
    network: Network, ways: Conduction, element: Element, terminals: list[str], settled: set[str]
) -> Iterator[tuple[Element, str]]:
    """The load with the end of its return, unless a way from a terminal leads to ground or to a node of `settled`."""
    sides = [list(ways.ways_from(node)) for node in terminals]
    if any(_is_grounded(ways, side) or settled.intersection(side) for side in sides):
        return
    fed = [any(node in ways.supplies for node in side) for side in sides]
    if any(fed) and not all(fed):
        yield element, _end(network, sides[fed.index(False)])


def _is_grounded(ways: Conduction, reached: list[str]) -> bool:
    return any(node in ways.grounds for node in reached)


def _end(network: Network, reached: list[str]) -> str:
    """The bus bar that a way leads to, else its last node that carries a name the builder gave."""
    bus = next((node for node in reached if node in network.design.buses), None)
    if bus is not None:
        return bus
    return next((node for node in reversed(reached) if not node.endswith(" mate")), reached[0].removesuffix(" mate"))


def _finding(network: Network, element: Element, node: str) -> Finding:
    assert element.device is not None
    name = element.device.name
    said = f"The coil of {name}" if element.kind is ElementKind.COIL else name
    message = f"{said} has no ground: its way there ends at {node}, and reaches no ground point or driver."
    mend = "lead it on to a ground point, or to a driver's output"
    place, proposals = node_place(network, node), lost_returns(network, node, [element.device])
    return Finding(RULE, Severity.ERROR, name, place, message, mend=mend, proposals=proposals)
