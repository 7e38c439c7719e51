"""A load or a relay's coil that gets current in no declared state."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from harnessgen.design.device import Device
from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics.physics import Physics
from harnessgen.rules.continuity.conduction import closed_at, conduction, in_loops, way_to
from harnessgen.rules.continuity.way import Ways
from harnessgen.source.place import Place

RULE = "open-circuit"


def check(physics: Physics) -> list[Finding]:
    """One finding for each load or coil; loads behind a relay whose own coil is told of are listed with that coil."""
    elements = physics.network.electrical.elements
    live: set[str] = set()
    for point in physics.points.values():
        live |= in_loops(elements, closed_at(point))
    ways = Ways.of(physics)
    if not physics.points:
        live = in_loops(elements, ways.is_ever_closed)
    dead = [_Dead(each, each.device, ways) for each in elements if each.device and each.kind.does_work]
    told = {each.device.name: each for each in dead if each.is_bridged or each.element.name not in live}
    ...
