"""What each fuse protects, and what a supply feeds before any fuse."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import networkx

from harnessgen.design.records.device import Driver, Fuse, Ground, Supply
from harnessgen.measures.frozen import frozen
from harnessgen.network.conduction import Conduction, conduction, way_to
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection.short_current import CHAFE_OHM
from harnessgen.rules.protection.ways_between import WaysBetween

_KEPT = "protected"


@frozen
class Protected:
    """A fuse with the wires behind it: those that a short in them would draw through this fuse and no other."""

    fuse: Fuse
    element: Element
    wires: tuple[Element, ...]
    near: str
    """Node of the fuse on its side away from the supplies."""
    in_line: tuple[Element, ...] = ()
    """Wires that its current runs through too, though they lie not behind it: from the supply before any fuse, and
    back to ground from what it feeds. Of several fuses the one of highest rating has them."""

    @property
    def held(self) -> tuple[Element, ...]:
        """All wires that have to stand what it lets through."""
        return *self.wires, *self.in_line


def protected(physics: Physics) -> tuple[Protected, ...]:
    """Each fuse with what it protects: what its side away from the supplies reaches before loads and other fuses."""
    if _KEPT not in physics.kept:
        physics.kept[_KEPT] = _protected(physics.network)
    found: tuple[Protected, ...] = physics.kept[_KEPT]
    return found


def _protected(network: Network) -> tuple[Protected, ...]:
    found = behind_fuses(network)
    in_line = _InLine(network)
    holder: dict[str, Protected] = {}
    lines: dict[str, Element] = {}
    behind = {wire.name for each in found for wire in each.wires}
    for each in sorted(found, key=lambda one: -one.fuse.rating_a.value):
        for wire in in_line.wires(each):
            if wire.name not in behind:
                lines[wire.name] = wire
                holder.setdefault(wire.name, each)
    held: dict[str, list[Element]] = {}
    for name, wire in lines.items():
        held.setdefault(holder[name].element.name, []).append(wire)
    return tuple(
        replace(each, in_line=tuple(wire for wire in held.get(each.element.name, ()) if holder[wire.name] is each))
        for each in found
    )


def behind_fuses(network: Network) -> tuple[Protected, ...]:
    """Each fuse with the wires behind it alone, without those in line with it."""
    return tuple(_behind(network))


def _behind(network: Network) -> Iterator[Protected]:
    ways, closed = network.unfused_ways, network.ways
    far = far_ends(closed)
    grounds = frozenset(ways.grounds)
    for element in network.electrical.elements:
        if not isinstance(element.device, Fuse):
            continue
        for node in _away(closed, far, element):
            wires: dict[str, Element] = {}
            # Beyond a ground point no wire is protected by this fuse; a way that leads there is a short, told as one.
            reached = ways.part(node, grounds)
            if any(each in ways.supplies for each in reached):
                continue
            for at in reached:
                wires.update({each.name: each for _, each in ways.at(at) if each.wire is not None})
        yield Protected(element.device, element, tuple(wires.values()), node)


def _is_in_line(element: Element) -> bool:
    # An output that is on when a load behind it shorts carries the current of the fuse until that opens, unless it
    # limits its current by itself.
    is_limiting = isinstance(element.device, Driver) and element.device.drive is not None
    return element.kind is not ElementKind.FUSE and not is_limiting


@dataclass(frozen=True)
class _InLine:
    """Wires without a fuse between the supplies and a fuse, and between the loads that it feeds and the grounds."""

    network: Network

    @cached_property
    def _ways(self) -> Conduction:
        return conduction(self.network.electrical, _is_in_line)

    @cached_property
    def _grounds(self) -> frozenset[str]:
        """Ground points that a dead short can run through."""
        return frozenset(
            node
            for node, found in self._ways.grounds.items()
            if any(isinstance(one.device, Ground) and one.device.resistance_ohm.value <= CHAFE_OHM for one in found)
        )

    @cached_property
    def _to_supplies(self) -> WaysBetween:
        return WaysBetween(self._ways, frozenset(self._ways.supplies), self._grounds)

    @cached_property
    def _to_grounds(self) -> WaysBetween:
        return WaysBetween(self._ways, self._grounds, frozenset(self._ways.supplies))

    @cached_property
    def _loads_at(self) -> Mapping[str, list[int]]:
        """The loads at each node, by their place among the elements."""
        found: dict[str, list[int]] = {}
        for place, each in enumerate(self.network.electrical.elements):
            if each.kind.does_work:
                for node in (each.a, each.b):
                    found.setdefault(node, []).append(place)
        return found

    def wires(self, each: Protected) -> Iterator[Element]:
        """Those in line with a fuse, some more than once."""
        before = each.element.b if each.near == each.element.a else each.element.a
        yield from self._to_supplies.wires(before)
        unfused = self.network.unfused_ways
        fed = frozenset(unfused.part(each.near, frozenset(unfused.grounds)))
        for place in sorted({place for node in fed for place in self._loads_at.get(node, ())}):
            load = self.network.electrical.elements[place]
            if (load.a in fed) is not (load.b in fed):
                yield from self._to_grounds.wires(load.b if load.a in fed else load.a)


def _away(closed: Conduction, far: Mapping[str, str], fuse: Element) -> tuple[str, ...]:
    """Ends of a fuse that no supply reaches but through it, other fuses closed; both where that tells nothing."""
    ends = (fuse.a, fuse.b)
    if not any(node in closed.grounds for node in ends):
        return (far[fuse.name],) if fuse.name in far else ends
    # A way may begin at a ground point, though none enters it.
    away = tuple(node for node in ends if not _is_fed(closed, node, without=fuse.name))
    return away if len(away) == 1 else ends


def _is_fed(closed: Conduction, node: str, without: str) -> bool:
    ways = closed.reached(node, without, closed.grounds)
    return node in closed.supplies or any(each in closed.supplies for _, each in ways)


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
    ways = network.unfused_ways
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


_SOURCE = ""
"""A node of its own that every supply hangs on."""


def far_ends(ways: Conduction) -> Mapping[str, str]:
    """By its name the far end of each element that alone feeds what lies behind it; no way enters a ground point.

    Such an element is a bridge of the graph of what the supplies reach; of its ends the one farther from them is
    behind.
    """
    parted: networkx.Graph[str] = networkx.Graph()
    parted.add_edges_from((a, b) for a, b in ways.graph.edges() if a not in ways.grounds and b not in ways.grounds)
    parted.add_edges_from((_SOURCE, supply) for supply in ways.supplies if supply not in ways.grounds)
    if _SOURCE not in parted:
        return {}
    steps = networkx.single_source_shortest_path_length(parted, _SOURCE)
    bridges = (ends for ends in networkx.bridges(parted, root=_SOURCE) if _SOURCE not in ends)
    # Elements side by side between the same two nodes are no bridges.
    between = ((ends, ways.graph.get_edge_data(*ends)) for ends in bridges)
    return {name: max(ends, key=steps.__getitem__) for ends, names in between if len(names) == 1 for name in names}
