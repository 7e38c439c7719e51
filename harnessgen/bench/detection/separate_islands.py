"""Steps whose two tips lie on islands that nothing joins, and the bridges that join them."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from harnessgen.bench.faults.changes import Changes
from harnessgen.bench.faults.fault import TOUCH_OHM
from harnessgen.bench.simulation.unpowered import Rig
from harnessgen.physics.nodal.elements import Floats, Ints

_NOT_THERE = -1

Shows = Callable[[int, float], bool]
"""Whether a step, by its place, shows a fault with which it reads so many ohm: if it does, then with fewer ohm too."""


@dataclass(frozen=True)
class Bridges:
    """Two points each that touch through `ohm`, on different islands; `points` and `islands` have a row for each side.

    `rows` are the places of the changes that they are.
    """

    rows: Ints
    points: Ints
    islands: Ints
    ohm: Floats


@dataclass(frozen=True)
class Apart:
    """Steps from a point each of `near` to the points of `far`, clipped together at the first of them.

    No two points of one step are on the same island, so that a clip closes no loop.
    """

    rig: Rig
    near: Sequence[int]
    far: Sequence[Sequence[str]]

    @cached_property
    def clip(self) -> NDArray[np.int32]:
        """By step and island the point that is clipped to the second tip, or -1."""
        index, island_at = self.rig.pieces.index, np.array(self.rig.island_at)
        found = np.full((len(self.far), int(island_at.max()) + 1), _NOT_THERE, dtype=np.int32)
        for place, points in enumerate(self.far):
            held = np.array([index[point] for point in points if point in index], dtype=np.intp)
            found[place, island_at[held]] = held
        return found

    @cached_property
    def from_island(self) -> Mapping[int, list[int]]:
        """The steps whose first tip is on each island."""
        found: dict[int, list[int]] = {}
        for place, point in enumerate(self.near):
            found.setdefault(self.rig.island_at[point], []).append(place)
        return found

    def between(self, one: int, other: int) -> Iterator[tuple[int, int]]:
        """The steps with a tip on each of two islands, with the point that is clipped on."""
        for near, far in ((one, other), (other, one)):
            for place in self.from_island.get(near, ()):
                clip = int(self.clip[place, far])
                if clip != _NOT_THERE:
                    yield place, clip

    def lead_ohm(self, place: int, clip: int) -> float:
        """From a point in the clip to the second tip, in ohm."""
        return 0.0 if self.rig.pieces.names[clip] == self.far[place][0] else TOUCH_OHM

    def shown(self, bridges: Bridges, shows: Shows) -> Iterator[tuple[int, Ints]]:
        """The steps that bridges lead through, each with the bridges that it shows, by their place."""
        for side in (0, 1):
            islands = bridges.islands[side]
            order = np.argsort(islands, kind="stable")
            nears = np.array([self.rig.island_at[point] for point in self.near])
            first, last = (np.searchsorted(islands[order], nears, end) for end in ("left", "right"))
            for place in np.nonzero(first < last)[0].tolist():
                here = order[first[place] : last[place]]
                here = here[self.clip[place, bridges.islands[1 - side, here]] != _NOT_THERE]
                for ohm in np.unique(bridges.ohm[here]).tolist():
                    alike = here[bridges.ohm[here] == ohm]
                    yield place, alike[self._is_shown(place, alike, bridges, side, shows)]

    def _is_shown(self, place: int, here: Ints, bridges: Bridges, side: int, shows: Shows) -> NDArray[np.bool_]:
        """For bridges of one resistance whether a step shows each: mostly the longest ways decide for all."""
        ohm = float(bridges.ohm[here[0]])
        whole = self._whole_ohm[bridges.islands[:, here]]
        if shows(place, float(np.max(whole[0] + whole[1])) + ohm + TOUCH_OHM):
            return np.ones(len(here), dtype=np.bool_)
        if not shows(place, ohm):
            return np.zeros(len(here), dtype=np.bool_)
        points = bridges.points[:, here]
        pairs = zip(points[side].tolist(), points[1 - side].tolist(), strict=True)
        return np.array([shows(place, self._ohm(place, one, ohm, other)) for one, other in pairs], dtype=np.bool_)

    def _ohm(self, place: int, one: int, ohm: float, other: int) -> float:
        """What a step reads with a bridge of so many ohm from `one`, on the island of its first tip, to `other`."""
        pieces, clip = self.rig.pieces, int(self.clip[place, self.rig.island_at[other]])
        return pieces.ohm(self.near[place], one) + ohm + pieces.ohm(other, clip) + self.lead_ohm(place, clip)

    @cached_property
    def _whole_ohm(self) -> Floats:
        """By island the sum of all its edges, above which no reading within it lies."""
        island_at = np.array(self.rig.island_at)
        found = np.zeros(int(island_at.max()) + 1)
        ends = [a for a, _ in self.rig.pieces.ends]
        np.add.at(found, island_at[ends], [edge.ohm for edge in self.rig.pieces.edges])
        return found


def bridges_of(rig: Rig, changes: Changes) -> Bridges:
    """The changes that join two islands of a rig."""
    meetings, nowhere = changes.meetings, (_NOT_THERE, _NOT_THERE)
    points = np.array(meetings.ends([rig.ends_of.get(spot.mark, nowhere)[spot.end] for spot in meetings.spots]))
    islands = np.array(rig.island_at)[points]
    kept = (points != _NOT_THERE).all(axis=0) & (islands[0] != islands[1])
    return Bridges(meetings.row[kept], points[:, kept], islands[:, kept], meetings.ohm[kept])
