"""Resistance between two places of a small network of wires, contacts and loads."""

from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from itertools import accumulate
from math import inf
from typing import NamedTuple

import numpy as np

from harnessgen.physics.nodal.solution import assemble_arrays


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


class Tangle(NamedTuple):
    """A network that is no tree, between whose points 0 and `end` a resistance is wanted."""

    points: int
    a: list[int]
    b: list[int]
    ohm: list[float]
    end: int


def ohm_between(at: Beside, a: str, b: str) -> float:
    """Resistance from `a` to `b`, in ohm; infinite where no way leads there."""
    return ohms_of([between(at, a, b)])[0]


def between(at: Beside, a: str, b: str) -> float | Tangle:
    """Resistance from `a` to `b`, in ohm, infinite where no way leads there, or the tangle that has to be solved."""
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
    if a == b:
        return 0.0
    if b not in back:
        return inf
    if len(used) == len(points) - 1:
        # In a tree the way is the only one.
        return sum(edge.ohm for edge in _back(back, b))
    index = {point: number for number, point in enumerate(points)}
    edges = [edge for edge in used.values() if edge.a != edge.b]
    ends = [index[edge.a] for edge in edges], [index[edge.b] for edge in edges]
    return Tangle(len(points), *ends, [edge.ohm for edge in edges], index[b])


def ohms_of(readings: Sequence[float | Tangle]) -> list[float]:
    """Resistances of all readings in ohm, the tangles among them solved together."""
    tangles = [each for each in readings if isinstance(each, Tangle)]
    if not tangles:
        return [each for each in readings if not isinstance(each, Tangle)]
    starts = [0, *accumulate(each.points for each in tangles)]
    placed = list(zip(starts[:-1], tangles, strict=True))
    network = assemble_arrays(
        starts[-1],
        [start + point for start, each in placed for point in each.a],
        [start + point for start, each in placed for point in each.b],
        [ohm for each in tangles for ohm in each.ohm],
        {start + each.end: 0.0 for start, each in placed},
    )
    # One ampere fed in at one end: the voltage there is the resistance to the other.
    injections = np.zeros(starts[-1])
    injections[starts[:-1]] = 1.0
    volts = iter(network.solve(injections).voltages_v[starts[:-1]].tolist())
    return [next(volts) if isinstance(each, Tangle) else each for each in readings]


def _back(back: Mapping[str, Edge], point: str) -> tuple[Edge, ...]:
    """Edges on the way to a point, from where the search began, by the edge that first led to each."""
    found: list[Edge] = []
    while point in back:
        found.append(back[point])
        point = back[point].other(point)
    return tuple(reversed(found))
