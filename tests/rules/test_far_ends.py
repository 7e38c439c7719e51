"""The far end of a fuse, against taking each element out by itself and walking the rest."""

import networkx
import pytest

from harnessgen.network.conduction import conduction
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.rules.protection.fused import far_ends
from tests.drawings.generated import design_text, network_of

_NO_WAY = (ElementKind.SUPPLY, ElementKind.GROUND)


def _away(network: Network, out: Element) -> list[str]:
    """Ends of `out` that no supply reaches any more with it out, no way through a ground point."""
    elements = network.electrical.elements
    grounds = {each.a for each in elements if each.kind is ElementKind.GROUND}
    graph: networkx.Graph[str] = networkx.Graph()
    graph.add_nodes_from(network.electrical.nodes)
    for each in elements:
        if each is not out and each.kind not in _NO_WAY and not each.kind.limits_current:
            graph.add_edge(each.a, each.b)
    graph.remove_nodes_from(grounds)
    for each in elements:
        if each.kind is ElementKind.SUPPLY and each.a not in grounds:
            graph.add_edge("every supply", each.a)
    return [end for end in (out.a, out.b) if end in graph and not networkx.has_path(graph, end, "every supply")]


@pytest.mark.parametrize("seed", range(12))
def test_one_walk_finds_what_taking_out_each_element_finds(seed: int) -> None:
    """Wires, contacts, fuses, switches and relay contacts; of a part without any supply both ends are away."""
    network = network_of(design_text(seed))
    found = far_ends(conduction(network.electrical, lambda element: True))
    grounds = {each.a for each in network.electrical.elements if each.kind is ElementKind.GROUND}
    tried = 0
    for each in network.electrical.elements:
        if each.kind in _NO_WAY or each.kind.limits_current or grounds & {each.a, each.b}:
            continue
        away = _away(network, each)
        assert [found[each.name]] == away if each.name in found else len(away) != 1
        tried += each.name in found
    assert tried
