"""A wire that battery current reaches without a fuse, and that is longer than a stub, or feeds a load."""

import math
from collections.abc import Iterator

from harnessgen.design.device import Supply
from harnessgen.design.limits import Limit, limit
from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.network.wires import Wire
from harnessgen.physics.physics import Physics
from harnessgen.rules.protection.fused import Unfused, unfused
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
        for finding in _unfused(physics, each, wire):
            found.setdefault(wire.circuit, finding)
    return list(found.values())


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
    bound = _bound(physics, wires, wire)
    if length > bound.value.value:
        message = f"Wire {wire.mark} is too long for a wire without a fuse before it."
        numbers = (
            Number("from supply", length, "mm", f"{names_in(each.mark for each in wires)} from {each.supply.name}", 0),
            Number("at most", bound.value.value, "mm", f"{bound.name}: {bound.source}", 0),
        )
        mend = f"move the fuse towards {each.supply.name}"
        yield Finding(RULE, Severity.ERROR, wire.mark, wire.place, message, numbers, mend=mend)


def _bound(physics: Physics, wires: list[Wire], wire: Wire) -> Limit:
    is_covered = all(leg.stretch.covering for each in wires for leg in each.way)
    name = "unfused-length-covered" if is_covered else "unfused-length"
    return limit(name, wire.limits, physics.network.design.limits)
