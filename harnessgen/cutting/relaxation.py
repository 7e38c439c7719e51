"""Column generation proper: patterns are priced against the relaxed plan until none is missing, or enough is known."""

from collections.abc import Callable, Iterable, Iterator

import numpy
from numpy.typing import NDArray

from harnessgen.cutting.knapsack import Knapsack, grid_of
from harnessgen.cutting.master import Master, Pattern, Prices
from harnessgen.cutting.problem import CuttingProblem, Used

_NEW_A_ROUND = 60
_WORTH = 1e-7
"""By how much a pattern has to be worth more than its bar."""


class Relaxation:
    """The relaxed plan of a problem. `bound` is a lower bound of every plan, proved by the prices of any round."""

    def __init__(self, problem: CuttingProblem, patterns: Iterable[Pattern]) -> None:
        self.problem = problem
        self.master = Master(problem, patterns)
        self.lengths = self.master.lengths
        self.wanted = [problem.demand[cut] for cut in self.lengths]
        self.grid = grid_of(self.lengths, [bar.length_um for bar in problem.bars])
        self.bound = 0.0
        self.rounds = 0
        self.is_complete = False

    def solve(self, most_rounds: int, is_enough: Callable[[float, float], bool]) -> Prices:
        """Prices after at most so many rounds; `is_enough` sees the bound and what the relaxed plan counts."""
        relaxed = self.master.relaxed()
        for _ in range(most_rounds):
            if is_enough(self.bound, relaxed.count):
                break
            self.rounds += 1
            knapsack = Knapsack(self.grid, relaxed.values, self.wanted)
            if self.grid.is_exact:
                self.bound = max(self.bound, self._proved(relaxed.values, knapsack))
            new = list(self._new_patterns(relaxed, knapsack))
            if not new:
                self.is_complete = True
                break
            self.master.patterns.update(dict.fromkeys(new))
            relaxed = self.master.relaxed()
        return relaxed

    def _proved(self, values: NDArray[numpy.float64], knapsack: Knapsack) -> float:
        """Lower bound by the values of a round: scaled until no bar of which there is no end holds more than it
        counts, less fees for the bars that are few.
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
        """Patterns worth more than their bar: the best of each bar, and the best with a cut that none has yet."""
        found: set[Pattern] = set()
        for index, bar in enumerate(self.problem.bars):
            cost = bar.weight + float(relaxed.fees[index])
            cost += _WORTH * max(1.0, cost)
            covered: set[int] = set()
            best: tuple[int | None, float] = (None, knapsack.value(index))
            for item, worth in [best, *knapsack.worth_with_each(index)]:
                if worth <= cost or len(found) >= _NEW_A_ROUND:
                    break
                if item in covered:
                    continue
                chosen = knapsack.cuts(index, item)
                if any(count > self.wanted[position] for position, count in chosen.items()):
                    continue
                covered.update(chosen)
                cuts = (self.lengths[position] for position, count in chosen.items() for _ in range(count))
                pattern = Used(index, tuple(sorted(cuts, reverse=True)))
                if pattern not in found and pattern not in self.master.patterns:
                    found.add(pattern)
                    yield pattern
