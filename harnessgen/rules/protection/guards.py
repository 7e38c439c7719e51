"""Every fuse with its curve, its prospective currents and its wires, worked out once for all rules and documents."""

from collections.abc import Iterator

from harnessgen.measures.frozen import frozen
from harnessgen.physics.fuse_curve import FuseCurve, fuse_curve
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection import Guarded, LegHeats, guarded
from harnessgen.physics.short_current import ShortCurrents, short_currents, short_networks
from harnessgen.rules.protection.fused import Protected, protected

_KEPT = "guards"


@frozen
class Guard:
    """A fuse that a supply feeds: its curve, its prospective currents, and its wires, the least guarded first."""

    protects: Protected
    curve: FuseCurve
    currents: ShortCurrents
    wires: tuple[Guarded, ...]


def guards(physics: Physics) -> tuple[Guard, ...]:
    """Each fuse whose form has opening times and that a supply feeds, in the order of the design."""
    if _KEPT not in physics.kept:
        physics.kept[_KEPT] = tuple(_guards(physics))
    found: tuple[Guard, ...] = physics.kept[_KEPT]
    return found


def _guards(physics: Physics) -> Iterator[Guard]:
    network = physics.network
    fuses = {each.fuse.name: each for each in reversed(protected(network))}
    if not fuses:
        return
    heats, networks = LegHeats(physics), short_networks(physics)
    for each in reversed(fuses.values()):
        curve = fuse_curve(each.fuse, network.parts.fuses[each.fuse.form])
        nodes = [node for wire in each.wires for node in (wire.a, wire.b)]
        currents = short_currents(physics, each.element, each.near, nodes, networks)
        if curve is None or currents is None:
            continue
        wires = [found for wire in each.held if (found := guarded(heats, curve, currents, wire)) is not None]
        yield Guard(each, curve, currents, tuple(sorted(wires, key=_least_first)))


def _least_first(each: Guarded) -> tuple[bool, float, float]:
    return not each.is_hurt, each.margin, each.for_ever_a
