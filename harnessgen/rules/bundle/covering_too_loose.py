"""A covering that is much wider than its bundle, or heat-shrink that does not shrink down onto it."""

from harnessgen.design.limits.table import limit
from harnessgen.evidence.finding import Finding, Number, Severity, at_least
from harnessgen.lengths.bundles.stretch import StretchBundle
from harnessgen.network.network import Network
from harnessgen.parts.covering import CoveringPart
from harnessgen.rules.bundle.fit import bundle_words, covered

RULE = "covering-too-loose"


def check(network: Network) -> list[Finding]:
    """One finding for each covered stretch whose bundle is thinner than its covering can do with."""
    found: list[Finding] = []
    for bundle in covered(network):
        assert bundle.covering is not None
        least_mm, why = _least(network, bundle.covering)
        # The rule of the trade is not below the bundle by more than it says; only what is surely loose is told.
        if bundle.diameter.largest_mm < least_mm - 1e-9:
            found.append(_finding(bundle, bundle.covering, least_mm, why))
    return found


def _least(network: Network, part: CoveringPart) -> tuple[float, str]:
    if part.recovered_mm is not None:
        return part.recovered_mm.value, f"inside of {part.name}, shrunk down free; {part.publication}"
    share = limit("least-fill", network.design.limits)
    inside_mm = part.inside_mm.value
    return inside_mm * share.value.value, f"{share.value.value:.0%} of {inside_mm:.1f} mm; {share.source}"


def _finding(bundle: StretchBundle, part: CoveringPart, least_mm: float, why: str) -> Finding:
    what = "does not shrink down onto its bundle" if part.recovered_mm is not None else "lies loose on its bundle"
    numbers = (
        Number("bundle", bundle.diameter.largest_mm, "mm", bundle_words(bundle), 1),
        Number("wanted at least", least_mm, "mm", why, 1),
    )
    return Finding(
        RULE,
        Severity.NOTE,
        bundle.name,
        bundle.leg.stretch.where("covering"),
        f"The {part.name} from {bundle.name} {what}.",
        numbers,
        mend="take a narrower covering",
        deciding=at_least(*numbers),
    )
