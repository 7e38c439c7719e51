"""Resistance between two places of a small network of wires, contacts and loads."""

from collections import deque
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from harnessgen.physics.nodal import Resistor, assemble


class Edge(NamedTuple):
    """A resistance between two points; `name` is the wire, contact or load that it stands for."""

    name: str
    a: str
    b: str
    ohm: float

    def other(self, point: str) -> str:
        """The end that is not `point`."""
        return self.b if self.a == point else self.a


Beside = Mapping[str, list[Edge]]
"""The edges at each point."""


def beside(edges: Iterable[Edge]) -> Beside:
    """Edges by the points at their ends."""
    found: dict[str, list[Edge]] = {}
    for edge in edges:
        found.setdefault(edge.a, []).append(edge)
        found.setdefault(edge.b, []).append(edge)
    return found


def way(at: Beside, a: str, b: str) -> tuple[Edge, ...]:
    """Edges on the shortest way (fewest pieces) from `a` to `b`; empty where no way leads there."""
    back: dict[str, Edge] = {}
    queue = deque([a])
    while queue and b not in back:
        point = queue.popleft()
        for edge in at.get(point, ()):
            other = edge.other(point)
            if other != a and other not in back:
                back[other] = edge
                queue.append(other)
    return _back(back, b)


def ohm_between(at: Beside, a: str, b: str) -> float:
    """Resistance from `a` to `b`, in ohm; infinite where no way leads there."""
    points = [a]
    used: dict[int, Edge] = {}
    back: dict[str, Edge] = {}
    for point in points:
        for edge in at.get(point, ()):
            used[id(edge)] = edge
            other = edge.b if edge.a == point else edge.a
            if other not in back and other != a:
                back[other] = edge
                points.append(other)
    if a == b or b not in back:
        return 0.0 if a == b else float("inf")
    if len(used) == len(points) - 1:
        # In a tree the way is the only one.
        return sum(edge.ohm for edge in _back(back, b))
    index = {point: number for number, point in enumerate(points)}
    resistors = [Resistor(index[edge.a], index[edge.b], edge.ohm) for edge in used.values() if edge.a != edge.b]
    # One ampere fed in at one end: the voltage there is the resistance to the other.
    injections = [1.0 if point == a else 0.0 for point in points]
    return float(assemble(len(points), resistors, {index[b]: 0.0}).solve(injections).voltages_v[index[a]])


def _back(back: Mapping[str, Edge], point: str) -> tuple[Edge, ...]:
    """Edges on the way to a point, from where the search began, by the edge that first led to each."""
    found: list[Edge] = []
    while point in back:
        found.append(back[point])
        point = back[point].other(point)
    return tuple(reversed(found))
