"""The best cutting plan of small problems, by trying every way to share out the cuts."""

import math
from collections.abc import Sequence

from harnessgen.cutting.problem import Bar, Packing

M = 1_000_000
"""Micrometres in a metre."""


def least_by_trying(cuts: Sequence[int], bars: Sequence[Bar], by_the_metre: bool = False) -> float:
    """Lowest count of any plan; infinite where there is none."""
    best = math.inf
    left = [bar.most for bar in bars]
    rooms: list[int] = []

    def place(index: int, count: float) -> None:
        nonlocal best
        if count >= best:
            return
        if index == len(cuts):
            best = count
            return
        cut = cuts[index]
        for at, room in enumerate(rooms):
            if cut <= room:
                rooms[at] = room - cut
                place(index + 1, count)
                rooms[at] = room
        for kind, bar in enumerate(bars):
            if cut <= bar.length_um and left[kind] != 0:
                before = left[kind]
                left[kind] = None if before is None else before - 1
                rooms.append(bar.length_um - cut)
                place(index + 1, count + bar.weight)
                rooms.pop()
                left[kind] = before
        if by_the_metre:
            place(index + 1, count + cut)

    place(0, 0.0)
    return best


def assert_is_a_plan(packing: Packing) -> None:
    """Every cut is there once, no bar is overfull, and none is taken more often than there is."""
    problem = packing.problem
    done = [cut for used in packing.used for cut in used.cuts_um] + list(packing.loose_um)
    assert sorted(done) == sorted(problem.cuts_um)
    assert not packing.loose_um or problem.by_the_metre
    for used in packing.used:
        assert used.cuts_um
        assert packing.tail_um(used) >= 0
    for index, bar in enumerate(problem.bars):
        assert bar.most is None or sum(used.bar == index for used in packing.used) <= bar.most
