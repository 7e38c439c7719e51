"""What each fuse protects, and what a supply feeds before any fuse."""

from collections.abc import Iterator

from harnessgen.design.device import Fuse, Supply
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.rules.continuity.conduction import Conduction, conduction, way_to


@frozen
class Protected:
    """A fuse with the wires behind it: those that a short in them would draw through this fuse and no other."""

    fuse: Fuse
    element: Element
    wires: tuple[Element, ...]
    near: str
    """Node of the fuse on its side away from the supplies."""


def unfused_ways(network: Network) -> Conduction:
    """All that can conduct, with every fuse taken out."""
    return conduction(network.electrical.elements, lambda element: element.kind is not ElementKind.FUSE)


def protected(network: Network) -> Iterator[Protected]:
    """Each fuse with what it protects: what its side away from the supplies reaches before loads and other fuses."""
    ways = unfused_ways(network)
    for element in network.electrical.elements:
        if not isinstance(element.device, Fuse):
            continue
        for node in _away(network, element):
            wires: dict[str, Element] = {}
            # Beyond a ground point no wire is protected by this fuse; a way that leads there is a short, told as one.
            reached = ways.ways_from(node, avoid=ways.grounds)
            if any(each in ways.supplies for each in reached):
                continue
            for at in reached:
                wires.update({each.name: each for _, each in ways.neighbours.get(at, ()) if each.wire is not None})
        yield Protected(element.device, element, tuple(wires.values()), node)


def _away(network: Network, fuse: Element) -> tuple[str, ...]:
    """Ends of a fuse that no supply reaches but through it, other fuses closed; both where that tells nothing."""
    ways = conduction(network.electrical.elements, lambda each: each is not fuse)
    ends = (fuse.a, fuse.b)
    away = tuple(
        node for node in ends if not any(each in ways.supplies for each in ways.ways_from(node, avoid=ways.grounds))
    )
    return away if len(away) == 1 else ends


@frozen
class Unfused:
    """A wire that a supply feeds without a fuse: the way to its far end, wire by wire."""

    supply: Supply
    wire: Element
    way: tuple[Element, ...]
    feeds: tuple[str, ...]
    """Loads that the far end of the wire feeds directly, still without a fuse."""


def unfused(network: Network) -> Iterator[Unfused]:
    """Each wire before any fuse, the nearest to the supply first."""
    ways = unfused_ways(network)
    works: dict[str, list[str]] = {}
    for element in network.electrical.elements:
        if element.kind.does_work and element.device is not None:
            for node in (element.a, element.b):
                works.setdefault(node, []).append(element.device.name)
    for start, supplies in ways.supplies.items():
        supply = supplies[0].device
        if not isinstance(supply, Supply):
            continue
        came_by = ways.ways_from(start, avoid=ways.grounds)
        for node, link in came_by.items():
            if link is None or link[1].wire is None:
                continue
            beyond = (node, f"{node} mate")
            feeds = tuple(name for each in beyond for name in works.get(each, ()))
            yield Unfused(supply, link[1], tuple(way_to(came_by, node)), feeds)
