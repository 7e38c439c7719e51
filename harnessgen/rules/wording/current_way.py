"""The way that current takes through a load, wire by wire, from a supply to ground."""

from collections.abc import Mapping

from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.operating_point import OperatingPoint


def way_through(network: Network, point: OperatingPoint, load: Element) -> str:
    """What the current of `load` passes at an operating point: supply, wires, devices, ground, in this order.

    Where the current branches the strongest branch is followed. Contacts of cavities are left out.
    """
    whole = elements_through(network, point, load)
    shown = [each for each in whole if each.kind not in (ElementKind.CONTACT, ElementKind.MATING)]
    return ", ".join(dict.fromkeys(each.name for each in shown))


def elements_through(network: Network, point: OperatingPoint, load: Element) -> list[Element]:
    """All that the current of `load` passes, from the supply to ground."""
    at: dict[str, list[Element]] = {}
    for each in network.electrical.elements:
        if point.amperes[each.name] != 0.0:
            for node in {each.a, each.b}:
                at.setdefault(node, []).append(each)
    forward = point.amperes[load.name] >= 0.0
    source, sink = (load.a, load.b) if forward else (load.b, load.a)
    before = _followed(at, point, source, load, upstream=True)
    after = _followed(at, point, sink, load, upstream=False)
    return [*reversed(before), load, *after]


def _followed(
    at: Mapping[str, list[Element]], point: OperatingPoint, start: str, load: Element, *, upstream: bool
) -> list[Element]:
    """The elements from a terminal of the load against the current, or with it, up to the supply or ground point."""
    way: list[Element] = []
    seen, node = {load.name}, start
    while True:
        flows = [(_into(point, each, node), each) for each in at.get(node, ()) if each.name not in seen]
        ampere, element = max(
            ((each if upstream else -each, element) for each, element in flows),
            key=lambda one: one[0],
            default=(0.0, None),
        )
        if element is None or ampere <= 0.0:
            return way
        seen.add(element.name)
        way.append(element)
        if element.kind in (ElementKind.SUPPLY, ElementKind.GROUND):
            return way
        node = element.b if element.a == node else element.a


def _into(point: OperatingPoint, element: Element, node: str) -> float:
    """Current that an element brings to a node, in A; negative where it takes it away."""
    ampere = point.amperes[element.name]
    return ampere if element.b == node else -ampere
