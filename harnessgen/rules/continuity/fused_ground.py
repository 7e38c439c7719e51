"""A fuse in a ground wire."""

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
        grounds = [name for side in sides for name in sorted(side & ways.grounds.keys())]
        if not grounds or any(side & ways.supplies.keys() for side in sides):
            continue
        fuse = element.device
        message = (
            f"Fuse {fuse.name} is in the way to ground point {grounds[0]}. When it opens, what is before it stays live."
        )
        mend = f"lead the wire past {fuse.name} to ground, and put the fuse in the feed"
        found.append(Finding(RULE, Severity.ERROR, fuse.name, fuse.place, message, mend=mend))
    return found
