"""Wires on the ways between a node and many ends, against a graph that is taken off tip by tip for each node anew."""

import random

import networkx
import pytest

from harnessgen.network.conduction import conduction
from harnessgen.network.electrical import Electrical, Element, ElementKind
from harnessgen.rules.protection.ways_between import WaysBetween
from tests.drawings.generated import network_of
from tests.line import FLAT_SIX


def left(graph: "networkx.MultiGraph[str]", start: str, ends: set[str], never: set[str]) -> set[str]:
    """Names of the edges that stay: no node but the start and the ends hangs on one edge alone."""
    part = networkx.node_connected_component(graph.subgraph(set(graph) - (never - {start})), start)
    if start in never or any(beside in never for node in part for beside in graph[node]):
        return set()
    kept = networkx.MultiGraph(graph.subgraph(part))
    while tips := [node for node, degree in kept.degree() if degree <= 1 and node != start and node not in ends]:
        kept.remove_nodes_from(tips)
    return {name for _, _, name in kept.edges(keys=True)}


@pytest.mark.parametrize("seed", range(60))
def test_every_node_has_the_wires_that_are_left_for_it(seed: int) -> None:
    """Random networks of up to twenty nodes with loops and twin wires, every node asked in an order of its own."""
    wire, rng = network_of(FLAT_SIX).wires[0], random.Random(seed)
    nodes = [f"n{number}" for number in range(rng.randint(3, 20))]
    elements = [
        Element(f"w{number}", ElementKind.WIRE, *rng.sample(nodes, 2), wire=wire)
        for number in range(rng.randint(2, len(nodes) + 4))
    ]
    marked = rng.sample(nodes, min(len(nodes), 4))
    ends, never = set(marked[: rng.randint(0, 3)]), set(marked[3:] if rng.random() < 0.5 else ())
    graph: networkx.MultiGraph[str] = networkx.MultiGraph()
    graph.add_nodes_from(nodes)
    graph.add_edges_from((each.a, each.b, each.name) for each in elements)
    between = WaysBetween(
        conduction(Electrical({}, tuple(elements)), lambda each: True), frozenset(ends), frozenset(never)
    )
    for start in rng.sample(nodes, len(nodes)):
        assert {each.name for each in between.wires(start)} == left(graph, start, ends, never), start
