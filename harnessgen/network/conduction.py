"""What conducts at one time: the ways through wires, contacts, fuses and closed switches."""

from collections.abc import Callable, Container, Iterator, Mapping
from dataclasses import dataclass, field

import networkx

from harnessgen.network.electrical import Electrical, Element, ElementKind

IsClosed = Callable[[Element], bool]
"""Whether an element conducts."""


@dataclass(frozen=True, eq=False)
class Conduction:
    """The part of the electrical graph that conducts, loads and relay coils left out; supplies and grounds by node."""

    graph: "networkx.MultiGraph[str]"
    supplies: Mapping[str, list[Element]]
    grounds: Mapping[str, list[Element]]
    _place_of: Mapping[str, int]
    _parts: dict[frozenset[str], dict[str, tuple[str, ...]]] = field(default_factory=dict)
    _poles: dict[frozenset[str], dict[str, tuple[tuple[str, ...], tuple[str, ...]]]] = field(default_factory=dict)

    def reached(self, start: str, without: str = "", avoid: Container[str] = ()) -> Iterator[tuple[str, str]]:
        """Every node within reach of `start`, nearest first, behind the node before it.

        `without` names an element that is taken out, `avoid` nodes that are not entered.
        """
        graph = self.graph
        if start not in graph:
            return iter(())

        def beside(node: str) -> Iterator[str]:
            return (
                after
                for after in graph.neighbors(node)
                if after not in avoid and (not without or graph.get_edge_data(node, after).keys() != {without})
            )

        return networkx.generic_bfs_edges(graph, start, beside if without or avoid else graph.neighbors)

    def ways_from(
        self, start: str, without: str = "", avoid: Container[str] = ()
    ) -> dict[str, tuple[str, Element] | None]:
        """As `reached`, `start` itself first: by each node the one before it, and the element that leads there."""
        came_by: dict[str, tuple[str, Element] | None] = {start: None}
        for before, node in self.reached(start, without, avoid):
            between = self.graph.get_edge_data(before, node)
            came_by[node] = (before, next(data["record"] for name, data in between.items() if name != without))
        return came_by

    def part(self, start: str, barred: frozenset[str] = frozenset()) -> tuple[str, ...]:
        """All nodes that what conducts holds together with `start`, no way entering those of `barred`.

        Each part is walked once, from the first of its nodes that is asked for. Ways may begin at a barred node.
        """
        known = self._parts.setdefault(barred, {})
        if start not in known:
            found = (start, *(node for _, node in self.reached(start, avoid=barred)))
            # What hangs together by way of a barred node does not hang together otherwise.
            known.update(dict.fromkeys((start,) if start in barred else found, found))
        return known[start]

    def poles(self, start: str, barred: frozenset[str] = frozenset()) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Names of the supplies and of the ground points that ways lead to from `start`, as for `part`."""
        reached = self.part(start, barred)
        # A part is known by its first node, and a barred node by itself.
        known = self._poles.setdefault(barred, {})
        if reached[0] not in known:
            supplies = tuple(each.name for at in reached for each in self.supplies.get(at, ()))
            grounds = tuple(each.name for at in reached for each in self.grounds.get(at, ()))
            known[reached[0]] = supplies, grounds
        return known[reached[0]]

    def at(self, node: str) -> list[tuple[str, Element]]:
        """The elements at a node, in the order of edges, each with the node at its other end."""
        if node not in self.graph:
            return []
        found = [(after, data["record"]) for after, edges in self.graph.adj[node].items() for data in edges.values()]
        return sorted(found, key=lambda each: self._place_of[each[1].name])


def parts_of(closed: Conduction) -> dict[str, str]:
    """For each node the first node of the part of the network in which what conducts holds it."""
    return {node: closed.part(node)[0] for node in closed.graph}


def conduction(electrical: Electrical, is_closed: IsClosed) -> Conduction:
    """What conducts in a network when `is_closed` says which of its elements do."""
    poles: dict[ElementKind, dict[str, list[Element]]] = {ElementKind.SUPPLY: {}, ElementKind.GROUND: {}}
    for element in electrical.elements:
        if element.kind in poles:
            poles[element.kind].setdefault(element.a, []).append(element)
    graph = electrical.part(lambda each: each.kind not in poles and not each.kind.limits_current and is_closed(each))
    return Conduction(graph, poles[ElementKind.SUPPLY], poles[ElementKind.GROUND], electrical.place_of)


def way_to(came_by: Mapping[str, tuple[str, Element] | None], node: str) -> list[Element]:
    """The elements from the start of `came_by` to `node`, in order."""
    way: list[Element] = []
    link = came_by[node]
    while link is not None:
        way.append(link[1])
        link = came_by[link[0]]
    return way[::-1]
