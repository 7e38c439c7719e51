"""The most valuable set of cuts that one bar holds, for bars of every length at once."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from math import gcd

import numpy
from numpy.typing import NDArray

MOST_WORK = 12_000_000
"""Cells of all cuts together; where the lengths have no common unit that coarse, cuts are rounded up to one."""


@dataclass(frozen=True, slots=True)
class LengthGrid:
    """Lengths in whole units of `unit_um`, cuts rounded up and bars rounded down.

    `is_exact` says that nothing was lost by rounding: what is best on the grid is best.
    """

    unit_um: int
    cuts: tuple[int, ...]
    bars: tuple[int, ...]
    is_exact: bool


def grid_of(cuts_um: Sequence[int], bars_um: Sequence[int]) -> LengthGrid:
    """Grid for cuts and bars: their greatest common unit, if it is not too fine."""
    common = reduce(gcd, cuts_um)
    longest = max(bars_um)
    unit = max(common, -(-longest * (len(cuts_um) + 10) // MOST_WORK))
    is_exact = unit == common
    return LengthGrid(unit, tuple(-(-cut // unit) for cut in cuts_um), tuple(bar // unit for bar in bars_um), is_exact)


class Knapsack:
    """Best sets of cuts for every length of bar up to the longest, each cut at most as often as it is wanted."""

    def __init__(self, grid: LengthGrid, values: NDArray[numpy.float64], wanted: Sequence[int]) -> None:

        self.grid = grid
        self.values = values
        cells = max(grid.bars)
        best = numpy.zeros(cells + 1)
        self.steps: list[tuple[int, int, NDArray[numpy.bool_]]] = []
        for item, (cut, value) in enumerate(zip(grid.cuts, values, strict=True)):
            if value <= 0.0:
                continue
            for copies in _bundles(min(wanted[item], cells // cut)):
                length, worth = cut * copies, value * copies
                taken = numpy.zeros(cells + 1, dtype=bool)
                with_it = best[: cells + 1 - length] + worth
                better = with_it > best[length:] + 1e-12
                taken[length:] = better
                best = best.copy()
                best[length:][better] = with_it[better]
                self.steps.append((item, copies, taken))
        self.best = best

    def value(self, bar: int) -> float:
        """Value of the best set for the bar at this place of the grid."""
        return float(self.best[self.grid.bars[bar]])

    def worth_with_each(self, bar: int) -> list[tuple[int, float]]:
        """Each cut that fits the bar with about the value of the best set that it is in, the most valuable first."""
        room = self.grid.bars[bar]
        worth = [
            (item, float(self.values[item] + self.best[room - cut]))
            for item, cut in enumerate(self.grid.cuts)
            if cut <= room and self.values[item] > 0.0
        ]
        return sorted(worth, key=lambda each: (-each[1], each[0]))

    def cuts(self, bar: int, item: int | None = None) -> Mapping[int, int]:
        """Best set for a bar: how many of each cut, by its place in the grid; with `item`, one of that and the best for
        the room that it leaves (which may hold more of it than are wanted).
        """
        room = self.grid.bars[bar]
        chosen: dict[int, int] = {}
        if item is not None:
            chosen[item] = 1
            room -= self.grid.cuts[item]
        for each, copies, taken in reversed(self.steps):
            if taken[room]:
                chosen[each] = chosen.get(each, 0) + copies
                room -= copies * self.grid.cuts[each]
        return chosen


def _bundles(most: int) -> list[int]:
    """Bundles that add up to every number from 1 to `most`: 1, 2, 4 ... and a rest."""
    bundles: list[int] = []
    size = 1
    while most > 0:
        bundles.append(min(size, most))
        most -= bundles[-1]
        size *= 2
    return bundles
