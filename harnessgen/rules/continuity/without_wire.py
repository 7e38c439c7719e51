"""A declared thing that no wire uses: what was meant for it is missing, or it is bought and fitted for nothing."""

from collections.abc import Iterator

from harnessgen.design.records.device import Device, Driver, Fuse, Relay, Switch
from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.electrical import mate_of
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.rules.cavity.pins import empty_pins
from harnessgen.rules.continuity import missing_ground, open_circuit
from harnessgen.source.kind import names_in
from harnessgen.source.place import Place

RULE = "without-wire"
NO_WIRE = "has no wire"


def check(physics: Physics) -> list[Finding]:
    """One finding for each such thing that no other rule tells of.

    A terminal behind a cavity without a wire is told as an orphan cavity; splices, and what is wired on one side
    alone, are left out where a load is dead, as it is for want of the same wire.
    """
    network = physics.network
    if not network.wires:
        return []
    found = [*_splices(network), *_connectors(network), *_devices(network)]
    if any(is_missed for is_missed, _ in found) and _has_dead(physics):
        found = [each for each in found if not each[0]]
    return [finding for _, finding in found]


_Unused = tuple[bool, Finding]
"""Whether the thing lacks what a dead load would lack too, and the finding."""


def _has_dead(physics: Physics) -> bool:
    return bool(physics.shorted or missing_ground.check(physics.network) or open_circuit.check(physics))


def _finding(name: str, place: Place, said: str) -> Finding:
    mend = f"lead a wire to it, or take {name} out"
    return Finding(RULE, Severity.WARNING, name, place, f"{name} {said}.", mend=mend)


def _devices(network: Network) -> Iterator[_Unused]:
    told = {pin.device.name for pin in empty_pins(network)}
    for device in network.design.devices.values():
        said = "" if device.name in told else _unused(network, device)
        if said:
            yield said != NO_WIRE, _finding(device.name, device.place, said)


def _splices(network: Network) -> Iterator[_Unused]:
    for name, splice in network.design.splices.items():
        marks = [wire.mark for wire in (*network.wires_at.get(name, ()), *network.given_at.get(name, ()))]
        if not marks:
            yield True, _finding(name, splice.place, "joins no wires")
        elif len(marks) == 1:
            yield True, _finding(name, splice.place, f"joins nothing: {marks[0]} alone ends in it")


def _connectors(network: Network) -> Iterator[_Unused]:
    design = network.design
    wired = {end.designator for wire in network.wires for end in wire.ends}
    wired |= {node.partition("/")[0] for node in network.given_at}
    # A connector whose empty cavities are told as orphans is told with them.
    orphaned = {pin.cavity.partition("/")[0] for pin in empty_pins(network)}
    for name, connector in design.connectors.items():
        if name not in wired and name not in orphaned:
            yield False, _finding(name, connector.place, "has no wire in any cavity")
    for name, disconnect in design.disconnects.items():
        if not wired & {f"{name}s", f"{name}p"}:
            yield False, _finding(name, disconnect.place, "has no wire in any cavity")


def _unused(network: Network, device: Device) -> str:
    """What nothing uses of a device, in words; empty where all that it needs is wired."""
    match device:
        case Fuse() | Switch():
            bare = [each for each in ("in", "out") if not _is_wired(network, device, each)]
            if len(bare) == 2:
                return NO_WIRE
            return f"has no wire at its {bare[0]}" if bare else ""
        case Driver():
            return "" if _is_wired(network, device, "out") else "has no wire at its out"
        case Relay():
            return _relay(network, device)
    return ""


def _relay(network: Network, relay: Relay) -> str:
    terminals = network.parts.relays[relay.part].terminals
    bare = [each for each in terminals if not _is_wired(network, relay, each)]
    if {"85", "86"} & set(bare):
        # A coil that gets no current is told as an open circuit, with all that the relay switches.
        return ""
    if "87a" in terminals and len({"87", "87a"} & set(bare)) == 1:
        bare = [each for each in bare if each not in ("87", "87a")]
    return f"switches nothing: no wire at {names_in(bare)}" if bare else ""


def _is_wired(network: Network, device: Device, terminal: str) -> bool:
    """Whether a wire reaches a terminal, or what it sits on, or the device in whose cavity it stands with others."""
    if terminal in device.direct or any(
        device.name in other.direct.values() for other in network.design.devices.values()
    ):
        return True
    cavity = device.cavity_of(terminal)
    if cavity is None:
        nodes = {f"{device.name}/{terminal}" if terminal else device.name}
    else:
        nodes = {str(cavity), mate_of(str(cavity))}
    return not nodes.isdisjoint(network.wires_at) or not nodes.isdisjoint(network.given_at)
