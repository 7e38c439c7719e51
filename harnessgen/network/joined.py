"""Which points hang together when pairs of them are joined: a union-find, the one home of it."""

from collections.abc import Iterable, Mapping


def joined(points: Iterable[str], pairs: Iterable[tuple[str, str]]) -> Mapping[str, int]:
    """Number of the group of each point, counted in the order of `points` and then of the ends of `pairs`."""
    parent: dict[str, str] = {point: point for point in points}

    def root(point: str) -> str:
        while parent.setdefault(point, point) != point:
            parent[point] = parent[parent[point]]
            point = parent[point]
        return point

    for one, other in pairs:
        first = root(one)
        parent[root(other)] = first
    numbers: dict[str, int] = {}
    return {point: numbers.setdefault(root(point), len(numbers)) for point in parent}
