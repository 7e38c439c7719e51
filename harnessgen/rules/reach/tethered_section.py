"""Something besides its disconnect that ties a section that is lifted away to what stays."""

from typing import TYPE_CHECKING

from harnessgen.design.records.connector import Disconnect
from harnessgen.evidence.finding import Finding, Severity
from harnessgen.physics.physics import Physics
from harnessgen.rules.wording.places import end_place

if TYPE_CHECKING:
    from harnessgen.lengths.lift import Tie

RULE = "tethered-section"


def check(physics: Physics) -> list[Finding]:
    """One finding for each thing that a lifted section is fixed to, and that does not come away with it."""
    network = physics.network
    if not any(each.lift for each in network.design.disconnects.values()):
        return []
    from harnessgen.lengths.lift import ties

    return [
        _finding(physics, disconnect, tie)
        for disconnect in network.design.disconnects.values()
        for tie in ties(network, disconnect)
    ]


def _finding(physics: Physics, disconnect: Disconnect, tie: "Tie") -> Finding:
    design = physics.network.design
    numbers = {each.letter: each.number for each in physics.network.sections.sections}
    assert disconnect.lift is not None
    return Finding(
        RULE,
        Severity.ERROR,
        tie.thing,
        end_place(design, tie.wire, tie.end),
        f"{tie.thing} holds section {numbers[tie.wire.section]} back when it is lifted at {disconnect.name}:"
        f" wire {tie.wire.mark} ends there, and {tie.why}.",
        mend=f"lead {tie.wire.mark} through {disconnect.name}; or add {tie.thing} to comes, if it is on the part",
        see=((disconnect.lift.where("travel_mm"), f"{disconnect.name} is lifted here"),),
    )
