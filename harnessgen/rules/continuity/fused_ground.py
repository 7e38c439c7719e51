"""A fuse in a ground wire."""

from collections.abc import Iterator

from harnessgen.design.records.device import Fuse
from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.network import Network

RULE = "fused-ground"


def check(network: Network) -> list[Finding]:
    """One finding for each fuse that lies between a load and ground: one side leads to ground, neither to a supply."""
    ways, found = network.ways, []
    for element in network.electrical.elements:
        if not isinstance(element.device, Fuse):
            continue
        sides = [{node, *(at for _, at in ways.reached(node, element.name))} for node in (element.a, element.b)]
        grounded = [side for side in sides if side & ways.grounds.keys()]
        others = [side for side in sides if not side & ways.grounds.keys()]
        if len(grounded) != 1 or any(side & ways.supplies.keys() for side in sides):
            continue
        if not any(ways.poles(far)[0] for far in _beyond_loads(network, others[0])):
            # Nothing that it returns is fed: a feed that was led to ground is told as such.
            continue
        grounds = sorted(grounded[0] & ways.grounds.keys())
        fuse = element.device
        message = (
            f"Fuse {fuse.name} is in the way to ground point {grounds[0]}. When it opens, what is before it stays live."
        )
        mend = f"lead the wire past {fuse.name} to ground, and put the fuse in the feed"
        found.append(Finding(RULE, Severity.ERROR, fuse.name, fuse.place, message, mend=mend))
    return found


def _beyond_loads(network: Network, nodes: set[str]) -> Iterator[str]:
    """The other terminals of the loads and coils that have one terminal among the nodes."""
    for each in network.electrical.elements:
        if each.kind.does_work and (each.a in nodes) is not (each.b in nodes):
            yield each.b if each.a in nodes else each.a
