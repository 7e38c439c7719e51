"""The least effort that shows every fault which any step can show: a set cover with a fixed cost for each setup.

Solved as a whole-number program by HiGHS (in scipy); where it does not come to an end in its time, the greedy cover
stands (Chvatal, A greedy heuristic for the set-covering problem, Mathematics of Operations Research 4, 1979), and the
gap to the proved bound is stated.
"""

from collections.abc import Mapping, Sequence

from harnessgen.measures.frozen import frozen

_SECONDS = 20.0
_HAIR = 1e-6


@frozen
class Candidate:
    """A step to choose from: its number, the setup that it needs, its seconds, and what it shows."""

    number: str
    setup: int
    seconds: float
    shows: frozenset[int]


@frozen
class Chosen:
    """The steps chosen, their effort with that of their setups, and the least effort that is proved possible."""

    numbers: frozenset[str]
    seconds: float
    bound_seconds: float

    @property
    def gap(self) -> float:
        """How far the effort may lie above the least, as a share."""
        return 0.0 if self.seconds <= self.bound_seconds + _HAIR else self.seconds / self.bound_seconds - 1.0


def choose(candidates: Sequence[Candidate], setup_seconds: Mapping[int, float]) -> Chosen:
    """The cheapest candidates that together show everything that any of them shows."""
    wanted = sorted({what for each in candidates for what in each.shows})
    if not wanted:
        return Chosen(frozenset(), 0.0, 0.0)
    # Faults that the same steps show are one row, and a row that holds another row is covered with it.
    shown_by: dict[int, list[int]] = {what: [] for what in wanted}
    for place, each in enumerate(candidates):
        for what in each.shows:
            shown_by[what].append(place)
    rows = _least_rows({frozenset(places) for places in shown_by.values()})
    greedy = _pruned(candidates, rows, setup_seconds, _greedy(candidates, rows, setup_seconds))
    exact, bound = _exact(candidates, rows, setup_seconds)
    if exact is not None:
        exact = _pruned(candidates, rows, setup_seconds, exact)
    options = [each for each in (exact, greedy) if each is not None]
    best = min(options, key=lambda chosen: _effort(candidates, setup_seconds, chosen))
    seconds = _effort(candidates, setup_seconds, best)
    return Chosen(frozenset(candidates[place].number for place in best), seconds, min(bound, seconds))


def _least_rows(rows: set[frozenset[int]]) -> list[frozenset[int]]:
    """Rows of which none holds another."""
    kept: list[frozenset[int]] = []
    by_member: dict[int, list[frozenset[int]]] = {}
    for row in sorted(rows, key=lambda each: (len(each), sorted(each))):
        if not any(other <= row for member in row for other in by_member.get(member, ())):
            kept.append(row)
            by_member.setdefault(min(row), []).append(row)
    return kept


def _effort(candidates: Sequence[Candidate], setup_seconds: Mapping[int, float], chosen: Sequence[int]) -> float:
    setups = {candidates[place].setup for place in chosen}
    return sum(candidates[place].seconds for place in chosen) + sum(setup_seconds[setup] for setup in sorted(setups))


def _greedy(
    candidates: Sequence[Candidate], rows: Sequence[frozenset[int]], setup_seconds: Mapping[int, float]
) -> list[int]:
    rows_of: dict[int, set[int]] = {}
    for number, row in enumerate(rows):
        for place in row:
            rows_of.setdefault(place, set()).add(number)
    left, chosen, setups = set(range(len(rows))), [], set[int]()

    def price(place: int) -> float:
        each = candidates[place]
        fee = 0.0 if each.setup in setups else setup_seconds[each.setup]
        return (each.seconds + fee) / len(rows_of[place] & left)

    while left:
        place = min((each for each in sorted(rows_of) if rows_of[each] & left), key=price)
        chosen.append(place)
        setups.add(candidates[place].setup)
        left -= rows_of[place]
    return chosen


def _pruned(
    candidates: Sequence[Candidate],
    rows: Sequence[frozenset[int]],
    setup_seconds: Mapping[int, float],
    chosen: Sequence[int],
) -> list[int]:
    """The same without what the others cover too, the dearest taken out first: no step of it can be spared."""
    held = set(chosen)
    counts = [len(row & held) for row in rows]
    rows_of: dict[int, list[int]] = {place: [] for place in held}
    for number, row in enumerate(rows):
        for place in row & held:
            rows_of[place].append(number)
    for place in sorted(held, key=lambda each: (-candidates[each].seconds, each)):
        if all(counts[number] > 1 for number in rows_of[place]):
            held.remove(place)
            for number in rows_of[place]:
                counts[number] -= 1
    return sorted(held)


def _exact(
    candidates: Sequence[Candidate], rows: Sequence[frozenset[int]], setup_seconds: Mapping[int, float]
) -> tuple[list[int] | None, float]:
    """A cover of least effort, None where none was found in time, and the proved bound."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import coo_array

    setups = sorted(setup_seconds)
    column_of = {setup: len(candidates) + place for place, setup in enumerate(setups)}
    costs = np.array([*(each.seconds for each in candidates), *(setup_seconds[setup] for setup in setups)])
    used = sorted({place for row in rows for place in row})
    at_rows, at_columns, values = [], [], []
    for number, row in enumerate(rows):
        for place in sorted(row):
            at_rows.append(number)
            at_columns.append(place)
            values.append(1.0)
    # A step is open only with its setup.
    for number, place in enumerate(used, start=len(rows)):
        at_rows += [number, number]
        at_columns += [column_of[candidates[place].setup], place]
        values += [1.0, -1.0]
    matrix = coo_array((values, (at_rows, at_columns)), shape=(len(rows) + len(used), len(costs))).tocsr()
    low = np.array([1.0] * len(rows) + [0.0] * len(used))
    result = milp(
        costs,
        integrality=np.ones(len(costs), dtype=np.int64),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(matrix, low, np.inf),
        options={"time_limit": _SECONDS, "mip_rel_gap": 0.0},
    )
    bound = float(result.mip_dual_bound) if result.mip_dual_bound is not None else 0.0
    if result.x is None:
        return None, bound
    return [place for place in range(len(candidates)) if result.x[place] > 0.5], bound
