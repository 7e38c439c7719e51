"""A stretch whose clips are further apart than a bundle may hang."""

from harnessgen.design.limits import Limit, limit
from harnessgen.evidence.finding import Finding, Number, Proposal, Severity
from harnessgen.measures.quantity import Quantity, plain_number, quantity_text
from harnessgen.network.network import Network
from harnessgen.physics.stretch_bundle import StretchBundle, stretch_bundles

RULE = "clips-too-far-apart"


def check(network: Network) -> list[Finding]:
    """One finding for each stretch that says how far apart its clips are, and is beyond the limit."""
    if not any(leg.stretch.clips_mm for leg in network.route.legs):
        return []
    most = limit("clip-spacing", network.design.limits)
    return [
        _finding(bundle, bundle.leg.stretch.clips_mm.value, most)
        for bundle in stretch_bundles(network)
        if bundle.leg.stretch.clips_mm is not None and bundle.leg.stretch.clips_mm.value > most.value.value + 1e-9
    ]


def _finding(bundle: StretchBundle, clips_mm: float, most: Limit) -> Finding:
    place = bundle.leg.stretch.where("clips_mm")
    enough = quantity_text(Quantity(int(most.value.value)), "mm")
    return Finding(
        RULE,
        Severity.WARNING,
        bundle.name,
        place,
        f"The clips from {bundle.name} are {plain_number(clips_mm, 1)} mm apart.",
        (
            Number("apart", clips_mm, "mm", "as the design says", 1),
            Number("at most", most.value.value, "mm", str(most.source), 1),
        ),
        proposals=(Proposal(place, enough, f"clips: {enough}"),),
    )
