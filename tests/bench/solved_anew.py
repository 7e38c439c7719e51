"""A second way to what faults do under power: the harness built anew with each, and its operating point solved."""

from collections.abc import Iterator
from dataclasses import replace
from math import isinf

from harnessgen.bench.faults.fault import (
    TOUCH_OHM,
    Change,
    Exchanged,
    Gone,
    Meets,
    Series,
    Shorted,
    Stuck,
    Swapped,
    Thinner,
)
from harnessgen.bench.simulation.powered import BLOWS_AT, PoweredRig
from harnessgen.design.records.device import Fuse, Relay
from harnessgen.network.electrical import Electrical, ElectricalNode, Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.conditions import Conditions
from harnessgen.physics.electrical.operating_point import OperatingPoint, Search, settled, solved, stated

_CUT = "cut end"
_TOUCH = "touching"
_PROBE = "probe"


def solved_anew(
    rig: PoweredRig, on: tuple[str, ...], change: Change, probe: tuple[str, str, float] | None = None
) -> OperatingPoint:
    """Operating point with these switches and outputs on, and a fault; fuses that it blows are out.

    With `probe` there is one more resistance between two nodes, in ohm.
    """
    ohms = dict(rig.fitted.physics.ohms)
    network = _changed(rig, change, ohms)
    if probe is not None:
        ohms[_PROBE] = probe[2]
        added = Element(_PROBE, ElementKind.CONTACT, *probe[:2])
        electrical = network.electrical
        network = replace(network, electrical=Electrical(electrical.nodes, (*electrical.elements, added)))
    switches = tuple(each for each in on if each in rig.fitted.network.design.switches)
    begin: frozenset[str] = frozenset()
    # The outputs go on when all is at rest without them: what is out then stays out.
    for stage in dict.fromkeys((switches, on)):
        network, point = _rested(rig, network, stated(network, "bench", frozenset(stage), ohms), begin)
        begin = point.pulled_in
    return point


def _rested(
    rig: PoweredRig, network: Network, given: Conditions, begin: frozenset[str]
) -> tuple[Network, OperatingPoint]:
    """The network without the fuses that blow, and how it comes to rest from where these relays hold."""
    while True:
        search = Search(begin)
        point = solved(network, given, search.holds)
        while search.goes_on(_pulling(rig, point)):
            point = solved(network, given, search.holds)
        if search.restless:
            point = settled(network, given)
        blown = {name for name, fuse in rig.fitted.network.design.fuses.items() if _blows(fuse, point)}
        if not blown:
            return network, point
        electrical, begin = network.electrical, point.pulled_in
        kept = tuple(each for each in electrical.elements if each.name not in blown)
        network = replace(network, electrical=Electrical(electrical.nodes, kept))


def _pulling(rig: PoweredRig, point: OperatingPoint) -> frozenset[str]:
    """Relays whose coils get what pulls them in."""
    relays = rig.fitted.network.parts.relays
    return frozenset(
        each.device.name
        for each in rig.network.electrical.elements
        if each.kind is ElementKind.COIL
        and isinstance(each.device, Relay)
        and abs(point.across(each)) >= relays[each.device.part].pull_in_v.value
    )


def _changed(rig: PoweredRig, change: Change, ohms: dict[str, float]) -> Network:
    nodes: dict[str, ElectricalNode] = dict(rig.network.electrical.nodes)
    elements = tuple(_elements(rig, change, ohms, nodes))
    return replace(rig.network, electrical=Electrical(nodes, elements))


def _elements(
    rig: PoweredRig, change: Change, ohms: dict[str, float], nodes: dict[str, ElectricalNode]
) -> Iterator[Element]:
    elements = rig.network.electrical.elements
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
                    is_first = rig.node(spot) == element.a
                    yield replace(element, a=_CUT) if is_first else replace(element, b=_CUT)
        case Thinner(mark=mark, times=times):
            ohms[mark] *= times
            yield from elements
        case Meets(one=one, other=other, ohm=ohm):
            yield from elements
            ohms[_TOUCH] = max(ohm, TOUCH_OHM)
            yield Element(_TOUCH, ElementKind.CONTACT, rig.node(one), rig.node(other))
        case Swapped(one=one, other=other):
            moved = {
                one.mark: (rig.node(one), rig.node(other)),
                other.mark: (rig.node(other), rig.node(one)),
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


def _blows(fuse: Fuse, point: OperatingPoint) -> bool:
    ampere = abs(point.amperes.get(fuse.name, 0.0))
    return ampere >= BLOWS_AT * fuse.rating_a.value
