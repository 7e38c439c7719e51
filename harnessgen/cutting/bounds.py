"""How little a packing can count at least: what no plan can beat."""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from harnessgen.cutting.problem import NOTHING, Bar, CuttingProblem

# By material: the sum of the cuts over the length of the stock. L2: Martello, Toth, Lower bounds and reduction
# procedures for the bin packing problem, Discrete Applied Mathematics 28 (1990) (from memory).

_MOST_COVERS = 20_000
"""Combinations of several lengths of stock that are looked at; with more the plain bound stays."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """Lower bounds of what a packing counts: by material alone, and by which cuts can share a bar (L2)."""

    material: float
    shared: float

    @property
    def best(self) -> float:
        """The higher of the two."""
        return max(self.material, self.shared)


def l2_bars(cuts_um: Sequence[int], length_um: int) -> int:
    """Fewest bars of one length by the bound L2: cuts longer than half a bar never share one, and those that leave
    too little for any cut of at least K have no room for the rest; the highest over all K.

    Raises:
        ValueError: a cut is longer than the bar.
    """
    ordered = sorted(cuts_um)
    if not ordered:
        return 0
    if ordered[-1] > length_um:
        raise ValueError(f"a cut of {ordered[-1]} um does not come from a bar of {length_um} um")
    sums = [0, *accumulate(ordered)]
    over_half = bisect_right(ordered, length_um // 2)
    best = 0
    for least in sorted({0, *ordered[:over_half]}):
        # J1: longer than the bar less K. J2: other cuts over half. J3: from K to half.
        first_long = max(bisect_right(ordered, length_um - least), over_half)
        first_small = bisect_left(ordered, least)
        middle = first_long - over_half
        room = middle * length_um - (sums[first_long] - sums[over_half])
        small = sums[over_half] - sums[first_small]
        extra = max(0, -(-(small - room) // length_um))
        best = max(best, len(ordered) - first_long + middle + extra)
    return best


def bounds_of(problem: CuttingProblem) -> Bounds:
    """Both bounds of a problem, each raised to what whole bars can count."""
    if problem.by_the_metre:
        short_um = float(max(0, sum(problem.cuts_um) - problem.free_um))
        free_longest = problem.longest_um
        return Bounds(short_um, float(sum(cut for cut in problem.cuts_um if cut > free_longest)))
    needed_um = max(0, sum(problem.cuts_um) - problem.free_um)
    material = least_count(problem, needed_um, 0, 0.0)
    return Bounds(material, max(material, least_count(problem, needed_um, shared_bars(problem), 0.0)))


def shared_bars(problem: CuttingProblem) -> int:
    """Fewest bars that count: cuts that no other bar is long enough for, and all cuts less the bars that are free."""
    free = [bar for bar in problem.bars if not bar.weight]
    free_longest = max((bar.length_um for bar in free), default=0)
    longest = problem.longest_um
    only = l2_bars([cut for cut in problem.cuts_um if cut > free_longest], longest)
    every = l2_bars(problem.cuts_um, longest)
    return max(0, only, every - sum(bar.most or 0 for bar in free))


def least_count(problem: CuttingProblem, needed_um: int, fewest: int, at_least: float) -> float:
    """Lowest count, from `at_least` up, of whole bars that hold `needed_um` and are at least `fewest`.

    Where there are too many combinations of lengths to look at, bars are parted: a lower bound all the same.
    """
    counted = sorted((bar for bar in problem.bars if bar.weight), key=lambda bar: (-bar.length_um, bar.weight))
    if not counted:
        return at_least
    parted = max(
        needed_um * min(bar.weight / bar.length_um for bar in counted),
        fewest * min(bar.weight for bar in counted),
        at_least,
    )
    combinations = math.prod(_enough(bar, needed_um, fewest, at_least) + 1 for bar in counted[:-1])
    if combinations > _MOST_COVERS:
        return parted
    whole = _cover(counted, needed_um, fewest, at_least)
    return parted if math.isinf(whole) else max(whole, parted)


def _enough(bar: Bar, needed_um: int, fewest: int, at_least: float) -> int:
    """How many bars of one kind are enough by themselves; more are never worth while."""
    by_count = math.ceil(at_least / bar.weight - NOTHING)
    wanted = max(-(-needed_um // bar.length_um), fewest, by_count, 0)
    return wanted if bar.most is None else min(wanted, bar.most)


def _cover(bars: Sequence[Bar], needed_um: int, fewest: int, at_least: float) -> float:
    """Lowest count of whole bars; infinite where there are too few of them."""
    first, *others = bars
    enough = _enough(first, needed_um, fewest, at_least)
    if not others:
        is_enough = enough * first.length_um >= needed_um and enough >= fewest
        reaches = enough * first.weight >= at_least - NOTHING
        return enough * first.weight if is_enough and reaches else math.inf
    return min(
        count * first.weight
        + _cover(others, needed_um - count * first.length_um, fewest - count, at_least - count * first.weight)
        for count in range(enough + 1)
    )
