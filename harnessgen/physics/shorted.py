"""Whether a solved state is the state of a short: its voltages and currents say nothing of the harness at work."""

from collections.abc import Iterable

from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics.operating_point import OperatingPoint, conducting


def is_shorted(elements: Iterable[Element], point: OperatingPoint) -> bool:
    """True where a supply reaches a ground point through what conducts, with no load or relay coil between.

    A diode the wrong way round across a coil is such a way too.
    """
    if point.forward:
        return True
    parent: dict[str, str] = {}

    def root(node: str) -> str:
        above = parent.setdefault(node, node)
        while above != node:
            parent[node] = parent[above]
            node, above = above, parent[above]
        return node

    poles: dict[ElementKind, list[str]] = {ElementKind.SUPPLY: [], ElementKind.GROUND: []}
    for element in elements:
        if element.kind in poles:
            poles[element.kind].append(element.a)
        elif not element.kind.limits_current and conducting(element, point.on, point.pulled_in):
            parent[root(element.b)] = root(element.a)
    grounded = {root(node) for node in poles[ElementKind.GROUND]}
    return any(root(node) in grounded for node in poles[ElementKind.SUPPLY])
