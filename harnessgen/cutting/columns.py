"""Better plans and bounds where the quick ways leave a gap: column generation, rounded by diving or branching.

Everything is limited by counts, never by time, so that the same cuts give the same plan.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy
from numpy.typing import NDArray

from harnessgen.cutting.best_fit import OutOfStock, best_fit_decreasing, fill_in_turn
from harnessgen.cutting.master import Master, Pattern, Prices
from harnessgen.cutting.problem import NOTHING, CuttingProblem, Packing, Used
from harnessgen.cutting.relaxation import Relaxation

# Gilmore, Gomory: A linear programming approach to the cutting-stock problem, Operations Research 9 (1961); bound by
# Farley: A note on bounding a class of linear programming problems, Operations Research 38 (1990) (from memory).

MOST_ROUNDS = 150
MOST_LENGTHS = 600
"""Different lengths of cut beyond which no columns are generated."""
MOST_CUTS_A_BAR = 12
"""Where the longest bar holds more cuts of middling length than this, cuts are short against it: quick ways do well."""
FEW_CUTS = 60
"""So few cuts are always worth the trouble."""
_ROUNDS_A_DIVE = 4
_SURE = 0.6
"""Share from which on a dive cuts a pattern once."""
_MOST_BRANCHED = 40
"""Different lengths of cut up to which whole plans are looked for by branch and bound."""
_MOST_PATTERNS = 2000
_LOOKS_A_PATTERN = 50


@dataclass(frozen=True, slots=True)
class Generated:
    """What column generation found: the best packing, a lower bound of the count, and whether no pattern is missing."""

    packing: Packing
    bound: float
    rounds: int
    is_complete: bool


def is_worth_while(problem: CuttingProblem) -> bool:
    """True where cuts are long against the bars, or few, and the problem is not too large."""
    lengths = problem.demand
    if not lengths or not problem.bars or len(lengths) > MOST_LENGTHS:
        return False
    count = len(problem.cuts_um)
    return count <= FEW_CUTS or problem.longest_um * count <= MOST_CUTS_A_BAR * sum(problem.cuts_um)


def generate_columns(problem: CuttingProblem, start: Sequence[Packing], whole: Callable[[float], float]) -> Generated:
    """Improve on the packings of `start`, of which there is at least one.

    `whole` raises a lower bound to the next count that a whole plan can have.
    """
    best = min(start, key=lambda packing: packing.rank)
    relaxation = Relaxation(problem, _proper(used for packing in start for used in packing.used))

    def is_enough(bound: float, count: float) -> bool:
        # The bound never comes above the relaxed plan; once that rounds to it, more patterns prove nothing.
        return whole(count) <= whole(bound) + NOTHING

    relaxed = relaxation.solve(MOST_ROUNDS, is_enough)
    bound = relaxation.bound
    for packing in _dive(relaxation, relaxed):
        best = min(best, packing, key=lambda each: each.rank)
        if best.value <= whole(bound) + NOTHING:
            break
    if best.value > whole(bound) + NOTHING:
        found, proved = _branch(relaxation)
        bound = max(bound, proved)
        best = min([best, *found], key=lambda each: each.rank)
    return Generated(best, bound, relaxation.rounds, relaxation.is_complete)


def _proper(used: Iterable[Used]) -> list[Pattern]:
    return list(dict.fromkeys(replace(each, cuts_um=tuple(sorted(each.cuts_um, reverse=True))) for each in used))


def _dive(relaxation: Relaxation, relaxed: Prices) -> Iterator[Packing]:
    """Cut the patterns that the relaxed plan is surest of, relax what is left once more, and so on to the end.

    At every step what is left is packed by the quick ways too, which gives a packing each.
    """
    whole = relaxation.problem
    done: list[Used] = []
    while True:
        done += _surest(relaxation, relaxed)
        rest = _rest(whole, done)
        packed = list(_quickly(rest))
        yield from (Packing(whole, (*done, *each.used), each.loose_um) for each in packed)
        if not rest.cuts_um or not packed or not any(each.used for each in packed):
            return
        demand = rest.demand
        kept = [each for each in relaxation.master.patterns if _fits(each, demand)]
        relaxation = Relaxation(rest, [*kept, *_proper(used for each in packed for used in each.used)])
        relaxed = relaxation.solve(_ROUNDS_A_DIVE, lambda bound, count: False)


def _surest(relaxation: Relaxation, relaxed: Prices) -> list[Used]:
    """Patterns as often as the relaxed plan holds them whole, those that it is sure of, or else the surest one."""
    demand = dict(relaxation.problem.demand)
    left = [bar.most for bar in relaxation.problem.bars]
    chosen: list[Used] = []
    patterns = list(relaxation.master.patterns)
    order = sorted(range(len(patterns)), key=lambda each: (-float(relaxed.shares[each]), each))
    for position in order:
        pattern, share = patterns[position], float(relaxed.shares[position])
        if share < _SURE and chosen:
            break
        for _ in range(max(1, int(share + 1.0 - _SURE))):
            count = left[pattern.bar]
            if count == 0 or not _fits(pattern, demand):
                break
            left[pattern.bar] = None if count is None else count - 1
            for cut in pattern.cuts_um:
                demand[cut] -= 1
            chosen.append(pattern)
    return chosen


def _fits(pattern: Pattern, demand: dict[int, int]) -> bool:
    return all(pattern.cuts_um.count(cut) <= demand.get(cut, 0) for cut in set(pattern.cuts_um))


def _rest(problem: CuttingProblem, done: Sequence[Used]) -> CuttingProblem:
    """What is left of a problem when some bars are cut."""
    demand = dict(problem.demand)
    taken = [0] * len(problem.bars)
    for used in done:
        taken[used.bar] += 1
        for cut in used.cuts_um:
            demand[cut] -= 1
    cuts = tuple(cut for cut, count in demand.items() for _ in range(count))
    pairs = zip(problem.bars, taken, strict=True)
    bars = tuple(bar if bar.most is None else replace(bar, most=bar.most - gone) for bar, gone in pairs)
    return replace(problem, cuts_um=cuts, bars=bars)


def _quickly(problem: CuttingProblem) -> Iterator[Packing]:
    for way in (best_fit_decreasing, fill_in_turn):
        try:
            yield way(problem)
        except OutOfStock:
            continue


def _branch(relaxation: Relaxation) -> tuple[list[Packing], float]:
    """The best whole plan of all patterns where these are few, else of those that were found; and what it proves."""
    problem = relaxation.problem
    if len(relaxation.lengths) > _MOST_BRANCHED:
        return [], 0.0
    every = all_patterns(problem, _MOST_PATTERNS)
    if every is None:
        relaxation.solve(MOST_ROUNDS, lambda bound, count: False)
    master = Master(problem, every) if every is not None else relaxation.master
    whole = master.whole()
    if whole.times is None:
        return [], whole.bound if every is not None else 0.0
    return [_cut_by(problem, master, whole.times)], whole.bound if every is not None else 0.0


def _cut_by(problem: CuttingProblem, master: Master, times: NDArray[numpy.int64]) -> Packing:
    """Bars cut by patterns; a cut that is there often enough is left out of the bars that follow."""
    demand = dict(problem.demand)
    part: list[Used] = []
    for pattern, repeat in zip(master.patterns, times, strict=True):
        for _ in range(int(repeat)):
            cuts: list[int] = []
            for cut in pattern.cuts_um:
                if demand[cut]:
                    demand[cut] -= 1
                    cuts.append(cut)
            if cuts:
                part.append(Used(pattern.bar, tuple(cuts)))
    loose = tuple(cut for cut, count in demand.items() for _ in range(count))
    return Packing(problem, tuple(part), loose)


def all_patterns(problem: CuttingProblem, most: int) -> list[Pattern] | None:
    """Every pattern to which no further cut can be added; None where these are more than `most`, or hard to list."""
    found: list[Pattern] = []
    looks = 0
    demand = problem.demand
    lengths = list(demand)

    def search(bar: int, position: int, room: int, chosen: tuple[int, ...]) -> bool:
        """False once there are too many."""
        nonlocal looks
        looks += 1
        if position == len(lengths):
            if not any(cut <= room and chosen.count(cut) < demand[cut] for cut in lengths) and chosen:
                found.append(Used(bar, chosen))
            return len(found) <= most and looks <= _LOOKS_A_PATTERN * most
        cut = lengths[position]
        upto = min(demand[cut], room // cut)
        return all(
            search(bar, position + 1, room - count * cut, chosen + (cut,) * count) for count in range(upto, -1, -1)
        )

    for index, bar in enumerate(problem.bars):
        if not search(index, 0, bar.length_um, ()):
            return None
    return found
