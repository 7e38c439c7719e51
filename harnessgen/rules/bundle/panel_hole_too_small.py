"""A hole in a panel that the finished harness does not go through from either side."""

import math
from typing import TYPE_CHECKING

from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_least
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network
from harnessgen.rules.bundle.fit import has_grommets

if TYPE_CHECKING:
    from harnessgen.lengths.bundles.grommets import HoleSide, Passage

RULE = "panel-hole-too-small"
_MOST_NAMED = 3


def check(network: Network) -> list[Finding]:
    """One finding for each panel hole that something finished beyond each of its sides is too large for."""
    if not has_grommets(network):
        return []
    from harnessgen.lengths.bundles.grommets import hole_sides, passages

    found: list[Finding] = []
    for passage in passages(network):
        if passage.grommet.hole_mm is None:
            continue
        sides = hole_sides(network, passage)
        if all(side.barred for side in sides):
            found.append(_finding(passage, passage.grommet.hole_mm.value, sides))
    return found


def _finding(passage: "Passage", hole_mm: float, sides: "tuple[HoleSide, ...]") -> Finding:
    grommet = passage.grommet
    place = grommet.where("hole_mm")
    enough_mm = math.ceil(sides[0].barred[0].needed_mm - 1e-9)
    numbers = [Number(f"towards {side.point}", side.barred[0].needed_mm, "mm", _words(side), 1) for side in sides]
    hole = Number("hole", hole_mm, "mm", "as the design says", 1)
    return Finding(
        RULE,
        Severity.WARNING,
        grommet.name,
        place,
        f"The finished harness goes through the hole of {grommet.name} from neither side.",
        (*numbers, hole),
        proposals=(Proposal(place, f"{enough_mm} mm", f"hole: {plain_number(enough_mm)} mm"),),
        deciding=at_least(hole, min(numbers, key=lambda each: each.value)),
    )


def _words(side: "HoleSide") -> str:
    """The largest things, with the wires that run past them: `sealed-6 at C21 beside 4 wires`."""
    names = [f"{each.part} at {each.node}" for each in side.barred[:_MOST_NAMED]]
    more = len(side.barred) - len(names)
    each = ", each" if len(side.barred) > 1 else ""
    return ", ".join(names) + (f" and {more} more" if more else "") + f"{each} beside the wires that run past it"
