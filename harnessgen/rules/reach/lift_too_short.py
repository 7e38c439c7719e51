"""A disconnect whose halves cannot be parted at the travel at which the part that they serve is lifted away."""

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_least
from harnessgen.lengths.wire_length import ROUNDING_MM
from harnessgen.measures.quantity import plain_number, quantity_text
from harnessgen.network.route import Leg
from harnessgen.physics.physics import Physics

if TYPE_CHECKING:
    from harnessgen.lengths.lift import LiftCheck

RULE = "lift-too-short"


def check(physics: Physics) -> list[Finding]:
    """One finding for each disconnect with a stated lift and too little slack of bundle for it."""
    if not any(each.lift for each in physics.network.design.disconnects.values()):
        return []
    from harnessgen.lengths.lift import lift_checks

    lifts = lift_checks(physics.network)
    return [_finding(physics, each) for each in lifts if each.margin_mm < -ROUNDING_MM]


def _finding(physics: Physics, lift: "LiftCheck") -> Finding:
    disconnect = physics.network.design.disconnects[lift.disconnect]
    assert disconnect.lift is not None
    travel, stroke = plain_number(lift.travel_mm, 1), plain_number(lift.stroke.value.value, 1)
    way = f"{travel} mm across {plain_number(lift.loose_mm, 1)} mm of bundle" if lift.is_across else f"{travel} mm"
    needed = f"lifted by {way}, and {stroke} mm to part the halves: {lift.stroke.source}"
    between = " and ".join(dict.fromkeys(leg.name for leg in lift.loose))
    short_mm = max(round(-lift.margin_mm, 1), 0.1)
    numbers = (
        Number("needed", lift.needed_mm, "mm", needed, 1),
        Number("slack", lift.slack_mm, "mm", f"slack of the bundle from {between}", 1),
    )
    return Finding(
        RULE,
        Severity.ERROR,
        lift.disconnect,
        disconnect.lift.where("travel_mm"),
        f"{lift.disconnect} lacks {short_mm:.1f} mm of slack to be parted once the part is lifted by {travel} mm.",
        numbers,
        proposals=tuple(_proposals(lift)),
        deciding=at_least(*numbers[::-1]),
    )


def _proposals(lift: "LiftCheck") -> Iterator[Proposal]:
    """More slack in one of the stretches between the fixings."""
    for leg in {each.name: each for each in lift.loose}.values():
        # Slack of a stretch that lies only in part between the fixings counts by that part.
        share = math.fsum(each.share for each in lift.loose if each.name == leg.name)
        slack_mm = math.ceil(leg.stretch.slack_mm.value - lift.margin_mm / share - ROUNDING_MM)
        words = f"slack: {slack_mm} mm from {leg.name}"
        if "slack_mm" in leg.stretch.places:
            yield Proposal(leg.stretch.where("slack_mm"), f"{slack_mm} mm", words)
        elif "length_mm" in leg.stretch.places:
            yield from _added(leg, slack_mm, words)


def _added(leg: Leg, slack_mm: int, words: str) -> Iterator[Proposal]:
    """Ways to write slack where none stood: the length alone, inside braces, or on a line of its own."""
    place = leg.stretch.where("length_mm")
    length = quantity_text(leg.stretch.length_mm, "mm")
    indent = " " * max(place.column - len("length: ") - 1, 0)
    yield Proposal(place, f"{{length: {length}, slack: {slack_mm} mm}}", words)
    yield Proposal(place, f"{length}, slack: {slack_mm} mm", words)
    yield Proposal(place, f"{length}\n{indent}slack: {slack_mm} mm", words)
