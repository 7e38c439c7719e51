"""Wire families that stand a temperature, as proposals for one circuit, or for the whole design."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Proposal
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire

_MOST = 3


def families_that_stand(network: Network, wire: Wire, ambient_degc: float) -> Iterator[Proposal]:
    """Families on the shelf that have the size of `wire` and stand `ambient_degc`, the least rating first."""
    fitting = sorted(
        (family.rating_degc.value, name)
        for name, family in network.parts.wires.items()
        if family.rating_degc.value > ambient_degc and family.size(wire.size) is not None
    )
    names = [name for _, name in fitting[:_MOST]]
    title, place = network.design.harness, wire.size_place
    for name in names:
        # Where the circuit names no family, one is written behind its size; where it does, that is no mapping any more.
        words = f"wire: {name} for circuit {wire.circuit}"
        yield Proposal(place, f"{wire.size}, wire: {name}", words)
    if title is not None and "wire" in title.places and len(title.wire) == 1:
        for name in names:
            yield Proposal(title.where("wire"), name, f"wire: {name} for the whole design", is_other_way=True)
