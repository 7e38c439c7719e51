"""A network parted where it hangs together by one point alone, so that a change is worked out where it matters.

Current that leaves a piece by one point can only come back by it. So the resistance between two points is the sum over
the pieces on the way, each from the point where the way enters it to the point where it leaves. A wire that is on no
loop is a piece by itself; what is on a common loop is one piece (the blocks of a graph: Hopcroft and Tarjan, 1973).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import inf
from typing import NamedTuple

import numpy as np

from harnessgen.bench.setup.path_resistance import Edge
from harnessgen.physics.nodal.elements import Ints, Sources
from harnessgen.physics.nodal.solution import ResistiveNetwork, assemble_arrays

_CELLS = 2_000_000
"""Voltages that are held at one time while pieces are solved."""


class Through(NamedTuple):
    """A piece on a way, with the points where the way enters and leaves it."""

    piece: int
    enters: int
    leaves: int


class Hanging(NamedTuple):
    """How each point hangs on the root of its island.

    `piece_of` is the piece that leads there (-1 at the root), `up` the point of that piece next to the root, `depth`
    the number of pieces above; `members` are the edges of each piece, `piece_at` the piece of each edge (-1 where it
    begins and ends at one point).
    """

    piece_of: list[int]
    up: list[int]
    depth: list[int]
    members: list[list[int]]
    piece_at: list[int]


@dataclass(frozen=True)
class Pieces:
    """Edges between points, parted into pieces; points and edges are known by their numbers."""

    edges: Sequence[Edge]
    index: Mapping[str, int]

    @cached_property
    def ends(self) -> list[tuple[int, int]]:
        """Points at the ends of each edge."""
        return [(self.index[edge.a], self.index[edge.b]) for edge in self.edges]

    @cached_property
    def names(self) -> Sequence[str]:
        """Names of the points in the order of their numbers."""
        return tuple(self.index)

    @cached_property
    def hanging(self) -> Hanging:
        """How the points hang together."""
        return _hanging(len(self.index), self.ends)

    def way(self, a: int, b: int) -> list[Through]:
        """The pieces from one point of an island to another, one after the other."""
        piece_of, up, depth, *_ = self.hanging
        found, back = [], []
        while a != b:
            if piece_of[a] == piece_of[b]:
                found.append(Through(piece_of[a], a, b))
                break
            if depth[a] >= depth[b]:
                found.append(Through(piece_of[a], a, up[a]))
                a = up[a]
            else:
                back.append(Through(piece_of[b], up[b], b))
                b = up[b]
        return [*found, *reversed(back)]

    def ohm(self, a: int, b: int) -> float:
        """Resistance between two points of an island, in ohm."""
        return sum(self.across(through) for through in self.way(a, b))

    def across(self, through: Through) -> float:
        """Resistance of a piece from where it is entered to where it is left, in ohm."""
        piece, enters, leaves = through
        members = self.hanging.members[piece]
        if len(members) == 1:
            return self.edges[members[0]].ohm
        return self.moved(through, enters, leaves)

    def moved(self, through: Through, one: int, other: int) -> float:
        """Volts from `one` to `other`, both of that piece, for an ampere that enters and leaves it so."""
        piece, enters, leaves = through
        members = self.hanging.members[piece]
        if len(members) == 1:
            if one == other:
                return 0.0
            return self.edges[members[0]].ohm if one == enters else -self.edges[members[0]].ohm
        place, volts = self._volts[piece]
        enters, leaves, one, other = place[enters], place[leaves], place[one], place[other]
        return (volts[one][enters] - volts[other][enters]) - (volts[one][leaves] - volts[other][leaves])

    def share(self, through: Through, edge: int) -> float:
        """How much of an ampere that enters and leaves the edge's piece so flows in that edge, at most 1."""
        if len(self.hanging.members[through.piece]) == 1:
            return 1.0
        return abs(self.moved(through, *self.ends[edge])) / self.edges[edge].ohm

    def more(self, through: Through, edge: int, ohm: float) -> float:
        """By how much the resistance of a piece rises when `ohm` (infinite for an open) is put into an edge of it.

        A volt in series with the edge drives 1 / loop amperes, so that what is put in is beside the rest of its loop.
        """
        loop = self.loop_ohm(edge)
        beside = ohm if loop == inf else loop if ohm == inf else ohm * loop / (loop + ohm)
        return beside * self.share(through, edge) ** 2

    def loop_ohm(self, edge: int) -> float:
        """Its own resistance and that of all other ways from end to end of it, in ohm; infinite where there is none."""
        return self._loops.get(edge, inf)

    @cached_property
    def _looped(self) -> list[int]:
        return [piece for piece, members in enumerate(self.hanging.members) if len(members) > 1]

    @cached_property
    def _places(self) -> Mapping[int, Mapping[int, int]]:
        """For each looped piece the place of each of its points, in the order of their numbers."""
        found = {}
        for piece in self._looped:
            points = {point for edge in self.hanging.members[piece] for point in self.ends[edge]}
            found[piece] = {point: place for place, point in enumerate(sorted(points))}
        return found

    @cached_property
    def _starts(self) -> Mapping[int, int]:
        """The first node of each looped piece, where all of them are one network."""
        starts, total = {}, 0
        for piece in self._looped:
            starts[piece] = total
            total += len(self._places[piece])
        return starts

    @cached_property
    def _network(self) -> ResistiveNetwork:
        """The looped pieces side by side, each with its first point held at 0 V."""
        rows = [
            (self._starts[piece] + self._places[piece][a], self._starts[piece] + self._places[piece][b], edge)
            for piece in self._looped
            for edge in self.hanging.members[piece]
            for a, b in (self.ends[edge],)
        ]
        count = sum(map(len, self._places.values()))
        ohms = [self.edges[edge].ohm for *_, edge in rows]
        held = dict.fromkeys(self._starts.values(), 0.0)
        return assemble_arrays(count, [row[0] for row in rows], [row[1] for row in rows], ohms, held)

    @cached_property
    def _volts(self) -> Mapping[int, tuple[Mapping[int, int], list[list[float]]]]:
        """For each looped piece the place of its points, and the volts at each (rows) for an ampere into each."""
        network, count = self._network, self._network.elements.node_count
        most = max(map(len, self._places.values()))
        spread = np.zeros((count, most))
        place = np.concatenate([np.arange(len(places)) for places in self._places.values()])
        for columns in _chunks(most, count):
            injected = np.zeros((count, len(columns)))
            nodes = np.nonzero((place >= columns[0]) & (place <= columns[-1]) & ~network.fixed)[0]
            injected[nodes, place[nodes] - columns[0]] = 1.0
            spread[:, columns] = network.state(Sources(np.zeros_like(injected), injected)).high_v
        return {
            piece: (places, spread[self._starts[piece] : self._starts[piece] + len(places), : len(places)].tolist())
            for piece, places in self._places.items()
        }

    @cached_property
    def _loops(self) -> Mapping[int, float]:
        edges = [edge for piece in self._looped for edge in self.hanging.members[piece]]
        if not edges:
            return {}
        network, count = self._network, self._network.elements.node_count
        column = np.array([at for piece in self._looped for at in range(len(self.hanging.members[piece]))])
        found = np.zeros(len(edges))
        for columns in _chunks(int(column.max()) + 1, count):
            driven = np.nonzero((column >= columns[0]) & (column <= columns[-1]))[0]
            at = column[driven] - columns[0]
            nothing = np.zeros((count, len(columns)))
            state = network.state(Sources(nothing, nothing, driven, at))
            found[driven] = 1.0 / np.abs(state.current_a[driven, at])
        return dict(zip(edges, found.tolist(), strict=True))


def _chunks(columns: int, nodes: int) -> Iterator[Ints]:
    width = max(1, _CELLS // nodes)
    for start in range(0, columns, width):
        yield np.arange(start, min(start + width, columns))


def _hanging(count: int, ends: Sequence[tuple[int, int]]) -> Hanging:
    around: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    for edge, (a, b) in enumerate(ends):
        if a != b:
            around[a].append((b, edge))
            around[b].append((a, edge))
    order = [-1] * count
    found = [each for root in range(count) if order[root] < 0 for each in _pieces_below(root, around, order)]
    piece_of, up, depth, piece_at = [-1] * count, [-1] * count, [0] * count, [-1] * len(ends)
    # A piece is found after all that hang below it.
    for piece in reversed(range(len(found))):
        top, members = found[piece]
        for edge in members:
            piece_at[edge] = piece
            for point in ends[edge]:
                if point != top:
                    piece_of[point], up[point], depth[point] = piece, top, depth[top] + 1
    return Hanging(piece_of, up, depth, [members for _, members in found], piece_at)


def _pieces_below(
    root: int, around: Sequence[Sequence[tuple[int, int]]], order: list[int]
) -> Iterator[tuple[int, list[int]]]:
    """Each piece below a root: its point next to the root, and its edges; `order` is that in which points are met."""
    order[root] = reached = 0
    low = {root: 0}
    pile: list[int] = []
    stack = [(root, -1, iter(around[root]))]
    while stack:
        point, arrived, rest = stack[-1]
        for other, edge in rest:
            if order[other] < 0:
                reached += 1
                order[other] = low[other] = reached
                pile.append(edge)
                stack.append((other, edge, iter(around[other])))
                break
            if edge != arrived and order[other] < order[point]:
                pile.append(edge)
                low[point] = min(low[point], order[other])
        else:
            stack.pop()
            if stack:
                above = stack[-1][0]
                low[above] = min(low[above], low[point])
                if low[point] >= order[above]:
                    members = [pile.pop()]
                    while members[-1] != arrived:
                        members.append(pile.pop())
                    yield above, members
