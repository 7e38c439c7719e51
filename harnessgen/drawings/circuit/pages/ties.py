"""How strongly groups of strands belong together: small joints that two groups share tie them most."""

import heapq
from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import combinations, pairwise

_MOST_TIED = 40
"""In a joint of more groups neighbours alone are tied, or the pairs would be too many."""

Pair = tuple[int, int]


class Ties:
    """Pairs of groups by the strength of their tie, kept up to date as groups are joined.

    `at` holds the strands of each joint, `groups` those of each group. A pair is offered once.
    """

    def __init__(self, at: Mapping[str, Sequence[int]], groups: Mapping[int, Sequence[int]]) -> None:
        self._at = at
        self._fresh = len(groups)
        group_of = {place: name for name, group in groups.items() for place in group}
        self._joints: dict[int, dict[str, int]] = {name: {} for name in groups}
        """Joints of each group, with the number of its strands at each."""
        self._tied: dict[int, set[int]] = {name: set() for name in groups}
        self._heap: list[tuple[float, Pair]] = []
        for joint, places in at.items():
            counts = Counter(group_of[place] for place in places if place in group_of)
            for name, count in counts.items():
                self._joints[name][joint] = count
            names = sorted(counts)
            for one, other in combinations(names, 2) if len(names) <= _MOST_TIED else pairwise(names):
                self._tied[one].add(other)
                self._tied[other].add(one)
        for one, others in self._tied.items():
            for other in others:
                if one < other:
                    self._offer(one, other)

    def strongest(self) -> Pair | None:
        """The pair of groups with the strongest tie that was not offered yet; None without one."""
        while self._heap:
            _, (one, other) = heapq.heappop(self._heap)
            if one in self._tied and other in self._tied:
                return one, other
        return None

    def join(self, one: int, other: int) -> int:
        """Make one group of two; its number. It is tied to all that either was tied to."""
        fresh, self._fresh = self._fresh, self._fresh + 1
        joints = Counter(self._joints.pop(one))
        joints.update(self._joints.pop(other))
        self._joints[fresh] = dict(joints)
        neighbours = (self._tied.pop(one) | self._tied.pop(other)) - {one, other}
        self._tied[fresh] = neighbours
        for name in sorted(neighbours):
            self._tied[name] -= {one, other}
            self._tied[name].add(fresh)
            self._offer(name, fresh)
        return fresh

    def _offer(self, one: int, other: int) -> None:
        heapq.heappush(self._heap, (-self._strength(one, other), (one, other)))

    def _strength(self, one: int, other: int) -> float:
        first, second = self._joints[one], self._joints[other]
        if len(second) < len(first):
            first, second = second, first
        return sum(
            max(count, second[joint]) / (len(self._at[joint]) - 1) for joint, count in first.items() if joint in second
        )
