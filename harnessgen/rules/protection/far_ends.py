"""Which end of each element lies on the side that no supply reaches but through it, for all elements at once."""

from collections.abc import Mapping

import networkx

from harnessgen.network.conduction import Conduction

_SOURCE = ""
"""A node of its own that every supply hangs on."""


def far_ends(ways: Conduction) -> Mapping[str, str]:
    """By its name the far end of each element that alone feeds what lies behind it; no way enters a ground point.

    Such an element is a bridge of the graph of what the supplies reach; of its ends the one farther from them is
    behind.
    """
    graph = ways.graph.copy()
    graph.remove_nodes_from(ways.grounds)
    graph.add_edges_from((_SOURCE, supply) for supply in ways.supplies if supply not in ways.grounds)
    if _SOURCE not in graph:
        return {}
    steps = networkx.single_source_shortest_path_length(graph, _SOURCE)
    return {
        name: max(ends, key=steps.__getitem__)
        for ends in networkx.bridges(graph, root=_SOURCE)
        if _SOURCE not in ends
        for name in graph[ends[0]][ends[1]]
    }
