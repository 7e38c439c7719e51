"""Which nodes of a graph hang together."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import networkx


def part_numbers(graph: "networkx.Graph[str]") -> Mapping[str, int]:
    """Number of the connected part that each node lies in, counted in the order of the nodes."""
    import networkx

    parts = enumerate(networkx.connected_components(graph))
    number_of = {node: number for number, part in parts for node in part}
    return {node: number_of[node] for node in graph}


def joined(pairs: Iterable[tuple[str, str]]) -> Mapping[str, int]:
    """Number of the group of each point when pairs of points are joined, counted in the order of the pairs."""
    import networkx

    graph: networkx.Graph[str] = networkx.Graph()
    graph.add_edges_from(pairs)
    return part_numbers(graph)
