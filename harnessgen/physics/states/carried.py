"""What wires, fuses and switches of the vehicle carry already, to what is not in the design.

It flows beside what the harness takes, the same way, in every state: it adds to the current of the verdicts on wire,
fuse and contact, and to the drop. The solved currents themselves are those of the design alone.
"""

from collections.abc import Mapping

from harnessgen.design.records.vehicle import VehicleFuse
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network

_IN_LINE = (ElementKind.FUSE, ElementKind.SWITCH, ElementKind.MAKE, ElementKind.BREAK)


def carried_amperes(network: Network) -> Mapping[str, float | None]:
    """Current in A that each such element carries already, by name; None where nobody says.

    A fuse says it itself, or it carries what the vehicle's wires at its first terminal carry together, else those at
    its second; so do a switch and a relay's contact. What no wire of the vehicle lands on carries nothing.
    """
    if not network.given:
        return {}
    found: dict[str, float | None] = {}
    for element in network.electrical.elements:
        if element.given is not None:
            found[element.name] = element.given.carries_a
        elif element.kind in _IN_LINE:
            for ampere in _in_line(network, element):
                found[element.name] = ampere
    return found


def _in_line(network: Network, element: Element) -> list[float | None]:
    """What an element carries, as the only item; none where no wire of the vehicle lands on it."""
    if isinstance(element.device, VehicleFuse) and element.device.carries_a is not None:
        return [element.device.carries_a.value]
    sides = [network.given_at[node] for node in (element.a, element.b) if node in network.given_at]
    if not sides:
        return [None] if isinstance(element.device, VehicleFuse) else []
    for wires in sides:
        said = [wire.carries_a for wire in wires if wire.carries_a is not None]
        if len(said) == len(wires):
            return [sum(said)]
    return [None]
