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
    parted: networkx.Graph[str] = networkx.Graph()
    parted.add_edges_from((a, b) for a, b in ways.graph.edges() if a not in ways.grounds and b not in ways.grounds)
    parted.add_edges_from((_SOURCE, supply) for supply in ways.supplies if supply not in ways.grounds)
    if _SOURCE not in parted:
        return {}
    steps = networkx.single_source_shortest_path_length(parted, _SOURCE)
    bridges = (ends for ends in networkx.bridges(parted, root=_SOURCE) if _SOURCE not in ends)
    # Elements side by side between the same two nodes are no bridges.
    between = ((ends, ways.graph.get_edge_data(*ends)) for ends in bridges)
    return {name: max(ends, key=steps.__getitem__) for ends, names in between if len(names) == 1 for name in names}
