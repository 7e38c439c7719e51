"""The loops of current: what lies on a way from a supply through ground back to it."""

from collections.abc import Container, Iterable, Sequence
from functools import partial

from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics.operating_point import OperatingPoint, conducting
from harnessgen.physics.physics import Physics
from harnessgen.rules.continuity.conduction import IsClosed, closed_at, restless


def closures(physics: Physics, elements: Sequence[Element]) -> list[IsClosed]:
    """For each declared state which of `elements` conduct in it; one that closes everything where none is declared.

    A state in which relays find no rest counts in both positions. Where a short pulls the voltage down, a relay is
    taken to hold if its coil lies on a loop: the short is a finding of its own, and no reason why something is dead.
    """
    closed: list[IsClosed] = []
    for name, point in physics.points.items():
        if name in physics.shorted:
            closed.append(_held(elements, point))
            continue
        closed.append(closed_at(point))
        if not point.is_at_rest:
            changing = frozenset(each.device.name for each in restless(physics.network, point) if each.device)
            closed.append(partial(conducting, on=point.on, pulled_in=point.pulled_in ^ changing))
    return closed or [lambda element: True]


def _held(elements: Sequence[Element], point: OperatingPoint) -> IsClosed:
    """What conducts with the relays holding whose coils lie on a loop, whatever their voltage."""
    coils = {each.name: each.device.name for each in elements if each.kind is ElementKind.COIL and each.device}
    holding: frozenset[str] = frozenset()
    for _ in range(len(coils) + 1):
        live = in_loops(elements, partial(conducting, on=point.on, pulled_in=holding))
        holding = frozenset(relay for coil, relay in coils.items() if coil in live)
    return partial(conducting, on=point.on, pulled_in=holding)


def in_loops(elements: Iterable[Element], is_closed: IsClosed, sensors: Container[str] = ()) -> set[str]:
    """Names of the elements that lie on a loop through a supply, or through one of `sensors`: those that get current.

    An element and a supply lie on a common loop if and only if they belong to the same block of the graph, which a
    depth-first walk finds (Tarjan 1972, Depth-first search and linear graph algorithms, from memory).
    """
    blocks = _Blocks([each for each in elements if is_closed(each) and each.a != each.b]).found()
    return {
        each.name
        for block in blocks
        if any(one.kind is ElementKind.SUPPLY or one.name in sensors for one in block)
        for each in block
    }


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
        self.blocks: list[list[Element]] = []

    def found(self) -> list[list[Element]]:
        """The blocks of more than one element; each of the others leads nowhere."""
        for node in self.at:
            if node not in self.depth:
                self._walk(node)
        return [each for each in self.blocks if len(each) > 1]

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
        self.blocks.append(block)
