"""Which end of each element lies on the side that no supply reaches but through it, for all elements in one walk."""

from collections.abc import Iterator, Mapping

from harnessgen.rules.continuity.conduction import Conduction

_SOURCE = ""
"""A node of its own that every supply hangs on."""


def far_ends(ways: Conduction) -> Mapping[str, str]:
    """By its name the far end of each element that alone feeds what lies behind it; no way enters a ground point.

    A walk from the supplies in depth numbers the nodes. What was first reached through an element, and leads back no
    further than that element by any other, loses every supply without it (Tarjan 1974, A note on finding the bridges of
    a graph, from memory).
    """
    beside = _beside(ways)
    number, back = {_SOURCE: 0}, {_SOURCE: 0}
    far: dict[str, str] = {}
    walk: list[tuple[str, str, Iterator[tuple[str, str]]]] = [(_SOURCE, "", iter(beside[_SOURCE]))]
    while walk:
        node, through, rest = walk[-1]
        for after, name in rest:
            if after not in number:
                number[after] = back[after] = len(number)
                walk.append((after, name, iter(beside.get(after, ()))))
                break
            if name != through:
                back[node] = min(back[node], number[after])
        else:
            walk.pop()
            if walk:
                before = walk[-1][0]
                back[before] = min(back[before], back[node])
                if back[node] > number[before]:
                    far[through] = node
    return far


def _beside(ways: Conduction) -> dict[str, list[tuple[str, str]]]:
    """Neighbours of each node but ground points, with the name of what leads there."""
    beside = {
        node: [(after, element.name) for after, element in found if after not in ways.grounds]
        for node, found in ways.neighbours.items()
    }
    beside[_SOURCE] = []
    for supply in ways.supplies:
        if supply not in ways.grounds:
            beside[_SOURCE].append((supply, f"{_SOURCE} {supply}"))
            beside.setdefault(supply, []).append((_SOURCE, f"{_SOURCE} {supply}"))
    return beside
