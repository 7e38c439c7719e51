"""Two splices so near each other on the route that their barrels and sleeves lie over one another."""

from itertools import combinations
from math import fsum

from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.network.network import Leg, Network

RULE = "splices-overlap"
_HAIR_MM = 1e-6


def check(network: Network) -> list[Finding]:
    """One finding for each splice that overlaps one before it, with the nearest of them."""
    near: dict[str, tuple[float, str, float]] = {}
    used = [name for name in network.design.splices if name in network.wires_at]
    for before, name in combinations(used, 2):
        # Where neither says how far from its point it sits, both are told to be about there, not at one spot.
        if not any(network.design.splices[each].offset_mm.value for each in (before, name)):
            continue
        path = network.route.path(network.route.splice_node(before), network.route.splice_node(name))
        if path is None or not all(isinstance(each, Leg) for each in path):
            continue
        apart_mm = fsum(each.length_mm for each in path if isinstance(each, Leg))
        needs_mm = network.splice_part(before).overlap_mm.value + network.splice_part(name).overlap_mm.value
        if apart_mm < needs_mm - _HAIR_MM:
            near[name] = min(near.get(name, (apart_mm, before, needs_mm)), (apart_mm, before, needs_mm))
    return [_finding(network, name, *found) for name, found in near.items()]


def _finding(network: Network, name: str, apart_mm: float, before: str, needs_mm: float) -> Finding:
    splice = network.design.splices[name]
    place = splice.where("offset_mm") if "offset_mm" in splice.places else splice.place
    parts = f"{network.splice_part(before).name} and {network.splice_part(name).name}: overlap of both"
    return Finding(
        RULE,
        Severity.WARNING,
        name,
        place,
        f"Splice {name} overlaps {before} in the bundle.",
        (Number("apart", apart_mm, "mm", "along the route", 0), Number("at least", needs_mm, "mm", parts, 0)),
        mend=f"move {name} or {before} so that they are at least {needs_mm:g} mm apart along the route",
    )
