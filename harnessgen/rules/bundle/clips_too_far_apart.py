"""A stretch whose clips are further apart than a bundle may hang."""

from itertools import pairwise

from harnessgen.design.limits.table import Limit, limit
from harnessgen.design.records.fixings import CLIP, GROMMET
from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_most
from harnessgen.lengths.bundles.stretch import StretchBundle, stretch_bundles
from harnessgen.measures.quantity import Quantity, plain_number, quantity_text
from harnessgen.network.network import Network

RULE = "clips-too-far-apart"


def check(network: Network) -> list[Finding]:
    """One finding for each stretch that says how far apart its clips are, or where they sit, and is beyond the limit.

    The two ends of a stretch are held by what is there, and a grommet holds what goes through it.
    """
    if not any(leg.stretch.clips for leg in network.route.legs):
        return []
    most = limit("clip-spacing", network.design.limits)
    found: list[Finding] = []
    for bundle in stretch_bundles(network):
        clips = bundle.leg.stretch.clips
        if clips is None:
            continue
        apart_mm, why = (clips.every_mm.value, "as the design says") if clips.every_mm is not None else _widest(bundle)
        if apart_mm > most.value.value + 1e-9:
            found.append(_finding(bundle, apart_mm, why, most))
    return found


def _widest(bundle: StretchBundle) -> tuple[float, str]:
    """The longest part of a stretch that neither clip nor grommet nor end holds, and from where to where it is."""
    leg = bundle.leg
    held = leg.stretch.fixings(leg.from_point, leg.to_point)
    places = [each.low_mm for each in held.all({}) if each.kind in (CLIP, GROMMET)]
    ends = [0.0, *places, held.length_mm]
    low_mm, high_mm = max(pairwise(ends), key=lambda pair: round(pair[1] - pair[0], 6))
    return high_mm - low_mm, f"from {plain_number(low_mm, 1)} to {plain_number(high_mm, 1)} mm from {held.start}"


def _finding(bundle: StretchBundle, apart_mm: float, why: str, most: Limit) -> Finding:
    clips = bundle.leg.stretch.clips
    assert clips is not None
    enough = quantity_text(Quantity(int(most.value.value)), "mm")
    is_plain = clips.every_mm is not None
    place = clips.where("every_mm") if is_plain else clips.place
    said = f"The clips from {bundle.name} are {plain_number(apart_mm, 1)} mm apart."
    numbers = (
        Number("apart", apart_mm, "mm", why, 1),
        Number("at most", most.value.value, "mm", str(most.source), 1),
    )
    return Finding(
        RULE,
        Severity.WARNING,
        bundle.name,
        place,
        said if is_plain else f"The clips from {bundle.name} leave {plain_number(apart_mm, 1)} mm without one.",
        numbers,
        mend="" if is_plain else "set a further clip there",
        proposals=(Proposal(place, enough, f"clips: {enough}"),) if is_plain else (),
        deciding=at_most(*numbers, is_set=True),
    )
