"""Which elements conduct in a solved state, and with everything on."""

from functools import partial

from harnessgen.design.records.device import Relay
from harnessgen.network.conduction import IsClosed
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.operating_point import OperatingPoint, conducting


def closed_at(point: OperatingPoint) -> IsClosed:
    """Whether an element conducts in a solved state."""
    return partial(conducting, on=point.on, pulled_in=point.pulled_in)


def restless(network: Network, point: OperatingPoint) -> list[Element]:
    """Coils of relays whose voltage in a solved state calls for the other position."""
    return [
        coil
        for coil in network.electrical.elements
        if coil.kind is ElementKind.COIL
        and isinstance(coil.device, Relay)
        and (abs(point.across(coil)) >= network.parts.relays[coil.device.part].pull_in_v.value)
        is not (coil.device.name in point.pulled_in)
    ]


def all_on(element: Element) -> bool:
    """Whether an element conducts with every switch and driver on and every relay pulled in."""
    return element.kind is not ElementKind.BREAK
