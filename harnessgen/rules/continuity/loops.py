"""The loops of current: what lies on a way from a supply through ground back to it."""

from collections.abc import Container
from functools import partial

import networkx

from harnessgen.network.conduction import IsClosed
from harnessgen.network.electrical import Electrical, Element, ElementKind
from harnessgen.physics.electrical.operating_point import OperatingPoint, conducting
from harnessgen.physics.physics import Physics
from harnessgen.rules.continuity.conduction import closed_at, restless


def closures(physics: Physics, electrical: Electrical) -> list[IsClosed]:
    """For each declared state which of `electrical` conduct in it; one that closes everything where none is declared.

    A state in which relays find no rest counts in both positions. Where a short pulls the voltage down, a relay is
    taken to hold if its coil lies on a loop: the short is a finding of its own, and no reason why something is dead.
    """
    closed: list[IsClosed] = []
    for name, point in physics.points.items():
        if name in physics.shorted:
            closed.append(_held(electrical, point))
            continue
        closed.append(closed_at(point))
        if not point.is_at_rest:
            changing = frozenset(each.device.name for each in restless(physics.network, point) if each.device)
            closed.append(partial(conducting, on=point.on, pulled_in=point.pulled_in ^ changing))
    return closed or [lambda element: True]


def _held(electrical: Electrical, point: OperatingPoint) -> IsClosed:
    """What conducts with the relays holding whose coils lie on a loop, whatever their voltage."""
    coils = {
        each.name: each.device.name
        for each in electrical.elements
        if each.kind is ElementKind.COIL and each.device is not None
    }
    holding: frozenset[str] = frozenset()
    for _ in range(len(coils) + 1):
        live = in_loops(electrical, partial(conducting, on=point.on, pulled_in=holding))
        holding = frozenset(relay for coil, relay in coils.items() if coil in live)
    return partial(conducting, on=point.on, pulled_in=holding)


def in_loops(electrical: Electrical, is_closed: IsClosed, sensors: Container[str] = ()) -> set[str]:
    """Names of the elements that lie on a loop through a supply, or through one of `sensors`: those that get current.

    An element and a supply lie on a common loop if and only if they belong to the same block of the graph.
    """
    # A block is known by pairs of nodes: what joins the same pair side by side is in one block.
    graph: networkx.Graph[str] = networkx.Graph()
    between: dict[frozenset[str], list[Element]] = {}
    for element in electrical.elements:
        if element.a != element.b and is_closed(element):
            graph.add_edge(element.a, element.b)
            between.setdefault(frozenset((element.a, element.b)), []).append(element)
    found: set[str] = set()
    for pairs in networkx.biconnected_component_edges(graph):
        block = [element for pair in pairs for element in between[frozenset(pair)]]
        if len(block) > 1 and any(each.kind is ElementKind.SUPPLY or each.name in sensors for each in block):
            found.update(each.name for each in block)
    return found
