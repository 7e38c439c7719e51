"""What conducts at one time: the ways through wires, contacts, fuses and closed switches."""

from collections.abc import Callable, Container, Iterable, Mapping
from functools import partial

from harnessgen.design.device import Relay
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.operating_point import OperatingPoint, conducting

IsClosed = Callable[[Element], bool]


@frozen
class Conduction:
    """Neighbours of each node by what conducts, loads and relay coils left out; supplies and ground points by node."""

    neighbours: Mapping[str, list[tuple[str, Element]]]
    supplies: Mapping[str, list[Element]]
    grounds: Mapping[str, list[Element]]

    def ways_from(
        self, start: str, without: str = "", avoid: Container[str] = ()
    ) -> dict[str, tuple[str, Element] | None]:
        """Every node within reach of `start`, nearest first, each with the node before it and what leads there.

        `without` names an element that is taken out, `avoid` nodes that are not entered.
        """
        came_by: dict[str, tuple[str, Element] | None] = {start: None}
        queue = [start]
        for node in queue:
            for after, element in self.neighbours.get(node, ()):
                if after not in came_by and element.name != without and after not in avoid:
                    came_by[after] = (node, element)
                    queue.append(after)
        return came_by


def parts_of(closed: Conduction) -> dict[str, str]:
    """For each node the first node of the part of the network in which what conducts holds it."""
    parts: dict[str, str] = {}
    for node in closed.neighbours:
        if node not in parts:
            parts.update(dict.fromkeys(closed.ways_from(node), node))
    return parts


def conduction(elements: Iterable[Element], is_closed: IsClosed) -> Conduction:
    """What conducts among `elements` when `is_closed` says which of them do."""
    neighbours: dict[str, list[tuple[str, Element]]] = {}
    supplies: dict[str, list[Element]] = {}
    grounds: dict[str, list[Element]] = {}
    for element in elements:
        if element.kind is ElementKind.SUPPLY:
            supplies.setdefault(element.a, []).append(element)
        elif element.kind is ElementKind.GROUND:
            grounds.setdefault(element.a, []).append(element)
        elif not element.kind.limits_current and is_closed(element):
            neighbours.setdefault(element.a, []).append((element.b, element))
            neighbours.setdefault(element.b, []).append((element.a, element))
    return Conduction(neighbours, supplies, grounds)


def way_to(came_by: Mapping[str, tuple[str, Element] | None], node: str) -> list[Element]:
    """The elements from the start of `came_by` to `node`, in order."""
    way: list[Element] = []
    link = came_by[node]
    while link is not None:
        way.append(link[1])
        link = came_by[link[0]]
    return way[::-1]


def closed_at(point: OperatingPoint) -> IsClosed:
    """Whether an element conducts in a solved state."""
    return partial(conducting, on=point.on, pulled_in=point.pulled_in)


def restless(network: Network, point: OperatingPoint) -> list[Element]:
    """Coils of relays whose voltage in a solved state calls for the other position."""
    return [
        coil
        for coil in network.electrical.elements
        if coil.kind is ElementKind.COIL
        and isinstance(coil.device, Relay)
        and (abs(point.across(coil)) >= network.parts.relays[coil.device.part].pull_in_v.value)
        is not (coil.device.name in point.pulled_in)
    ]


def all_on(element: Element) -> bool:
    """Whether an element conducts with every switch and driver on and every relay pulled in."""
    return element.kind is not ElementKind.BREAK
