"""Two quick ways to a good packing: best-fit decreasing, and filling bar after bar as full as it gets."""

from bisect import bisect_left, insort
from collections.abc import Iterator

from harnessgen.cutting.problem import CuttingProblem, Packing, Used

_MOST_LOOKS = 4000
"""Combinations of cuts that are looked at for one bar; then the fullest found so far is taken."""


class OutOfStock(Exception):
    """The bars that there are do not hold the cuts, as far as the way of packing can tell."""


def best_fit_decreasing(problem: CuttingProblem) -> Packing:
    """Each cut, the longest first, from the bar that it leaves the least of; free bars lie ready from the start.

    A bar that counts is opened only when no open one is long enough: the one that counts least for its length.

    Raises:
        OutOfStock: a cut is left over and cannot be bought by the metre.
    """
    contents: list[tuple[int, list[int]]] = []
    rooms: list[tuple[int, int]] = []
    left = [bar.most for bar in problem.bars]
    loose: list[int] = []

    def open_bar(index: int) -> tuple[int, int]:
        contents.append((index, []))
        return problem.bars[index].length_um, len(contents) - 1

    for index, bar in enumerate(problem.bars):
        if not bar.weight:
            for _ in range(bar.most or 0):
                insort(rooms, open_bar(index))
    for cut, count in problem.demand.items():
        for _ in range(count):
            at = bisect_left(rooms, (cut, -1))
            if at < len(rooms):
                room, number = rooms.pop(at)
            else:
                opened = _to_open(problem, left, cut)
                if opened is None:
                    if not problem.by_the_metre:
                        raise OutOfStock
                    loose.append(cut)
                    continue
                room, number = open_bar(opened)
            contents[number][1].append(cut)
            insort(rooms, (room - cut, number))
    return _packing(problem, contents, loose)


def _to_open(problem: CuttingProblem, left: list[int | None], cut: int) -> int | None:
    """The next bar that counts and is long enough; it is taken off what is left."""
    fitting = [
        index
        for index, bar in enumerate(problem.bars)
        if bar.weight and bar.length_um >= cut and (left[index] is None or left[index])
    ]
    if not fitting:
        return None
    best = min(fitting, key=lambda each: (problem.bars[each].weight / problem.bars[each].length_um, each))
    count = left[best]
    left[best] = None if count is None else count - 1
    return best


def fill_in_turn(problem: CuttingProblem) -> Packing:
    """Free bars first, the shortest of them first, then those that count: each as full as it gets.

    A bar that counts always takes the longest cut that is left, so that long ones do not pile up at the end.

    Raises:
        OutOfStock: a cut is left over and cannot be bought by the metre.
    """
    demand = dict(problem.demand)
    contents: list[tuple[int, list[int]]] = []
    left = [bar.most for bar in problem.bars]
    for index in _free_in_turn(problem):
        chosen = fullest(demand, problem.bars[index].length_um)
        _take(demand, chosen)
        contents.append((index, chosen))
    while demand:
        longest = next(iter(demand))
        opened = _to_open(problem, left, longest)
        if opened is None:
            break
        _take(demand, [longest])
        chosen = [longest, *fullest(demand, problem.bars[opened].length_um - longest)]
        _take(demand, chosen[1:])
        contents.append((opened, chosen))
    loose = [cut for cut, count in demand.items() for _ in range(count)]
    if loose and not problem.by_the_metre:
        raise OutOfStock
    return _packing(problem, contents, loose)


def in_lesser_bars(packing: Packing) -> Packing:
    """The packing with the cuts of each bar moved to the bar that counts least of those that hold them and are left."""
    problem = packing.problem
    left = [bar.most for bar in problem.bars]
    for used in packing.used:
        count = left[used.bar]
        left[used.bar] = None if count is None else count - 1
    moved: list[Used] = []
    for used in packing.used:
        bar, needed = problem.bars[used.bar], sum(used.cuts_um)
        lesser = [
            index
            for index, other in enumerate(problem.bars)
            if other.weight < bar.weight and other.length_um >= needed and left[index] != 0
        ]
        if lesser:
            best = min(lesser, key=lambda each: (problem.bars[each].weight, problem.bars[each].length_um, each))
            for index, change in ((best, -1), (used.bar, 1)):
                count = left[index]
                left[index] = None if count is None else count + change
            used = Used(best, used.cuts_um)
        moved.append(used)
    return Packing(problem, tuple(moved), packing.loose_um)


def _free_in_turn(problem: CuttingProblem) -> Iterator[int]:
    free = (index for index, bar in enumerate(problem.bars) if not bar.weight)
    for index in sorted(free, key=lambda each: (problem.bars[each].length_um, each)):
        for _ in range(problem.bars[index].most or 0):
            yield index


def fullest(demand: dict[int, int], room: int) -> list[int]:
    """The cuts of `demand` (longest first) that together come closest to `room` from below, as far as is looked."""
    lengths = [cut for cut in demand if cut <= room]
    best: list[int] = []
    best_left = room
    looks = 0

    def search(start: int, chosen: list[int], left: int) -> bool:
        """True when the search is over."""
        nonlocal best, best_left, looks
        if left < best_left:
            best, best_left = list(chosen), left
        if not best_left:
            return True
        for position in range(start, len(lengths)):
            cut = lengths[position]
            if cut > left:
                continue
            looks += 1
            if looks > _MOST_LOOKS:
                return True
            most = min(demand[cut], left // cut)
            for count in range(most, 0, -1):
                if search(position + 1, chosen + [cut] * count, left - count * cut):
                    return True
        return False

    search(0, [], room)
    return best


def _take(demand: dict[int, int], cuts: list[int]) -> None:
    for cut in cuts:
        demand[cut] -= 1
        if not demand[cut]:
            del demand[cut]


def _packing(problem: CuttingProblem, contents: list[tuple[int, list[int]]], loose: list[int]) -> Packing:
    used = (Used(index, tuple(sorted(cuts, reverse=True))) for index, cuts in contents if cuts)
    return Packing(problem, tuple(used), tuple(loose))
