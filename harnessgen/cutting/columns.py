"""Column generation: patterns of cuts for one bar are priced in a linear program until none is missing.

Each round gives a lower bound too, proved by its prices, whether or not the rounds come to an end. The plan is then
made whole by branch and bound over the patterns that were found. Everything is limited by counts, never by time.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy
from numpy.typing import NDArray

from harnessgen.cutting.best_fit import OutOfStock, best_fit_decreasing, fill_in_turn
from harnessgen.cutting.knapsack import Knapsack, grid_of
from harnessgen.cutting.master import Master, Pattern, Prices
from harnessgen.cutting.problem import NOTHING, Packing, Problem, Used
from harnessgen.evidence.publication import Publication, Standing

GILMORE_GOMORY_SOURCE = Publication(
    "Gilmore, Gomory: A linear programming approach to the cutting-stock problem, Operations Research 9 (1961)",
    standing=Standing.FROM_MEMORY,
)
FARLEY_SOURCE = Publication(
    "Farley: A note on bounding a class of linear programming problems, Operations Research 38 (1990)",
    standing=Standing.FROM_MEMORY,
)

MOST_ROUNDS = 200
MOST_LENGTHS = 600
"""Different lengths of cut beyond which no columns are generated."""
MOST_CUTS_A_BAR = 12
"""Where a bar holds more of the shortest cuts than this, cuts are short against it, and quick ways do well."""
_NEW_A_ROUND = 60
_WORTH = 1e-7
"""By how much a pattern has to be worth more than its bar."""


@dataclass(frozen=True, slots=True)
class Generated:
    """What column generation found: the best packing, a lower bound of the count, and whether the rounds ended."""

    packing: Packing
    bound: float
    rounds: int
    is_complete: bool


def is_worth_while(problem: Problem) -> bool:
    """True where cuts are long against the bars, and the problem is not too large."""
    lengths = problem.demand
    if not lengths or not problem.bars or len(lengths) > MOST_LENGTHS:
        return False
    return problem.longest_um <= MOST_CUTS_A_BAR * min(lengths)


def generate_columns(problem: Problem, start: Sequence[Packing], whole: Callable[[float], float]) -> Generated:
    """Improve on the packings of `start`, of which there is at least one.

    `whole` raises a lower bound to the next count that whole bars can have.
    """
    return _Generator(problem, start, whole).run()


class _Generator:
    def __init__(self, problem: Problem, start: Sequence[Packing], whole: Callable[[float], float]) -> None:
        self.problem = problem
        self.whole = whole
        self.lengths = list(problem.demand)
        self.wanted = [problem.demand[cut] for cut in self.lengths]
        self.at = {cut: position for position, cut in enumerate(self.lengths)}
        self.grid = grid_of(self.lengths, [bar.length_um for bar in problem.bars])
        self.best = min(start, key=lambda packing: packing.rank)
        self.bound = 0.0
        patterns = dict.fromkeys(self._pattern(used) for packing in start for used in packing.used)
        self.master = Master(problem, self.lengths, self.wanted, list(patterns))

    def _pattern(self, used: Used) -> Pattern:
        counts: dict[int, int] = {}
        for cut in used.cuts_um:
            counts[self.at[cut]] = counts.get(self.at[cut], 0) + 1
        return used.bar, tuple(sorted(counts.items()))

    def run(self) -> Generated:
        rounds, is_complete = 0, False
        relaxed = self.master.relaxed()
        while rounds < MOST_ROUNDS and not self._is_closed():
            rounds += 1
            knapsack = Knapsack(self.grid, relaxed.values, self.wanted)
            if self.grid.is_exact:
                self.bound = max(self.bound, self._proved(relaxed.values, knapsack))
            new = list(self._new_patterns(relaxed, knapsack))
            if not new:
                is_complete = True
                break
            self.master.add(new)
            relaxed = self.master.relaxed()
        if not self._is_closed():
            self._improve(self._rounded_down(relaxed.shares))
        if not self._is_closed():
            self._improve(self._whole_plan())
        return Generated(self.best, self.bound, rounds, is_complete)

    def _is_closed(self) -> bool:
        return self.best.value <= self.whole(self.bound) + NOTHING

    def _improve(self, packings: Iterator[Packing]) -> None:
        self.best = min([self.best, *packings], key=lambda packing: packing.rank)

    def _proved(self, values: NDArray[numpy.float64], knapsack: Knapsack) -> float:
        """Lower bound by the values of a round: scaled until no bar holds more than it counts, less fees for bars that
        are few.
        """
        bars = self.problem.bars
        held = [knapsack.value(index) for index in range(len(bars))]
        ratios = [bar.weight / value for bar, value in zip(bars, held, strict=True) if bar.most is None and value > 0.0]
        scale = min([1.0, *ratios])
        fees = sum(
            max(0.0, scale * value - bar.weight) * bar.most
            for bar, value in zip(bars, held, strict=True)
            if bar.most is not None
        )
        return float(scale * numpy.dot(values, self.wanted)) - fees

    def _new_patterns(self, relaxed: Prices, knapsack: Knapsack) -> Iterator[Pattern]:
        """Patterns worth more than their bar counts: the best of each bar, and the best with a cut that none has yet."""
        found: set[Pattern] = set()
        for index, bar in enumerate(self.problem.bars):
            cost = bar.weight + relaxed.fees[index]
            cost += _WORTH * max(1.0, cost)
            if knapsack.value(index) <= cost:
                continue
            covered: set[int] = set()
            for item, worth in [(None, knapsack.value(index)), *knapsack.worth_with_each(index)]:
                if len(found) >= _NEW_A_ROUND or worth <= cost:
                    break
                if item in covered:
                    continue
                chosen = knapsack.cuts(index, item)
                if any(count > self.wanted[position] for position, count in chosen.items()):
                    continue
                covered.update(chosen)
                pattern = index, tuple(sorted(chosen.items()))
                if pattern not in found and pattern not in self.master.known:
                    found.add(pattern)
                    yield pattern

    def _rounded_down(self, shares: NDArray[numpy.float64]) -> Iterator[Packing]:
        """Patterns of the relaxed plan as often as it holds them whole, the rest by the quick ways."""
        times = numpy.floor(shares + 1e-6).astype(int)
        part = self._used(times)
        demand = dict(self.problem.demand)
        for used in part:
            for cut in used.cuts_um:
                demand[cut] -= 1
        rest = tuple(cut for cut, count in demand.items() for _ in range(count))
        bars = tuple(
            bar if bar.most is None else replace(bar, most=bar.most - sum(1 for used in part if used.bar == index))
            for index, bar in enumerate(self.problem.bars)
        )
        remaining = replace(self.problem, cuts_um=rest, bars=bars)
        for way in (best_fit_decreasing, fill_in_turn):
            try:
                packed = way(remaining)
            except OutOfStock:
                continue
            yield Packing(self.problem, (*part, *packed.used), packed.loose_um)

    def _whole_plan(self) -> Iterator[Packing]:
        times = self.master.whole()
        if times is None:
            return
        part = self._used(times)
        had = dict.fromkeys(self.problem.demand, 0)
        for used in part:
            for cut in used.cuts_um:
                had[cut] += 1
        loose = [cut for cut, count in self.problem.demand.items() for _ in range(count - had[cut])]
        yield Packing(self.problem, tuple(part), tuple(loose))

    def _used(self, times: NDArray[numpy.int64]) -> list[Used]:
        """Bars cut by patterns; a cut that is there often enough is left out of the bars that follow."""
        demand = dict(self.problem.demand)
        part: list[Used] = []
        for (bar, counts), repeat in zip(self.master.patterns, times, strict=True):
            for _ in range(int(repeat)):
                cuts: list[int] = []
                for position, count in counts:
                    cut = self.lengths[position]
                    cuts += [cut] * min(count, demand[cut])
                    demand[cut] -= min(count, demand[cut])
                if cuts:
                    part.append(Used(bar, tuple(cuts)))
        return part
