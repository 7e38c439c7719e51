"""The lightest sizes that meet what has been learned of a design, as a small problem in whole numbers."""

import math
from collections.abc import Mapping, Sequence

from harnessgen.measures.frozen import frozen

_MOST_NODES = 20_000


@frozen
class SizeCut:
    """One of these wires has to be thicker than its index here (or thinner, where `is_thinner`)."""

    beyond: Mapping[int, int]
    is_thinner: bool = False


@frozen
class Budget:
    """What the wires may take in all, as in volts on a way: for each wire a figure for each of its sizes."""

    takes: Mapping[int, tuple[float, ...]]
    most: float


@frozen
class Lightest:
    """The lightest choice under some cuts and budgets, in g; `bound_g` is what no choice is below."""

    sizes: tuple[int, ...]
    mass_g: float
    bound_g: float


def lightest(
    masses_g: Sequence[Sequence[float]],
    allowed: Sequence[Sequence[int]],
    cuts: Sequence[SizeCut],
    budgets: Sequence[Budget],
) -> Lightest | None:
    """The lightest choice of one allowed size for each wire that meets every cut and budget; None if there is none.

    `masses_g` has the mass of each wire in each size, `allowed` the indexes that a wire may take.
    """
    import numpy
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    column = {pair: at for at, pair in enumerate((wire, size) for wire, own in enumerate(allowed) for size in own)}
    rows: list[tuple[dict[int, float], float, float]] = [
        ({column[wire, size]: 1.0 for size in own}, 1.0, 1.0) for wire, own in enumerate(allowed)
    ]
    rows += [(_cut_row(cut, allowed, column), 1.0, math.inf) for cut in cuts]
    rows += [(_budget_row(budget, allowed, column), -math.inf, 1.0 + 1e-9) for budget in budgets]
    entries = [(row, at, figure) for row, (figures, _, _) in enumerate(rows) for at, figure in figures.items()]
    matrix = csr_array(
        ([each[2] for each in entries], ([each[0] for each in entries], [each[1] for each in entries])),
        shape=(len(rows), len(column)),
    )
    costs = numpy.array([masses_g[wire][size] for wire, size in column])
    found = milp(
        costs,
        constraints=LinearConstraint(matrix, [each[1] for each in rows], [each[2] for each in rows]),
        integrality=numpy.ones(len(costs), dtype=int),
        bounds=Bounds(0, 1),
        options={"node_limit": _MOST_NODES, "mip_rel_gap": 0.0, "presolve": False},
    )
    if found.x is None:
        return None
    taken = {wire: size for (wire, size), share in zip(column, found.x, strict=True) if share > 0.5}
    sizes = tuple(taken[wire] for wire in range(len(allowed)))
    mass = math.fsum(own[size] for own, size in zip(masses_g, sizes, strict=True))
    bound = found.mip_dual_bound
    return Lightest(sizes, mass, float(bound) if bound is not None and math.isfinite(bound) else 0.0)


def _cut_row(cut: SizeCut, allowed: Sequence[Sequence[int]], column: Mapping[tuple[int, int], int]) -> dict[int, float]:
    return {
        column[wire, size]: 1.0
        for wire, at in cut.beyond.items()
        for size in allowed[wire]
        if (size < at if cut.is_thinner else size > at)
    }


def _budget_row(
    budget: Budget, allowed: Sequence[Sequence[int]], column: Mapping[tuple[int, int], int]
) -> dict[int, float]:
    """Shares of the budget, which has to be above nought."""
    return {
        column[wire, size]: takes[size] / budget.most for wire, takes in budget.takes.items() for size in allowed[wire]
    }
