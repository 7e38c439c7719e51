"""The linear program of column generation: how often each pattern is cut, by HiGHS."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy
from numpy.typing import NDArray

from harnessgen.cutting.problem import Problem

_MOST_NODES = 300
"""Branches of the whole-number program that are looked at."""

Pattern = tuple[int, tuple[tuple[int, int], ...]]
"""A kind of bar, and how many of which cut (by its place among the lengths)."""


@dataclass(frozen=True, slots=True)
class Prices:
    """A relaxed plan: how often each pattern is cut, the value of one cut of each length, the fee of one bar more."""

    shares: NDArray[numpy.float64]
    values: NDArray[numpy.float64]
    fees: NDArray[numpy.float64]


class Master:
    """Patterns so far, and the plan of least count that can be made of them.

    With cuts by the metre there is a column for each length, which counts that length.
    """

    def __init__(
        self, problem: Problem, lengths: Sequence[int], wanted: Sequence[int], patterns: Sequence[Pattern]
    ) -> None:
        self.problem = problem
        self.lengths = lengths
        self.wanted = numpy.array(wanted, dtype=float)
        self.limited = [index for index, bar in enumerate(problem.bars) if bar.most is not None]
        self.patterns: list[Pattern] = []
        self.known: set[Pattern] = set()
        self.add(patterns)

    def add(self, patterns: Sequence[Pattern]) -> None:
        """Take up more patterns."""
        self.patterns += patterns
        self.known.update(patterns)

    def relaxed(self) -> Prices:
        """Solve with parts of patterns allowed."""
        from scipy.optimize import linprog

        matrix, limits = self._matrix()
        result = linprog(self._costs(), A_ub=matrix, b_ub=limits, method="highs")
        # A plan of all cuts is among the patterns from the start.
        assert result.status == 0, result.message
        marginals = -numpy.asarray(result.ineqlin.marginals)
        fees = numpy.zeros(len(self.problem.bars))
        fees[self.limited] = numpy.maximum(marginals[len(self.lengths) :], 0.0)
        values = numpy.maximum(marginals[: len(self.lengths)], 0.0)
        return Prices(numpy.asarray(result.x)[: len(self.patterns)], values, fees)

    def whole(self) -> NDArray[numpy.int64] | None:
        """How often each pattern is cut in a plan of whole numbers; None where none was found within the limit."""
        from scipy.optimize import Bounds, LinearConstraint, milp

        matrix, limits = self._matrix()
        costs = self._costs()
        result = milp(
            costs,
            constraints=LinearConstraint(matrix, ub=limits),
            integrality=numpy.ones(len(costs)),
            bounds=Bounds(0, numpy.inf),
            options={"node_limit": _MOST_NODES},
        )
        if result.x is None:
            return None
        times: NDArray[numpy.int64] = numpy.rint(result.x[: len(self.patterns)]).astype(numpy.int64)
        return times

    def _costs(self) -> NDArray[numpy.float64]:
        costs = [self.problem.bars[bar].weight for bar, _ in self.patterns]
        if self.problem.by_the_metre:
            costs += [float(cut) for cut in self.lengths]
        return numpy.array(costs)

    def _matrix(self) -> tuple[Any, NDArray[numpy.float64]]:
        """Rows: each length is cut as often as wanted, or more; each limited bar is taken at most as often as it is."""
        from scipy.sparse import csr_array

        count = len(self.lengths)
        row_of = {index: count + row for row, index in enumerate(self.limited)}
        entries: list[tuple[int, int, float]] = []
        for column, (bar, counts) in enumerate(self.patterns):
            entries += [(position, column, -float(times)) for position, times in counts]
            if bar in row_of:
                entries.append((row_of[bar], column, 1.0))
        columns = len(self.patterns)
        if self.problem.by_the_metre:
            entries += [(position, columns + position, -1.0) for position in range(count)]
            columns += count
        rows, places, figures = zip(*entries, strict=True)
        matrix = csr_array((figures, (rows, places)), shape=(count + len(self.limited), columns))
        most = [float(self.problem.bars[index].most or 0) for index in self.limited]
        return matrix, numpy.concatenate([-self.wanted, most])
