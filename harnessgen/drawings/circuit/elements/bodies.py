"""Devices with three terminals that are drawn as one symbol: a sensor with a signal, and a relay's change-over contact.

In the electrical graph each is two elements with a node between; here its three nodes become one junction, which knows
which terminal each of its strands is brought to.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from harnessgen.design.records.device import SIGNAL
from harnessgen.network.electrical import Element, ElementKind

COMMON, RESTING, WORKING = "30", "87a", "87"
"""Terminals of a change-over contact by DIN 72552."""


@dataclass(frozen=True, slots=True)
class Body:
    """A device of three terminals: name of its junction, its elements, and the node of each terminal."""

    name: str
    elements: tuple[Element, Element]
    nodes: Mapping[str, str]

    @property
    def middle(self) -> str:
        """The node that both elements share."""
        return self.nodes[COMMON] if COMMON in self.nodes else self.nodes[SIGNAL]

    @property
    def is_contact(self) -> bool:
        """Whether it is a change-over contact, else a sensor."""
        return COMMON in self.nodes


def bodies_of(elements: Iterable[Element], taken: Iterable[str]) -> dict[str, Body]:
    """Devices that can be drawn as one: each terminal has one thing at it, no two the same, and none is in `taken`."""
    held = list(elements)
    at: dict[str, list[Element]] = {}
    for element in held:
        for node in (element.a, element.b):
            at.setdefault(node, []).append(element)
    never = set(taken)
    found: dict[str, Body] = {}
    for body in _candidates(held):
        inside = {each.name for each in body.elements}
        outside = [[each for each in at[node] if each.name not in inside] for node in body.nodes.values()]
        names = {each.name for one in outside for each in one}
        if all(len(one) == 1 for one in outside) and len(names) == 3 and not never.intersection(body.nodes.values()):
            found[body.name] = body
    return found


def _candidates(elements: Iterable[Element]) -> Iterator[Body]:
    kinds = (ElementKind.MAKE, ElementKind.BREAK, ElementKind.LOAD)
    held = {each.name: each for each in elements if each.kind in kinds}
    for name, first in held.items():
        second = held.get(f"{name} {SIGNAL}")
        if first.kind is ElementKind.LOAD and second is not None and first.b == second.a:
            yield Body(name, (first, second), {"1": first.a, SIGNAL: first.b, "2": second.b})
        other = held.get(f"{name}a")
        if first.kind is ElementKind.MAKE and other is not None:
            nodes = {COMMON: first.a, WORKING: first.b, RESTING: other.b}
            yield Body(f"{name.partition(' ')[0]} contact", (first, other), nodes)


def drawn_as_one(elements: Iterable[Element], bodies: Mapping[str, Body]) -> list[Element]:
    """The elements without those inside `bodies`, what was at their terminals brought to one node for each body."""
    inside = {each.name for body in bodies.values() for each in body.elements}
    moved = {node: body.name for body in bodies.values() for node in body.nodes.values()}
    return [
        replace(each, a=moved.get(each.a, each.a), b=moved.get(each.b, each.b))
        for each in elements
        if each.name not in inside
    ]


def terminals_of(elements: Iterable[Element], body: Body) -> tuple[tuple[str, str], ...]:
    """Name of the element outside at each terminal of a body, with the terminal."""
    inside = {each.name for each in body.elements}
    terminal = {node: name for name, node in body.nodes.items()}
    return tuple(
        (each.name, terminal[node])
        for each in elements
        if each.name not in inside
        for node in (each.a, each.b)
        if node in terminal
    )
