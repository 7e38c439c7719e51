"""From cuts and stock to the best plan that is found, with how little any plan can count."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import reduce
from math import gcd

from harnessgen.cutting.best_fit import OutOfStock, best_fit_decreasing, fill_in_turn, in_lesser_bars
from harnessgen.cutting.bounds import Bounds, bounds_of, least_count, shared_bars
from harnessgen.cutting.leftovers import with_longer_ends
from harnessgen.cutting.problem import NOTHING, Bar, CuttingProblem, Goal, Packing

_ROUNDING = 1e-6
"""By how much the figures of a linear program may lie beside the truth, as a share."""


@dataclass(frozen=True, slots=True)
class SolvedPacking:
    """A packing by a goal. `columns` is the bound by column generation, None where it was not called for.

    `rounds` says how many rounds it took, and `shelf` how many of the problem's bars are those of the shelf.
    """

    goal: Goal
    packing: Packing
    bounds: Bounds
    columns: float | None
    rounds: int
    shelf: int

    @property
    def bound(self) -> float:
        """The highest lower bound: no plan counts less."""
        return max(self.bounds.best, self.columns or 0.0)

    @property
    def gap(self) -> float:
        """How much more the packing counts than the bound; 0 where it is proved best."""
        gap = self.packing.value - self.bound
        return gap if gap > NOTHING * max(1.0, self.bound) else 0.0

    @property
    def gap_share(self) -> float:
        """The gap as a share of the bound; infinite above a bound of nothing."""
        if not self.gap:
            return 0.0
        return self.gap / self.bound if self.bound else math.inf


def cut_from(cuts_um: Sequence[int], shelf: Sequence[Bar], new: Sequence[Bar], tail_um: int) -> SolvedPacking:
    """Plan the cuts from the shelf, and from new stock where that does not suffice.

    The bars of `shelf` are limited, those of `new` are not and weigh what they cost. Every cut has to fit a bar, unless
    there is no new stock at all: then what the shelf does not hold is bought by the metre.
    """
    longest = max((bar.length_um for bar in shelf), default=0)
    counted = tuple(Bar(bar.length_um, bar.most, 1.0 if bar.length_um == longest else 0.0) for bar in shelf)
    from_shelf = CuttingProblem(tuple(cuts_um), counted, False, tail_um)
    held = sum(bar.length_um * (bar.most or 0) for bar in shelf)
    start = list(_quick(from_shelf)) if held >= sum(cuts_um) else []
    if not start:
        free = tuple(Bar(bar.length_um, bar.most) for bar in shelf)
        goal = Goal.BOUGHT if new else Goal.METRES
        problem = CuttingProblem(tuple(cuts_um), (*free, *new), not new, tail_um)
        solved = _solve(goal, problem, list(_quick(problem)), len(shelf))
        if solved.packing.value > NOTHING:
            return solved
        start = [Packing(from_shelf, solved.packing.used)]
    return _solve(Goal.TAKEN, from_shelf, start, len(shelf))


def _quick(problem: CuttingProblem) -> Iterator[Packing]:
    for way in (best_fit_decreasing, fill_in_turn):
        try:
            packing = way(problem)
        except OutOfStock:
            continue
        yield packing
        yield in_lesser_bars(packing)


def _solve(goal: Goal, problem: CuttingProblem, start: list[Packing], shelf: int) -> SolvedPacking:
    bounds = bounds_of(problem)
    best = min(start, key=lambda packing: packing.rank)
    columns: float | None = None
    rounds = 0
    whole = _whole(problem, bounds)
    if best.value > bounds.best + NOTHING:
        # numpy and scipy are loaded only where the quick ways leave a gap.
        from harnessgen.cutting.columns import generate_columns, is_worth_while

        if is_worth_while(problem):
            generated = generate_columns(problem, start, whole)
            best, columns, rounds = generated.packing, whole(generated.bound), generated.rounds
    return SolvedPacking(goal, with_longer_ends(best), bounds, columns, rounds, shelf)


def _whole(problem: CuttingProblem, bounds: Bounds) -> Callable[[float], float]:
    """What raises a bound to the next count that a whole plan can have."""
    if problem.by_the_metre:
        unit = reduce(gcd, problem.cuts_um, 0) or 1
        return lambda bound: max(bounds.best, math.ceil(bound * (1.0 - _ROUNDING) / unit) * float(unit))
    needed_um = max(0, sum(problem.cuts_um) - problem.free_um)
    fewest = shared_bars(problem)
    return lambda bound: max(bounds.best, least_count(problem, needed_um, fewest, bound * (1.0 - _ROUNDING)))
