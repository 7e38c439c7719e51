"""What can be held in the hand: each connector of the harness and each half of a disconnect, with its cavities."""

from collections.abc import Mapping
from dataclasses import dataclass

from harnessgen.network.network import Network
from harnessgen.parts.connector import ConnectorPart
from harnessgen.parts.terminal import Contact, Seal


@dataclass(frozen=True, slots=True)
class Half:
    """A connector, or one half of a disconnect (`C10s`), in the section that it belongs to.

    `contacts` are what the harness side holds: `sockets` or `pins`; `mate` is what it plugs into, in words.
    """

    designator: str
    part: ConnectorPart
    contacts: str
    section: str
    mate: str
    disconnect: str

    @property
    def is_disconnect(self) -> bool:
        """True for half of a disconnect."""
        return bool(self.disconnect)


def halves(network: Network) -> Mapping[str, Half]:
    """Every connector and half of a disconnect by designator, in the order of the design."""
    route, letter_of = network.route, network.sections.letter_of
    found: dict[str, Half] = {}
    for name, connector in network.design.connectors.items():
        section = letter_of[route.node_of(connector.at)]
        part = network.parts.connectors[connector.part]
        found[name] = Half(name, part, connector.half, section, connector.mate, "")
    for name, disconnect in network.design.disconnects.items():
        part = network.parts.connectors[disconnect.part]
        socket_node = route.side_node(disconnect.at, disconnect.socket_side[0])
        for mating in route.matings:
            if mating.point != disconnect.at:
                continue
            pin_node = mating.end if mating.start == socket_node else mating.start
            for letter, contacts, node in (("s", "sockets", socket_node), ("p", "pins", pin_node)):
                other = name + ("p" if letter == "s" else "s")
                half = Half(name + letter, part, contacts, letter_of[node], f"half {other}", name)
                found[half.designator] = half
    return found


def contact_in(network: Network, half: Half, cavity: str) -> Contact:
    """Contact that belongs in a cavity: its own, else the connector's, else the family's."""
    if half.is_disconnect:
        return network.parts.contacts[network.design.disconnects[half.disconnect].contact or half.part.contact]
    connector = network.design.connectors[half.designator]
    fill = connector.cavities.get(cavity)
    return network.parts.contacts[(fill.contact if fill else "") or connector.contact or half.part.contact]


def contact_words(network: Network, half: Half, cavity: str) -> str:
    """The contact of a cavity as it is bought and crimped, its family and which of the two it is: `pin-1.5 socket`."""
    return f"{contact_in(network, half, cavity).name} {half.contacts.removesuffix('s')}"


def seal_in(network: Network, half: Half, cavity: str) -> Seal | None:
    """Wire seal that belongs in a cavity, or None in a connector without seals."""
    if half.is_disconnect:
        name = network.design.disconnects[half.disconnect].seal or half.part.seal
    else:
        connector = network.design.connectors[half.designator]
        fill = connector.cavities.get(cavity)
        name = (fill.seal if fill else "") or connector.seal or half.part.seal
    return network.parts.seals[name] if name else None
