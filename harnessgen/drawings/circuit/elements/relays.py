"""A relay's coil and its contacts stand apart on a circuit drawing: each says at which wire the other is found."""

from collections.abc import Mapping

from harnessgen.design.records.device import Bus
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network

_CONTACTS = (ElementKind.MAKE, ElementKind.BREAK)


def relay_references(network: Network) -> Mapping[str, str]:
    """For the coil and each contact of every relay the words that lead to the other, by name of the element."""
    electrical = network.electrical
    relays: dict[str, list[Element]] = {}
    for element in electrical.elements:
        if element.device is not None and (element.kind is ElementKind.COIL or element.kind in _CONTACTS):
            relays.setdefault(element.device.name, []).append(element)
    landmarks = _landmarks(network) if relays else {}
    found: dict[str, str] = {}
    for elements in relays.values():
        coil = next((each for each in elements if each.kind is ElementKind.COIL), None)
        contacts = [each for each in elements if each.kind in _CONTACTS]
        if coil is None or not contacts:
            continue
        # A contact is looked for at its switched side; where no wire is there, at its common.
        ways = (name for each in contacts for node in (each.b, each.a) if (name := landmarks.get(node)))
        if there := next(ways, ""):
            found[coil.name] = f"contact at {there}"
        if there := landmarks.get(coil.a, "") or landmarks.get(coil.b, ""):
            found.update({each.name: f"coil at {there}" for each in contacts})
    return found


def _landmarks(network: Network) -> dict[str, str]:
    """What is printed at each node: the mark of its first wire, or the name of its bus bar."""
    marks: dict[str, str] = {}
    for element in network.electrical.elements:
        if element.wire is not None:
            for node in (element.a, element.b):
                marks.setdefault(node, element.wire.mark)
    buses = {name for name, device in network.design.devices.items() if isinstance(device, Bus)}
    return marks | {name: name for name in buses if name in network.electrical.nodes}
