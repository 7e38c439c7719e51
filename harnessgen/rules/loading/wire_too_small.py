"""A wire thinner than its surroundings ask for, whatever its current."""

from harnessgen.design.limits.table import Limit, limit
from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_least
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire

RULE = "wire-too-small"


def check(network: Network) -> list[Finding]:
    """One finding for each wire below the mechanical minimum of where it lies."""
    found = (_finding(network, wire) for wire in network.wires)
    return [finding for finding in found if finding is not None]


def _bound(network: Network, wire: Wire) -> Limit:
    zones = (network.design.zones.get(leg.zone) for leg in wire.way)
    on_engine = any(zone is not None and zone.on == "engine" for zone in zones)
    return limit("smallest-size-engine" if on_engine else "smallest-size", wire.limits, network.design.limits)


def _finding(network: Network, wire: Wire) -> Finding | None:
    bound = _bound(network, wire)
    area = wire.figures.area_mm2.value
    if area >= bound.value.value:
        return None
    numbers = (
        Number("copper", area, "mm2", f"{wire.size} of {wire.family.name}"),
        Number("at least", bound.value.value, "mm2", f"{bound.name}: {bound.source}"),
    )
    larger = sorted(
        (figures.area_mm2.value, label)
        for label, figures in wire.family.sizes.items()
        if figures.area_mm2.value >= bound.value.value
    )
    sizes = [ConductorSize(wire.family.system, label) for _, label in larger[:2]]
    return Finding(
        RULE,
        Severity.ERROR,
        wire.mark,
        wire.size_place,
        f"Wire {wire.mark} is too thin to be handled and to last where it lies.",
        numbers,
        proposals=tuple(Proposal(wire.size_place, str(size), str(size)) for size in sizes),
        deciding=at_least(*numbers, is_set=True),
    )
