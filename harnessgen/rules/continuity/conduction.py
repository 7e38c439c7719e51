"""What conducts at one time: the ways through wires, contacts, fuses and closed switches, and the loops of current."""

from collections.abc import Callable, Container, Iterable, Mapping
from dataclasses import dataclass

from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics.operating_point import OperatingPoint, conducting

IsClosed = Callable[[Element], bool]


@dataclass(frozen=True, slots=True)
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
        elif not element.kind.does_work and is_closed(element):
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
    return lambda element: conducting(element, point.on, point.pulled_in)


def all_on(element: Element) -> bool:
    """Whether an element conducts with every switch and driver on and every relay pulled in."""
    return element.kind is not ElementKind.BREAK


def in_loops(elements: Iterable[Element], is_closed: IsClosed) -> set[str]:
    """Names of the elements that lie on a loop through a supply: those that can carry its current.

    An element and a supply lie on a common loop if and only if they belong to the same block of the graph, which a
    depth-first walk finds (Tarjan 1972, Depth-first search and linear graph algorithms, from memory).
    """
    return _Blocks([each for each in elements if is_closed(each) and each.a != each.b]).with_supply()


class _Blocks:
    def __init__(self, elements: list[Element]) -> None:
        self.elements = elements
        self.at: dict[str, list[int]] = {}
        for number, element in enumerate(elements):
            self.at.setdefault(element.a, []).append(number)
            self.at.setdefault(element.b, []).append(number)
        self.depth: dict[str, int] = {}
        self.low: dict[str, int] = {}
        self.open: list[int] = []
        self.found: set[str] = set()

    def with_supply(self) -> set[str]:
        for node in self.at:
            if node not in self.depth:
                self._walk(node)
        return self.found

    def _walk(self, root: str) -> None:
        self.depth[root] = self.low[root] = 0
        # Node, the element that led to it, and what of its own elements is still to be followed.
        path = [(root, -1, iter(self.at[root]))]
        while path:
            node, came_by, rest = path[-1]
            number = next(rest, -1)
            if number == -1:
                path.pop()
                if path:
                    self._close(path[-1][0], node, came_by)
            elif number != came_by:
                element = self.elements[number]
                after = element.b if element.a == node else element.a
                if after not in self.depth:
                    self.open.append(number)
                    self.depth[after] = self.low[after] = len(path)
                    path.append((after, number, iter(self.at[after])))
                elif self.depth[after] < self.depth[node]:
                    self.open.append(number)
                    self.low[node] = min(self.low[node], self.depth[after])

    def _close(self, parent: str, node: str, came_by: int) -> None:
        self.low[parent] = min(self.low[parent], self.low[node])
        if self.low[node] < self.depth[parent]:
            return
        block: list[Element] = []
        number = -1
        while number != came_by:
            number = self.open.pop()
            block.append(self.elements[number])
        if len(block) > 1 and any(each.kind is ElementKind.SUPPLY for each in block):
            self.found.update(each.name for each in block)
