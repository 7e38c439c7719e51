"""What the tips of steps read on a rig with one fault in it, from the pieces that the fault has part in alone.

Both tips of a step lie on one island (`Joined`) or on two that nothing joins (`Apart`). A fault between two islands
closes no loop, so it moves no reading within one of them; within an island it moves only the readings whose way shares
a piece with the loop that it closes, opens or alters.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from harnessgen.bench.faults.changes import Changes
from harnessgen.bench.faults.fault import TOUCH_OHM, Change, Exchanged, Meets, Series, Swapped, Thinner
from harnessgen.bench.setup.path_resistance import Beside, Edge, Tangle, beside, between
from harnessgen.bench.simulation.biconnected import Through
from harnessgen.bench.simulation.unpowered import Rig

Read = tuple[int, list[float]]
"""A step by its place, and what it reads on each rig."""


@dataclass(frozen=True)
class Joined:
    """Pairs of points, each on one island of `rigs`, which differ in nothing but the resistances of their loads."""

    rigs: Sequence[Rig]
    pairs: Sequence[tuple[int, int]]

    @cached_property
    def _ways(self) -> list[dict[int, Through]]:
        pieces = self.rigs[0].pieces
        return [{each.piece: each for each in pieces.way(a, b)} for a, b in self.pairs]

    @cached_property
    def good_ohms(self) -> list[list[float]]:
        """What each pair reads on each rig without a fault."""
        return [[sum(map(rig.pieces.across, way.values())) for rig in self.rigs] for way in self._ways]

    @cached_property
    def at(self) -> Mapping[int, list[int]]:
        """The pairs whose way leads through each piece."""
        found: dict[int, list[int]] = {}
        for place, way in enumerate(self._ways):
            for piece in way:
                found.setdefault(piece, []).append(place)
        return found

    def read(self, change: Change) -> Iterator[Read]:
        """The pairs that a change of one element, or a swap between islands, moves, with what they read."""
        rig = self.rigs[0]
        match change:
            case Series(spot=spot, ohm=ohm):
                if spot.mark in rig.edge_at:
                    edge = rig.edge_at[spot.mark]
                    yield from self._altered(edge, [ohm] * len(self.rigs))
            case Thinner(mark=mark, times=times):
                if mark in rig.edge_at:
                    edge = rig.edge_at[mark]
                    yield from self._altered(edge, [each.pieces.edges[edge].ohm * (times - 1.0) for each in self.rigs])
            case Meets(one=one, other=other, ohm=ohm):
                if one.mark in rig.ends_of and other.mark in rig.ends_of:
                    a, b = rig.ends_of[one.mark][one.end], rig.ends_of[other.mark][other.end]
                    if rig.island_at[a] == rig.island_at[b]:
                        yield from self._bridged(a, b, max(ohm, TOUCH_OHM))
            case Swapped(one=one, other=other) if one.mark in rig.edge_at and other.mark in rig.edge_at:
                # Each wire's place in its own loop is taken by the other wire with all of the other loop.
                pair = rig.edge_at[one.mark], rig.edge_at[other.mark]
                for edge, its in (pair, pair[::-1]):
                    yield from self._altered(edge, [each.pieces.loop_ohm(its) for each in self.rigs])

    def _altered(self, edge: int, ohms: Sequence[float]) -> Iterator[Read]:
        piece = self.rigs[0].pieces.hanging.piece_at[edge]
        for place in self.at.get(piece, ()):
            through = self._ways[place][piece]
            rows = zip(self.good_ohms[place], self.rigs, ohms, strict=True)
            yield place, [good + rig.pieces.more(through, edge, ohm) for good, rig, ohm in rows]

    def _bridged(self, a: int, b: int, ohm: float) -> Iterator[Read]:
        way = [each for each in self.rigs[0].pieces.way(a, b) if each.piece in self.at]
        if not way:
            return
        own = [ohm + rig.pieces.ohm(a, b) for rig in self.rigs]
        for place in dict.fromkeys(place for each in way for place in self.at[each.piece]):
            mine = self._ways[place]
            found = []
            for good, rig, all_round in zip(self.good_ohms[place], self.rigs, own, strict=True):
                moved = sum(
                    rig.pieces.moved(mine[each.piece], each.enters, each.leaves) for each in way if each.piece in mine
                )
                found.append(max(good - moved**2 / all_round, 0.0))
            yield place, found


@dataclass(frozen=True)
class Moved:
    """A rig with wires or contacts moved by a change: the pieces that they leave and enter, solved anew."""

    rig: Rig
    change: Swapped | Exchanged

    @cached_property
    def _edges(self) -> list[Edge]:
        """What is moved, where it was."""
        change = self.change
        if isinstance(change, Exchanged):
            return self.rig.mates(change.one, change.other)
        return [self.rig.edges[self.rig.edge_at[spot.mark]] for spot in (change.one, change.other)]

    @cached_property
    def _ends(self) -> list[int]:
        """Points that what is moved ends at, before or after."""
        index, after = self.rig.pieces.index, self.rig.changed(self._edges, self.change)
        points = dict.fromkeys(point for edge in (*self._edges, *after) for point in (edge.a, edge.b))
        return [index[point] for point in points if point in index]

    @cached_property
    def _hub(self) -> Mapping[int, int]:
        """One of these points for each island that the change touches."""
        return {self.rig.island_at[point]: point for point in self._ends}

    @cached_property
    def held(self) -> frozenset[int]:
        """Pieces between these points."""
        hub, island_at = self._hub, self.rig.island_at
        ways = (self.rig.pieces.way(point, hub[island_at[point]]) for point in self._ends)
        return frozenset(each.piece for way in ways for each in way)

    @cached_property
    def _beside(self) -> Beside:
        pieces = self.rig.pieces
        edges = [pieces.edges[edge] for piece in self.held for edge in pieces.hanging.members[piece]]
        # One that begins and ends at one point is in no piece.
        edges += [edge for edge in self._edges if edge.a == edge.b]
        return beside(self.rig.changed(edges, self.change))

    def between(self, a: int, b: int) -> tuple[float | Tangle, float]:
        """What is read between two points of touched islands is what the first is, or gives, and so many ohms more."""
        first, before = self._entry(a)
        second, after = self._entry(b)
        names = self.rig.pieces.names
        return between(self._beside, names[first], names[second]), before + after

    def _entry(self, point: int) -> tuple[int, float]:
        """Where the way from a point comes to what is solved anew, and the ohms on that way."""
        pieces, ohm = self.rig.pieces, 0.0
        hub = self._hub[self.rig.island_at[point]]
        for each in pieces.way(point, hub):
            if each.piece in self.held:
                return each.enters, ohm
            ohm += pieces.across(each)
        return hub, ohm


def rows_within(rig: Rig, changes: Changes) -> list[int]:
    """Places of the changes that may move a reading within an island: all but the bridges between two, most of all."""
    island_of = {mark: rig.island_at[a] for mark, (a, _) in rig.ends_of.items()}
    meetings = changes.meetings
    one, other = meetings.ends([island_of.get(spot.mark, -1) for spot in meetings.spots])
    return sorted((*changes.others, *meetings.row[(one == other) & (one >= 0)].tolist()))
