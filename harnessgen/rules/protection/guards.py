"""Every fuse with its curve, its prospective currents and its wires, worked out once for all rules and documents."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property

from harnessgen.network.electrical import Element
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection.fuse_curve import FuseCurve, fuse_curve
from harnessgen.physics.protection.protected_wires import Guarded, LegHeats, guarded, is_surely_guarded
from harnessgen.physics.protection.short_current import Asked, ShortCurrents, short_currents
from harnessgen.rules.protection.fused import Protected, protected

_KEPT = "guards"


@dataclass(frozen=True, eq=False)
class Guard:
    """A fuse that a supply feeds: its curve and its prospective currents, and how it guards its wires."""

    protects: Protected
    curve: FuseCurve
    currents: ShortCurrents
    heats: LegHeats = field(repr=False)

    @cached_property
    def wires(self) -> tuple[Guarded, ...]:
        """Its wires, the least guarded first."""
        return self._guarded(self.protects.held)

    @cached_property
    def hurt(self) -> tuple[Guarded, ...]:
        """Those of its wires that are hurt before it opens, the least guarded first."""
        near_a = self.currents.near.current_a
        unsure = [each for each in self.protects.held if not is_surely_guarded(self.heats, self.curve, near_a, each)]
        return tuple(each for each in self._guarded(unsure) if each.is_hurt)

    def _guarded(self, wires: Iterable[Element]) -> tuple[Guarded, ...]:
        found = (guarded(self.heats, self.curve, self.currents, wire) for wire in wires)
        return tuple(sorted((each for each in found if each is not None), key=_least_first))


def guards(physics: Physics) -> tuple[Guard, ...]:
    """Each fuse whose form has opening times and that a supply feeds, in the order of the design."""
    if _KEPT not in physics.kept:
        physics.kept[_KEPT] = tuple(_guards(physics))
    found: tuple[Guard, ...] = physics.kept[_KEPT]
    return found


def _guards(physics: Physics) -> Iterator[Guard]:
    network = physics.network
    fuses = {each.fuse.name: each for each in reversed(protected(physics))}
    if not fuses:
        return
    heats = LegHeats(physics)
    asked = [
        Asked(each.element, each.near, tuple(node for wire in each.wires for node in (wire.a, wire.b)))
        for each in reversed(fuses.values())
    ]
    found = short_currents(physics, asked)
    for each, currents in zip(reversed(fuses.values()), found, strict=True):
        curve = fuse_curve(each.fuse, network.parts.fuses[each.fuse.form])
        if curve is not None and currents is not None:
            yield Guard(each, curve, currents, heats)


def _least_first(each: Guarded) -> tuple[bool, float, float]:
    return not each.is_hurt, each.margin, each.for_ever_a
