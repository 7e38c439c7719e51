"""Splices: the sides of a barrel."""

from harnessgen.network.network import Network
from harnessgen.network.wires import Wire


def leaves_towards(network: Network, wire: Wire, splice: str) -> str:
    """The point of the route that a wire sets out for from a splice: the side of the barrel that it lies in."""
    if not wire.way:
        return ""
    node = network.route.splice_node(splice)
    first = wire.way[0] if wire.a.node == splice else wire.way[-1]
    # A part of a stretch runs from its first point to its last, whichever way the wire goes.
    return first.to_point if first.start == node else first.from_point
