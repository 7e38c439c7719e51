"""A bend of the route that is tighter than its bundle stands."""

import math

from harnessgen.design.records.route import Bend
from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_least
from harnessgen.lengths.bundles.bend_radius import least_radius
from harnessgen.lengths.bundles.stretch import StretchBundle, stretch_bundles
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network

RULE = "bend-too-tight"


def check(network: Network) -> list[Finding]:
    """One finding for each bend of stated radius that is below the smallest one for its bundle."""
    if not any(bend.radius_mm for leg in network.route.legs for bend in leg.stretch.bends):
        return []
    return [
        _finding(network, bundle, bend, bend.radius_mm.value)
        for bundle in stretch_bundles(network)
        for bend in bundle.leg.stretch.bends
        if bend.radius_mm is not None and bend.radius_mm.value < least_radius(network, bundle, bend).radius_mm - 1e-9
    ]


def _finding(network: Network, bundle: StretchBundle, bend: Bend, radius_mm: float) -> Finding:
    least = least_radius(network, bundle, bend)
    times, place = plain_number(least.times.value.value), bend.where("radius_mm")
    enough = f"{math.ceil(least.radius_mm - 1e-9)} mm"
    proposals = [Proposal(place, enough, f"radius: {enough}")]
    numbers = (
        Number(
            "needed",
            least.radius_mm,
            "mm",
            f"{times} times {least.diameter_mm:.1f} mm of {least.what}; {least.times.source}",
            1,
        ),
        Number("radius", radius_mm, "mm", "inside of the bend, as the design says", 1),
    )
    return Finding(
        RULE,
        Severity.WARNING,
        bundle.name,
        place,
        f"A bend of {plain_number(bend.angle_deg.value)} deg from {bundle.name} is too tight for {least.what}.",
        numbers,
        proposals=tuple(proposals),
        deciding=at_least(*numbers[::-1]),
    )
