"""A path from a supply to ground, or to another supply, with no load in it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.electrical import REFERENCE, Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.operating_point import conducting
from harnessgen.physics.physics import Physics

RULE = "short-circuit"


@dataclass(frozen=True, slots=True)
class _Case:
    """One way of running the vehicle in which the network is looked at."""

    words: str
    on: frozenset[str]


def check(physics: Physics) -> list[Finding]:
    """One finding for each supply and each short path from it, in the first state that closes it."""
    found: dict[tuple[str, str], Finding] = {}
    for case in _cases(physics):
        pulled_in = physics.solve(case.words, case.on).pulled_in
        for finding, ends in _shorts(physics.network, case, pulled_in):
            found.setdefault(ends, finding)
    return list(found.values())


def _cases(physics: Physics) -> Iterator[_Case]:
    design = physics.network.design
    seen: set[frozenset[str]] = set()
    states: list[tuple[str, frozenset[str]]] = [
        (f"in state {name}", frozenset(state.on)) for name, state in design.states.items()
    ]
    states = states or [("with everything off", frozenset())]
    alone = [
        (f"{words} with {driver} on", on | {driver})
        for words, on in states
        for driver in design.drivers
        if driver not in on
    ]
    for words, on in states + alone:
        if on not in seen:
            seen.add(on)
            yield _Case(words, on)


def _shorts(network: Network, case: _Case, pulled_in: frozenset[str]) -> Iterator[tuple[Finding, tuple[str, str]]]:
    graph: dict[str, list[tuple[str, Element]]] = {}
    grounded: set[str] = set()
    supplies: dict[str, Element] = {}
    for element in network.electrical.elements:
        if element.kind is ElementKind.SUPPLY:
            supplies.setdefault(element.a, element)
        elif element.kind is ElementKind.GROUND:
            grounded.add(element.a)
        elif not element.kind.does_work and conducting(element, case.on, pulled_in):
            graph.setdefault(element.a, []).append((element.b, element))
            graph.setdefault(element.b, []).append((element.a, element))
    for node, supply in supplies.items():
        yield from _shorts_from(network, case, graph, node, supply, supplies, grounded)


def _shorts_from(
    network: Network,
    case: _Case,
    graph: Mapping[str, list[tuple[str, Element]]],
    start: str,
    supply: Element,
    supplies: Mapping[str, Element],
    grounded: set[str],
) -> Iterator[tuple[Finding, tuple[str, str]]]:
    came_by: dict[str, tuple[str, Element] | None] = {start: None}
    queue = [start]
    for node in queue:
        for after, element in graph.get(node, ()):
            if after not in came_by:
                came_by[after] = (node, element)
                queue.append(after)
    for node in queue[1:]:
        is_other = node in supplies
        if not is_other and node not in grounded and node != REFERENCE:
            continue
        path: list[Element] = []
        link = came_by[node]
        while link is not None:
            path.append(link[1])
            link = came_by[link[0]]
        ends = tuple(sorted((supply.name, supplies[node].name))) if is_other else (supply.name, node)
        yield _finding(case, supply, node, path[::-1], is_other=is_other), (ends[0], ends[1])


def _finding(case: _Case, supply: Element, node: str, path: list[Element], *, is_other: bool) -> Finding:
    way = ", ".join(element.name for element in path)
    wires = [element.wire for element in path if element.wire is not None]
    last = wires[-1] if wires else None
    place = last.place if last is not None else supply.device.place  # type: ignore[union-attr]
    subject = last.mark if last is not None else supply.name
    if is_other:
        message = (
            f"The supplies {supply.name} and {node} are joined without a load between them {case.words}, by {way}."
        )
        mend = "part the two, or put what may join them under one supply"
    else:
        message = f"{supply.name} is joined to ground at {node} without a load between them {case.words}, by {way}."
        mend = ""
    return Finding(RULE, Severity.ERROR, subject, place, message, mend=mend)
