"""The linear program of column generation: how often each pattern is cut, by HiGHS."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy
from numpy.typing import NDArray

from harnessgen.cutting.problem import CuttingProblem, Used

_MOST_NODES = 200
"""Branches of the whole-number program that are looked at."""

Pattern = Used
"""A pattern is one bar with its cuts."""


@dataclass(frozen=True, slots=True)
class Prices:
    """A relaxed plan: what it counts, how often each pattern is cut, the value of one cut of each length, and the fee
    of one bar more of each kind.
    """

    count: float
    shares: NDArray[numpy.float64]
    values: NDArray[numpy.float64]
    fees: NDArray[numpy.float64]


@dataclass(frozen=True, slots=True)
class Whole:
    """How often each pattern is cut in a plan of whole numbers, None where none was found, and its lower bound."""

    times: NDArray[numpy.int64] | None
    bound: float


class Master:
    """Patterns so far, and the plan of least count that can be made of them.

    With cuts by the metre there is a column for each length, which counts that length.
    """

    def __init__(self, problem: CuttingProblem, patterns: Iterable[Pattern]) -> None:
        self.problem = problem
        self.lengths = list(problem.demand)
        self.wanted = numpy.array([problem.demand[cut] for cut in self.lengths], dtype=float)
        self.row_of = {cut: row for row, cut in enumerate(self.lengths)}
        limited = [index for index, bar in enumerate(problem.bars) if bar.most is not None]
        self.bar_row = {index: len(self.lengths) + row for row, index in enumerate(limited)}
        self.patterns: dict[Pattern, None] = dict.fromkeys(patterns)

    def relaxed(self) -> Prices:
        """Solve with parts of patterns allowed; the patterns (with cuts by the metre) have to hold every cut."""
        from scipy.optimize import linprog

        matrix, limits = self._matrix()
        result = linprog(self._costs(), A_ub=matrix, b_ub=limits, method="highs")
        assert result.status == 0, result.message
        marginals = numpy.maximum(-numpy.asarray(result.ineqlin.marginals), 0.0)
        fees = numpy.zeros(len(self.problem.bars))
        for index, row in self.bar_row.items():
            fees[index] = marginals[row]
        shares = numpy.asarray(result.x)[: len(self.patterns)]
        return Prices(float(result.fun or 0.0), shares, marginals[: len(self.lengths)], fees)

    def whole(self) -> Whole:
        """The best plan of whole numbers within the limit of branches; only what all patterns can do is a bound."""
        from scipy.optimize import Bounds, LinearConstraint, milp

        matrix, limits = self._matrix()
        costs = self._costs()
        result = milp(
            costs,
            constraints=LinearConstraint(matrix, ub=limits),
            integrality=numpy.ones(len(costs), dtype=int),
            bounds=Bounds(0, numpy.inf),
            options={"node_limit": _MOST_NODES, "mip_rel_gap": 0.0},
        )
        bound = result.mip_dual_bound
        times = None if result.x is None else numpy.rint(result.x[: len(self.patterns)]).astype(numpy.int64)
        return Whole(times, float(bound) if bound is not None and numpy.isfinite(bound) else 0.0)

    def _costs(self) -> NDArray[numpy.float64]:
        costs = [self.problem.bars[pattern.bar].weight for pattern in self.patterns]
        if self.problem.by_the_metre:
            costs += [float(cut) for cut in self.lengths]
        return numpy.array(costs)

    def _matrix(self) -> tuple[Any, NDArray[numpy.float64]]:
        """Rows: each length is cut as often as wanted, or more; each limited bar is taken at most as often as it is."""
        from scipy.sparse import csr_array

        rows: list[int] = []
        columns: list[int] = []
        figures: list[float] = []
        for column, pattern in enumerate(self.patterns):
            own = [self.row_of[cut] for cut in pattern.cuts_um]
            if pattern.bar in self.bar_row:
                rows.append(self.bar_row[pattern.bar])
                columns.append(column)
                figures.append(1.0)
            rows += own
            columns += [column] * len(own)
            figures += [-1.0] * len(own)
        width = len(self.patterns)
        if self.problem.by_the_metre:
            rows += range(len(self.lengths))
            columns += range(width, width + len(self.lengths))
            figures += [-1.0] * len(self.lengths)
            width += len(self.lengths)
        # Equal entries are added up: a pattern with three cuts of one length has three there.
        matrix = csr_array((figures, (rows, columns)), shape=(len(self.lengths) + len(self.bar_row), width))
        most = [float(self.problem.bars[index].most or 0) for index in self.bar_row]
        return matrix, numpy.concatenate([-self.wanted, most])
