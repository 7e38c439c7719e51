"""The harness as it stands during a block of steps, unpowered, and what a meter on ohms reads with a fault in it.

The points that wires, mated contacts and loads join for good are one island. A fault touches one or two islands; a step
whose two places lie in others reads what it read before, so that the work grows with the size of the harness and not
with its square.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import isinf

from harnessgen.bench.faults.fault import TOUCH_OHM, Change, Exchanged, Meets, Series, Spot, Swapped, Thinner
from harnessgen.bench.setup.path_resistance import Beside, Edge, Tangle, beside, between, ohms_of
from harnessgen.bench.setup.section_nets import point_of
from harnessgen.bench.simulation.biconnected import Pieces
from harnessgen.network.joined import joined
from harnessgen.network.network import Network

METAL_POINT = "metal"
_CUT = " cut end"


@dataclass(frozen=True)
class Rig:
    """Edges of the harness as it stands; `is_landed` says that wires on one stud touch there.

    `metal` are the points that lie on ground while this rig stands.
    """

    network: Network
    edges: tuple[Edge, ...]
    is_landed: bool
    metal: frozenset[str] = frozenset()

    @cached_property
    def _edge_of(self) -> Mapping[str, Edge]:
        return {edge.name: edge for edge in self.edges}

    @cached_property
    def islands(self) -> Mapping[str, int]:
        """Number of the island of each point."""
        metal = sorted(self.metal | {METAL_POINT})
        pairs = [(edge.a, edge.b) for edge in self.edges]
        return joined([*pairs, *((metal[0], point) for point in metal)])

    @cached_property
    def pieces(self) -> Pieces:
        """All edges, what ties the metal together too, parted where they hang together by one point."""
        return Pieces((*self.edges, *self._metal_edges), {point: number for number, point in enumerate(self.islands)})

    @cached_property
    def island_at(self) -> Sequence[int]:
        """Number of the island of each point, by the number of the point in `pieces`."""
        return tuple(self.islands.values())

    @cached_property
    def ends_of(self) -> Mapping[str, tuple[int, int]]:
        """Numbers of the points at both ends of each wire of the rig, by its mark; under no mark that of bare metal."""
        index = self.pieces.index
        found = {"": (index[METAL_POINT], index[METAL_POINT])}
        for mark in self._edge_of:
            if mark in self.network.wire_of:
                one, other = (index.get(self.point(Spot(mark, end)) or "") for end in (0, 1))
                if one is not None and other is not None:
                    found[mark] = one, other
        return found

    @cached_property
    def edge_at(self) -> Mapping[str, int]:
        """Number of each wire's edge in `pieces`, by the wire's mark."""
        return {edge.name: number for number, edge in enumerate(self.edges) if edge.name in self.ends_of}

    @cached_property
    def _edges_of(self) -> Mapping[int, list[Edge]]:
        found: dict[int, list[Edge]] = {}
        for edge in self.edges:
            found.setdefault(self.islands[edge.a], []).append(edge)
        return found

    def point(self, spot: Spot) -> str | None:
        """The point at which an end of a wire is; None where that wire is no part of the rig."""
        if not spot.mark:
            return METAL_POINT
        edge = self._edge_of.get(spot.mark)
        if edge is None:
            return None
        wire = self.network.wire_of[spot.mark]
        end = wire.ends[spot.end]
        return end.node if self.is_landed else point_of(wire, end)

    def touched(self, change: Change | None) -> frozenset[int]:
        """Islands that a change touches; none where it has no part in this rig."""
        points = [point for point in self._points(change) if point is not None]
        return frozenset(self.islands[point] for point in points if point in self.islands)

    def _points(self, change: Change | None) -> Iterator[str | None]:
        match change:
            case Series(spot=spot):
                yield self.point(spot)
            case Meets(one=one, other=other) | Swapped(one=one, other=other):
                both = self.point(one), self.point(other)
                # A wire of another section is not on this bench.
                if None not in both:
                    yield from both
            case Thinner(mark=mark):
                yield self.point(Spot(mark))
            case Exchanged(one=one, other=other):
                yield from (node for edge in self.mates(one, other) for node in (edge.a, edge.b))
            case _:
                return

    def is_moved_within(self, change: Change) -> bool:
        """Whether a change moves contacts, or two edges of one island, so that no single loop tells what it does."""
        match change:
            case Exchanged(one=one, other=other):
                return bool(self.mates(one, other))
            case Swapped(one=one, other=other) if one.mark in self.edge_at and other.mark in self.edge_at:
                numbers = [self.edge_at[one.mark], self.edge_at[other.mark]]
                islands = {self.island_at[self.ends_of[spot.mark][spot.end]] for spot in (one, other)}
                return len(islands) == 1 or any(self.pieces.hanging.piece_at[number] < 0 for number in numbers)
            case _:
                return False

    def mates(self, *connectors: str) -> list[Edge]:
        """Contacts between the cavities of these connectors and what is plugged into them."""
        return [edge for name in dict.fromkeys(connectors) for edge in self._mates_of.get(name, ())]

    @cached_property
    def _mates_of(self) -> Mapping[str, list[Edge]]:
        found: dict[str, list[Edge]] = {}
        for edge in self.edges:
            if edge.b == f"{edge.a} mate":
                found.setdefault(edge.a.partition("/")[0], []).append(edge)
        return found

    @cached_property
    def _metal_edges(self) -> list[Edge]:
        return [Edge("", METAL_POINT, point, TOUCH_OHM) for point in sorted(self.metal)]

    @cached_property
    def beside_of(self) -> Mapping[int, Beside]:
        """What lies beside each point, island by island, without a fault."""
        return {island: beside(self.edges_of((island,))) for island in set(self.islands.values())}

    def edges_of(self, islands: Iterable[int], change: Change | None = None) -> list[Edge]:
        """Edges of some islands with a fault in them; what lies on ground is tied together there."""
        held = sorted(islands)
        edges = [edge for island in held for edge in self._edges_of.get(island, ())]
        if change is not None:
            edges = list(self.changed(edges, change))
        return [*edges, *self._metal_edges] if self.islands[METAL_POINT] in held else edges

    def ohm(self, a: Sequence[str], b: Sequence[str], change: Change | None = None) -> float:
        """Resistance between two places, each of one or more points clipped together, with a fault in the harness."""
        return ohms_of([Broken(self, change).between(a, b)])[0]

    def changed(self, edges: Iterable[Edge], change: Change) -> Iterator[Edge]:
        """Some of the edges with a fault in them, and what it adds between any."""
        match change:
            case Series(spot=spot, ohm=ohm):
                for edge in edges:
                    if edge.name != spot.mark:
                        yield edge
                    elif not isinf(ohm):
                        yield edge._replace(ohm=edge.ohm + ohm)
                    else:
                        # The wire hangs on at its other end.
                        kept = edge.b if self.point(spot) == edge.a else edge.a
                        yield Edge(edge.name, kept, spot.mark + _CUT, edge.ohm)
            case Thinner(mark=mark, times=times):
                yield from (e._replace(ohm=e.ohm * times) if e.name == mark else e for e in edges)
            case Meets(one=one, other=other, ohm=ohm):
                yield from edges
                first, second = self.point(one), self.point(other)
                if first is not None and second is not None:
                    yield Edge("touching", first, second, max(ohm, TOUCH_OHM))
            case Swapped(one=one, other=other):
                first, second = self.point(one), self.point(other)
                moved = {one.mark: (first, second), other.mark: (second, first)}
                for edge in edges:
                    left, arrived = moved.get(edge.name, (None, None))
                    if left is None or arrived is None or None in (first, second):
                        yield edge
                    elif edge.a == left:
                        yield edge._replace(a=arrived)
                    else:
                        yield edge._replace(b=arrived)
            case Exchanged(one=one, other=other):
                mates = {edge.name for edge in self.mates(one, other)}
                other_of = {one: other, other: one}
                for edge in edges:
                    if edge.name in mates:
                        name, _, cavity = edge.a.partition("/")
                        yield edge._replace(a=f"{other_of[name]}/{cavity}")
                    else:
                        yield edge
            case _:
                yield from edges


@dataclass(frozen=True)
class Broken:
    """A rig with a fault, to be read between many places."""

    rig: Rig
    change: Change | None

    @cached_property
    def _touched(self) -> frozenset[int]:
        return self.rig.touched(self.change)

    @cached_property
    def _beside(self) -> Beside:
        return beside(self.rig.edges_of(self._touched, self.change))

    def between(self, a: Sequence[str], b: Sequence[str]) -> float | Tangle:
        """Resistance between two places, each of one or more points clipped together, in ohm, or what gives it."""
        islands = self.rig.islands
        times = Counter(islands[point] for point in (*a, *b) if point in islands)
        # What hangs on a clip by one point alone leads nowhere, unless the fault or the other tip is on it.
        needed = {islands[point] for point in (a[0], b[0]) if point in islands}
        needed |= {island for island, count in times.items() if count > 1}
        at = self._beside
        for island in sorted(needed - self._touched):
            at = {**at, **self.rig.beside_of[island]}
        clips = beside(Edge("", points[0], point, TOUCH_OHM) for points in (a, b) for point in points[1:])
        if clips:
            at = {**at, **{point: [*at.get(point, ()), *edges] for point, edges in clips.items()}}
        return between(at, a[0], b[0])
