"""A grommet through whose bore its bundle does not go."""

import math
from typing import TYPE_CHECKING

from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_most
from harnessgen.network.network import Network
from harnessgen.rules.bundle.fit import bundle_words, has_grommets

if TYPE_CHECKING:
    from harnessgen.lengths.bundles.grommets import Passage

RULE = "grommet-too-small"


def check(network: Network) -> list[Finding]:
    """One finding for each grommet whose bundle, with covering and tape, is wider than its bore."""
    if not has_grommets(network):
        return []
    from harnessgen.lengths.bundles.grommets import passages

    return [_finding(each) for each in passages(network) if each.needed_mm > each.grommet.bore_mm.value + 1e-9]


def _finding(passage: "Passage") -> Finding:
    grommet, bundle = passage.grommet, passage.bundle
    place = grommet.where("bore_mm")
    why = f"outside of {bundle.covering.name}" if bundle.covering is not None else bundle_words(bundle)
    if passage.tape_mm:
        why += f", and {passage.tape_mm:.1f} mm of tape on it"
    enough = f"{math.ceil(passage.needed_mm - 1e-9)} mm"
    numbers = (
        Number("bundle", passage.needed_mm, "mm", why, 1),
        Number("bore", grommet.bore_mm.value, "mm", "as the design says", 1),
    )
    return Finding(
        RULE,
        Severity.ERROR,
        grommet.name,
        place,
        f"The bundle from {bundle.name} does not go through {grommet.name}.",
        numbers,
        proposals=(Proposal(place, enough, f"bore: {enough}"),),
        deciding=at_most(*numbers),
    )
