"""The harness under power with a fault in it: the same solver, on the network as the fault has changed it.

Relays settle anew with every fault, since a fault in the wire of a coil shows at the contacts.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from math import isinf

from harnessgen.bench.fault import (
    TOUCH_OHM,
    Change,
    Exchanged,
    Gone,
    Meets,
    Series,
    Shorted,
    Spot,
    Stuck,
    Swapped,
    Thinner,
)
from harnessgen.bench.fitted import Fitted
from harnessgen.design.device import Fuse
from harnessgen.network.electrical import REFERENCE, Electrical, ElectricalNode, Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.operating_point import OperatingPoint, operating_point

BLOWS_AT = 2.0
"""Share of its rating from which a fuse opens within seconds: 200 % in 5 s at most (ISO 8820-3, blade fuses)."""
_CUT = "cut end"
_TOUCH = "touching"


@dataclass(frozen=True)
class PoweredRig:
    """The harness with these connectors apart."""

    fitted: Fitted
    apart: tuple[str, ...]

    @cached_property
    def network(self) -> Network:
        """The network as it stands without a fault."""
        return self.fitted.with_apart(self.apart)

    def solve(self, on: tuple[str, ...], change: Change | None = None) -> OperatingPoint:
        """Operating point with these switches and outputs on, and a fault; fuses that it blows are out."""
        ohms = dict(self.fitted.physics.ohms)
        network = self.network if change is None else self._changed(change, ohms)
        while True:
            point = operating_point(network, "bench", frozenset(on), ohms)
            blown = {name for name, fuse in self.fitted.network.design.fuses.items() if _blows(fuse, point)}
            if not blown or change is None:
                return point
            electrical = network.electrical
            kept = tuple(each for each in electrical.elements if each.name not in blown)
            network = replace(network, electrical=Electrical(electrical.nodes, kept))

    def _changed(self, change: Change, ohms: dict[str, float]) -> Network:
        nodes: dict[str, ElectricalNode] = dict(self.network.electrical.nodes)
        elements = tuple(self._elements(change, ohms, nodes))
        return replace(self.network, electrical=Electrical(nodes, elements))

    def _elements(self, change: Change, ohms: dict[str, float], nodes: dict[str, ElectricalNode]) -> Iterator[Element]:
        elements = self.network.electrical.elements
        match change:
            case Series(spot=spot, ohm=ohm):
                for element in elements:
                    if element.name != spot.mark:
                        yield element
                    elif not isinf(ohm):
                        ohms[element.name] += ohm
                        yield element
                    else:
                        nodes[_CUT] = ElectricalNode(_CUT, "splice", "", "")
                        is_first = self.node(spot) == element.a
                        yield replace(element, a=_CUT) if is_first else replace(element, b=_CUT)
            case Thinner(mark=mark, times=times):
                ohms[mark] *= times
                yield from elements
            case Meets(one=one, other=other, ohm=ohm):
                yield from elements
                ohms[_TOUCH] = max(ohm, TOUCH_OHM)
                yield Element(_TOUCH, ElementKind.CONTACT, self.node(one), self.node(other))
            case Swapped(one=one, other=other):
                moved = {
                    one.mark: (self.node(one), self.node(other)),
                    other.mark: (self.node(other), self.node(one)),
                }
                for element in elements:
                    left, arrived = moved.get(element.name, ("", ""))
                    if not left:
                        yield element
                    else:
                        yield replace(element, a=arrived) if element.a == left else replace(element, b=arrived)
            case Exchanged(one=one, other=other):
                other_of = {one: other, other: one}
                for element in elements:
                    name, _, cavity = element.a.partition("/")
                    if element.kind is ElementKind.CONTACT and name in other_of:
                        element = replace(element, a=f"{other_of[name]}/{cavity}")
                    yield element
            case Gone(device=device):
                yield from (each for each in elements if each.device is None or each.device.name != device)
            case Stuck(device=device):
                for element in elements:
                    held = element.device is not None and element.device.name == device
                    yield replace(element, kind=ElementKind.CONTACT, device=None) if held else element
            case Shorted(device=device):
                yield from elements
                for element in elements:
                    if element.device is not None and element.device.name == device and element.kind.does_work:
                        ohms[_TOUCH] = TOUCH_OHM
                        yield Element(_TOUCH, ElementKind.CONTACT, element.a, element.b)

    def node(self, spot: Spot) -> str:
        """Node of the electrical graph at an end of a wire, or the reference for bare metal."""
        if not spot.mark:
            return REFERENCE
        return self.fitted.network.wire_of[spot.mark].ends[spot.end].node


def _blows(fuse: Fuse, point: OperatingPoint) -> bool:
    ampere = abs(point.amperes.get(fuse.name, 0.0))
    return ampere >= BLOWS_AT * fuse.rating_a.value
