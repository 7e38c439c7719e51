"""A part of a cover solved: by the greedy choice, by the linear relaxation, or by a search that is sure to be least.

Which of them is tried hangs on the size of the part alone, and the search ends after a set number of nodes, so that the
answer does not depend on the speed of the machine.
"""

from collections.abc import Sequence
from heapq import heapify, heappop, heappush
from typing import Any

from harnessgen.bench.selection.set_cover import CoverPart

_MOST_SEARCHED = 4_000
"""Entries, the steps of all rows together, up to which a search is made; a hard part of this size takes seconds."""
_NODES = 500_000_000
"""Nodes of a search, times the square of the entries: a node of a part of twice the size takes four times as long."""
_MOST_RELAXED = 50_000
"""Entries up to which the linear relaxation is solved."""
_WHOLE = 1e-6


def solved(part: CoverPart) -> tuple[list[int], float]:
    """A cover of a part, as places of its steps, and the least effort that is proved for it, in seconds."""
    entries = sum(map(len, part.rows))
    options, bound = [_greedy(part, range(len(part.steps)))], _ascent(part)
    if entries <= _MOST_SEARCHED:
        searched, proved = _searched(part, max(1, _NODES // entries**2))
        options = [*([searched] if searched is not None else []), *options]
        bound = max(bound, proved)
    elif entries <= _MOST_RELAXED:
        rounded, proved = _relaxed(part)
        options = [rounded, *options]
        bound = max(bound, proved)
    return min((_pruned(part, each) for each in options), key=part.effort), bound


def _greedy(part: CoverPart, allowed: Sequence[int]) -> list[int]:
    """Of the steps allowed the one that shows most for its seconds, again and again.

    Prices only rise, so that the cheapest is looked at anew; they fall for the steps of a setup that is paid.
    """
    rows_of = _rows_of(part)
    counts = [len(rows) for rows in rows_of]
    fees = dict(part.fees)
    left = set(range(len(part.rows)))

    def price(place: int) -> float:
        each = part.steps[place]
        return (each.seconds + fees.get(each.setup, 0.0)) / counts[place]

    queue = [(price(place), place) for place in allowed]
    heapify(queue)
    chosen = []
    while left:
        asked, place = heappop(queue)
        if not counts[place]:
            continue
        now = price(place)
        if now > asked:
            heappush(queue, (now, place))
            continue
        chosen.append(place)
        for row in rows_of[place]:
            if row in left:
                left.remove(row)
                for other in part.rows[row]:
                    counts[other] -= 1
        setup = part.steps[place].setup
        if fees.pop(setup, 0.0):
            for other in allowed:
                if part.steps[other].setup == setup and counts[other]:
                    heappush(queue, (price(other), other))
    return chosen


def _pruned(part: CoverPart, chosen: Sequence[int]) -> list[int]:
    """The same without what the others cover too, the dearest taken out first: no step of it can be spared."""
    held = set(chosen)
    rows_of = _rows_of(part)
    counts = [len(held.intersection(row)) for row in part.rows]
    for place in sorted(held, key=lambda each: (-part.steps[each].seconds, each)):
        if all(counts[row] > 1 for row in rows_of[place]):
            held.remove(place)
            for row in rows_of[place]:
                counts[row] -= 1
    return sorted(held)


def _ascent(part: CoverPart) -> float:
    """A bound: every row in turn pays what the cheapest of its steps still lacks; no step is paid more than it costs.

    It is the value of a solution of the dual (Beasley 1987, from memory). The setups are left out of it.
    """
    lacks = [each.seconds for each in part.steps]
    whole = 0.0
    for row in sorted(part.rows, key=len):
        pays = min(lacks[place] for place in row)
        whole += pays
        for place in row:
            lacks[place] -= pays
    return whole


def _searched(part: CoverPart, most_nodes: int) -> tuple[list[int] | None, float]:
    """A cover of least effort, None where none was found within the nodes, and the proved bound, by HiGHS."""
    result = _program(part, is_whole=True, most_nodes=most_nodes)
    bound = float(result.mip_dual_bound) if result.mip_dual_bound is not None else 0.0
    if result.x is None:
        return None, bound
    return [place for place in range(len(part.steps)) if result.x[place] > 0.5], bound


def _relaxed(part: CoverPart) -> tuple[list[int], float]:
    """The greedy choice among the steps that the linear relaxation has, whole or in part, and its effort as the bound.

    Where it has all of them whole, these are the least.
    """
    result = _program(part, is_whole=False, most_nodes=1)
    shares = result.x[: len(part.steps)]
    had = [place for place, share in enumerate(shares) if share > _WHOLE]
    if all(shares[place] > 1.0 - _WHOLE for place in had):
        return had, float(result.fun)
    return _greedy(part, had), float(result.fun)


def _program(part: CoverPart, is_whole: bool, most_nodes: int) -> Any:
    """The least of steps and setups so that each row is shown and no step stands without its setup, solved."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import coo_array

    column_of = {setup: len(part.steps) + place for place, (setup, _) in enumerate(part.fees)}
    costs = np.array([*(each.seconds for each in part.steps), *(fee for _, fee in part.fees)])
    entries = [(number, place, 1.0) for number, row in enumerate(part.rows) for place in row]
    # A step is open only with its setup, where that is to be paid for.
    to_pay = [(place, column_of[each.setup]) for place, each in enumerate(part.steps) if each.setup in column_of]
    for number, (place, column) in enumerate(to_pay, start=len(part.rows)):
        entries += [(number, column, 1.0), (number, place, -1.0)]
    rows, columns, values = zip(*entries, strict=True)
    shape = (len(part.rows) + len(to_pay), len(costs))
    matrix = coo_array((values, (rows, columns)), shape=shape).tocsr()
    low = np.array([1.0] * len(part.rows) + [0.0] * len(to_pay))
    return milp(
        costs,
        integrality=np.full(len(costs), int(is_whole)),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(matrix, low, np.inf),
        options={"node_limit": most_nodes, "mip_rel_gap": 0.0},
    )


def _rows_of(part: CoverPart) -> list[list[int]]:
    rows_of: list[list[int]] = [[] for _ in part.steps]
    for number, row in enumerate(part.rows):
        for place in row:
            rows_of[place].append(number)
    return rows_of
