"""Ties are kept up to date as groups are joined: against a reckoning from the start after every step."""

from itertools import combinations
from random import Random

import pytest

from harnessgen.drawings.circuit.pages.ties import Ties


def strength(at: dict[str, list[int]], one: set[int], other: set[int]) -> float:
    """How strongly two groups are tied, from the definition: at each joint the larger part that one of them has."""
    total = 0.0
    for places in at.values():
        shares = [sum(place in group for place in places) for group in (one, other)]
        if all(shares):
            total += max(shares) / (len(places) - 1)
    return total


@pytest.mark.parametrize("seed", range(20))
def test_the_strongest_pair_is_offered_first(seed: int) -> None:
    """Groups are joined or left at random; each pair that is offered is the strongest of those not offered yet."""
    rng = Random(seed)
    count = 14
    at = {f"S{number}": rng.sample(range(count), rng.randint(2, 5)) for number in range(9)}
    groups = {place: {place} for place in range(count)}
    ties = Ties(at, {name: sorted(group) for name, group in groups.items()})
    offered: set[tuple[int, int]] = set()
    while (pair := ties.strongest()) is not None:
        left = {
            (one, other): strength(at, groups[one], groups[other])
            for one, other in combinations(sorted(groups), 2)
            if (one, other) not in offered
        }
        assert left[pair] == pytest.approx(max(left.values()))
        offered.add(pair)
        if rng.random() < 0.6:
            fresh = ties.join(*pair)
            groups[fresh] = groups.pop(pair[0]) | groups.pop(pair[1])
    left_over = [
        strength(at, groups[a], groups[b]) for a, b in combinations(sorted(groups), 2) if (a, b) not in offered
    ]
    assert not any(left_over)
