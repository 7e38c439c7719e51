"""The way that most of a current takes: at each node the element that carries most of it on."""

from collections.abc import Iterable, Mapping

from harnessgen.network.electrical import REFERENCE, Element

Strongest = dict[str, tuple[float, Element]]
"""By node, the element that carries most there in one direction, with its current in A."""


def strongest(elements: Iterable[Element], amperes: Mapping[str, float]) -> tuple[Strongest, Strongest]:
    """For each node the element that brings it most current, and the one that takes most away; loads are not asked."""
    brings: Strongest = {}
    takes: Strongest = {}
    for element in elements:
        current = amperes[element.name]
        if current == 0.0 or element.kind.limits_current:
            continue
        source, sink = (element.a, element.b) if current > 0.0 else (element.b, element.a)
        for most, node in ((brings, sink), (takes, source)):
            if node not in most or abs(current) > most[node][0]:
                most[node] = (abs(current), element)
    return brings, takes


def way(start: str, most: Strongest) -> list[Element]:
    """Elements from a node to the reference, each the strongest at its node; empty where none leads there.

    Along a current the voltage only falls, so no node comes twice.
    """
    found: list[Element] = []
    node = start
    while node != REFERENCE:
        if node not in most or len(found) > len(most):
            return []
        element = most[node][1]
        found.append(element)
        node = element.b if element.a == node else element.a
    return found
