"""A wire that battery current reaches without a fuse, and that is longer than a stub, or feeds a load."""

import math
from collections.abc import Iterator
from dataclasses import replace

from harnessgen.design.limits.table import Limit, limit
from harnessgen.design.records.device import Supply
from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_most
from harnessgen.network.wires import Wire
from harnessgen.physics.physics import Physics
from harnessgen.rules.protection.fused import Unfused, unfused
from harnessgen.rules.wording.places import end_place
from harnessgen.source.kind import names_in

RULE = "unfused-feed"


def check(physics: Physics) -> list[Finding]:
    """One finding for each circuit, at its first wire that is too far from the supply, or that feeds a load.

    A wire that stands all that its supply can give needs no fuse.
    """
    found: dict[str, Finding] = {}
    for each in unfused(physics.network):
        wire = each.wire.wire
        if wire is None or _prospective_a(physics, each.supply) <= physics.allowed[wire.mark].allowed_a:
            continue
        # What hangs on a wire that is told gets its fuse with it.
        if any(before.wire is not None and before.wire.circuit in found for before in each.way[:-1]):
            continue
        for finding in _unfused(physics, each, wire):
            found.setdefault(wire.circuit, replace(finding, proposals=tuple(_free_fuses(physics, each))))
    return list(found.values())


def _free_fuses(physics: Physics, each: Unfused) -> Iterator[Proposal]:
    """Fuses that feed nothing yet, in place of the supply at the first wire of the way."""
    design, first = physics.network.design, each.way[0].wire
    if first is None or each.supply.name not in {end.node for end in first.ends}:
        return
    place = end_place(design, first, first.a if first.a.node == each.supply.name else first.b)
    for fuse in design.fuses.values():
        # The wire that leads to a fuse is not to lead from that fuse to itself.
        is_its_own = fuse.name in {end.designator for end in first.ends}
        if not is_its_own and "out" not in fuse.direct and f"{fuse.name}/out" not in physics.network.wires_at:
            words = f"{fuse.name} in place of {each.supply.name} for {first.mark}: it feeds nothing yet"
            yield Proposal(place, fuse.name, words)


def _prospective_a(physics: Physics, supply: Supply) -> float:
    """Current that the supply gives into a short at its terminal."""
    ohm = physics.ohms[supply.name]
    return supply.voltage_v.value / ohm if ohm > 0 else math.inf


def _unfused(physics: Physics, each: Unfused, wire: Wire) -> Iterator[Finding]:
    wires = [element.wire for element in each.way if element.wire is not None]
    if each.feeds:
        message = f"Wire {wire.mark} feeds {names_in(each.feeds)} from {each.supply.name} without a fuse."
        mend = f"put a fuse between {each.supply.name} and {wire.mark}, close to the supply"
        yield Finding(RULE, Severity.ERROR, wire.mark, wire.place, message, mend=mend)
        return
    length = sum(physics.lengths[each.mark].needed_mm for each in wires)
    covering = _no_sheath(physics, wires)
    bound = _bound(physics, wire, not covering)
    if length > bound.value.value:
        message = f"Wire {wire.mark} is too long for a wire without a fuse before it."
        numbers = (
            Number("from supply", length, "mm", f"{names_in(each.mark for each in wires)} from {each.supply.name}", 0),
            Number("at most", bound.value.value, "mm", f"{bound.name}: {bound.source}", 0),
        )
        is_before_fuse = any(end.designator in physics.network.design.fuses for end in wire.ends)
        if covering in physics.network.parts.coverings:
            title = physics.network.parts.coverings[covering].title
            message += f" {covering} ({title}) is no sheath or enclosure."
        mend = f"put a fuse between {each.supply.name} and {wires[0].mark}, close to the supply"
        mend = f"move the fuse towards {each.supply.name}" if is_before_fuse else mend
        deciding = at_most(*numbers, is_set=True)
        yield Finding(RULE, Severity.ERROR, wire.mark, wire.place, message, numbers, mend=mend, deciding=deciding)


def _no_sheath(physics: Physics, wires: list[Wire]) -> str:
    """What leaves the wires open on their way: a covering that is no sheath, or `no covering`; empty where they are
    contained throughout."""
    coverings = physics.network.parts.coverings
    for each in wires:
        for leg in each.way:
            covering = leg.stretch.covering
            if not covering or coverings[covering].sheath == "no":
                return covering or "no covering"
    return ""


def _bound(physics: Physics, wire: Wire, is_contained: bool) -> Limit:
    name = "unfused-length-covered" if is_contained else "unfused-length"
    return limit(name, wire.limits, physics.network.design.limits)
