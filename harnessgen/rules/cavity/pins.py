"""Device terminals behind the cavities of the harness, and those of them that have no wire."""

from collections.abc import Iterator

from harnessgen.design.records.device import Device, Relay
from harnessgen.evidence.finding import Proposal
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import mate_of
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.rules.wording.places import written_end
from harnessgen.source.kind import End
from harnessgen.source.place import Place

_MOST_PASSAGES = 3


@frozen
class Pin:
    """A terminal of a device behind a cavity of a connector (`C1/14`); `place` is where the file says so."""

    cavity: str
    device: Device
    terminal: str
    place: Place

    @property
    def words(self) -> str:
        """As it is said in a sentence."""
        return f"terminal {self.terminal} of {self.device.name}" if self.terminal else self.device.name


def pins_of(network: Network) -> Iterator[Pin]:
    """Every terminal that stands behind a cavity of a connector; halves of disconnects are left out."""
    design = network.design
    for device in design.devices.values():
        names = network.parts.relays[device.part].terminals if isinstance(device, Relay) else device.terminal_names
        for terminal in names:
            cavity = device.cavity_of(terminal)
            if cavity is not None and cavity.designator in design.connectors:
                yield Pin(str(cavity), device, terminal, cavity.place)


def empty_pins(network: Network) -> Iterator[Pin]:
    """Terminals behind a cavity without a wire; one of a relay's two throws may stay without."""
    pins = list(pins_of(network))
    held = {pin.cavity for pin in pins if pin.cavity in network.wires_at or pin.cavity in network.given_at}
    wired = {(pin.device.name, pin.terminal) for pin in pins if pin.cavity in held}
    for pin in pins:
        if pin.cavity in held:
            continue
        other = {"87": "87a", "87a": "87"}.get(pin.terminal, "") if isinstance(pin.device, Relay) else ""
        if (pin.device.name, other) not in wired:
            yield pin


def is_behind_nothing(network: Network, end: WireEnd) -> bool:
    """True where a wire ends in a cavity of a connector behind which no device stands."""
    is_cavity = end.kind is EndKind.CAVITY and end.designator in network.design.connectors
    return is_cavity and mate_of(end.node) not in network.electrical.nodes


def moves(network: Network, wire: Wire, end: WireEnd) -> tuple[Proposal, ...]:
    """Other places that the end of `wire` may have been meant for: cavities of the connector that lack a wire.

    An end that is written as a device's terminal is led to the terminal there; on a device that wires land on, to the
    terminals of the same device that no wire reaches.
    """
    written = written_end(network.design, wire, end)
    if written is None:
        return ()
    if end.kind is EndKind.LANDING:
        return tuple(_other_terminals(network, wire, end, written))
    is_device = written.designator in network.design.devices
    if written.designator != end.designator and not is_device:
        return ()
    return tuple(
        _move(written, _terminal(pin) if is_device else pin.cavity, end, pin)
        for pin in empty_pins(network)
        if pin.cavity.partition("/")[0] == end.designator
    )


def moves_to_like(network: Network, wire: Wire, end: WireEnd) -> Iterator[Proposal]:
    """Terminals of other devices of the same kind that lack their wire, for an end at the same terminal of another."""
    written = written_end(network.design, wire, end)
    here = [pin for pin in pins_of(network) if pin.cavity == end.node]
    for pin in empty_pins(network) if written is not None else ():
        is_like = any(type(own.device) is type(pin.device) and own.terminal == pin.terminal for own in here)
        if written is not None and is_like and pin.cavity.partition("/")[0] != end.designator:
            is_device = written.designator in network.design.devices
            yield _move(written, _terminal(pin) if is_device else pin.cavity, end, pin)


def _terminal(pin: Pin) -> str:
    return f"{pin.device.name}/{pin.terminal}" if pin.terminal else pin.device.name


def _move(written: End, text: str, end: WireEnd, pin: Pin) -> Proposal:
    return Proposal(written.place, text, f"{text} in place of {end.node}: {pin.words} has no wire yet")


def _other_terminals(network: Network, wire: Wire, end: WireEnd, written: End) -> Iterator[Proposal]:
    device = network.design.devices.get(end.designator)
    if device is None:
        return
    names = network.parts.relays[device.part].terminals if isinstance(device, Relay) else device.terminal_names
    for terminal in names:
        node = f"{device.name}/{terminal}"
        is_free = terminal and terminal not in device.direct and device.cavity_of(terminal) is None
        if is_free and node not in network.wires_at and node not in network.given_at:
            yield Proposal(written.place, node, f"{node} in place of {end.node} for {wire.mark}: no wire is there yet")


def free_passages(network: Network, wire: Wire, end: WireEnd) -> tuple[Proposal, ...]:
    """Cavities of the disconnect that `wire` ends in which no wire has, where the file names its own: nearest first."""
    written = written_end(network.design, wire, end)
    name = end.designator[:-1]
    if written is None or name not in network.design.disconnects:
        return ()
    cavities = network.connector_part(end.designator).cavities
    here = cavities.index(end.terminal)
    free = [each for each in cavities if not any(f"{name}{half}/{each}" in network.wires_at for half in "sp")]
    free.sort(key=lambda each: abs(cavities.index(each) - here))
    said = f"circuit {wire.circuit}" if written.designator == name else wire.mark
    return tuple(
        Proposal(
            written.place,
            f"{written.designator}/{each}",
            f"{written.designator}/{each} in place of {written} for {said}: no wire is there",
        )
        for each in free[:_MOST_PASSAGES]
    )
