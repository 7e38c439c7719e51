"""A return that somebody forgot, as a line to add to the file: from an end that lacks its wire, as like returns run."""

from collections.abc import Iterator, Sequence
from itertools import count, islice

from harnessgen.design.records.device import Device, Driver, Load, Relay
from harnessgen.evidence.finding import Proposal
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire, WireEnd
from harnessgen.rules.cavity.pins import Pin, empty_pins, pins_of

_MOST = 6
_MOST_LINES = 8
"""Lines that one list of findings may add, each with a number of its own."""


@frozen
class _Like:
    """A circuit of one wire that is a return: the devices at its start, and where a return like it may lead."""

    wire: Wire
    devices: tuple[Device, ...]
    targets: tuple[str, ...]


def lost_returns(network: Network, end: str, devices: Sequence[Device]) -> tuple[Proposal, ...]:
    """Lines that lead `end`, where `devices` stand, to a ground point or to a driver's output that has no wire.

    Colour and ground point are those of the most similar return there is, the size is its or that of the devices' other
    wires. There is none where the design has no return to go by.
    """
    pins: dict[str, list[Pin]] = {}
    for pin in pins_of(network):
        pins.setdefault(pin.cavity, []).append(pin)
    free = [pin.cavity for pin in empty_pins(network) if isinstance(pin.device, Driver) and pin.terminal == "out"]
    likes = sorted(_returns(network, pins, free), key=lambda each: _difference(each.devices, devices))
    found: dict[str, Proposal] = {}
    for like in likes:
        for target in like.targets:
            for size in _sizes(network, like.wire, devices):
                for passage in _passages(network, like.wire):
                    proposal = _line(network, end, like.wire, f"{target}{passage}", size)
                    found.setdefault(proposal.text, proposal)
    return tuple(found.values())[:_MOST]


def _returns(network: Network, pins: dict[str, list[Pin]], free: list[str]) -> Iterator[_Like]:
    design = network.design
    grounded = {network.net_of[name] for name in design.grounds if name in network.net_of}
    for wire in network.wires:
        circuit = design.circuits.get(wire.circuit)
        if circuit is None or circuit.runs or circuit.splice:
            continue
        for end in wire.ends:
            start = wire.other(end.node)
            own = [design.devices[start.designator]] if start.designator in design.devices else []
            devices = tuple(own or (pin.device for pin in pins.get(start.node, ())))
            is_pole = end.designator in design.grounds or end.designator in design.buses
            if is_pole and network.net_of[end.node] in grounded:
                yield _Like(wire, devices, (end.designator,))
            elif free and _is_output(end, pins):
                yield _Like(wire, devices, tuple(free))


def _is_output(end: WireEnd, pins: dict[str, list[Pin]]) -> bool:
    return any(isinstance(pin.device, Driver) and pin.terminal == "out" for pin in pins.get(end.node, ()))


def _difference(others: Sequence[Device], devices: Sequence[Device]) -> int:
    """0 for devices of the same part, 1 for those of the same kind, 2 for all others."""
    pairs = [(one, other) for one in devices for other in others if type(one) is type(other)]
    if any(isinstance(one, Load) and isinstance(other, Load) and one.part == other.part for one, other in pairs):
        return 0
    return 1 if pairs else 2


def _sizes(network: Network, like: Wire, devices: Sequence[Device]) -> list[ConductorSize]:
    """The size of the return that is like it, and that of the thickest of the devices' wires; the thinner first."""
    places = {str(device.cavity_of(name)) for device in devices for name in device.terminal_names}
    for device in devices:
        # What a relay switches says nothing of its coil.
        names = ("85", "86") if isinstance(device, Relay) else device.terminal_names
        places.update(f"{device.name}/{name}" for name in names)
    own = [wire for wire in network.wires for end in wire.ends if end.node in places]
    thickest = max(own, key=lambda wire: wire.figures.area_mm2.value, default=like)
    both = sorted((like, thickest), key=lambda wire: wire.figures.area_mm2.value)
    return list(dict.fromkeys(wire.size for wire in both))


def _passages(network: Network, like: Wire) -> Iterator[str]:
    """How the return passes disconnects, as the like one does: by the first cavity that is free; or none."""
    yield ""
    texts: list[str] = []
    for passed in network.design.circuits[like.circuit].through:
        name = passed.designator
        part = network.parts.connectors[network.design.disconnects[name].part]
        free = [each for each in part.cavities if not any(f"{name}{half}/{each}" in network.wires_at for half in "sp")]
        if not free:
            return
        texts.append(f"{name}/{free[0]}")
    if texts:
        yield f", through: {texts[0]}" if len(texts) == 1 else f", through: [{', '.join(texts)}]"


def _line(network: Network, end: str, like: Wire, target: str, size: ConductorSize) -> Proposal:
    """The line before that of the like circuit, with the first number after it that is free."""
    used = {wire.circuit for wire in network.wires} | set(network.design.circuits)
    numbers = map(str, count(int(like.circuit) if like.circuit.isdigit() else 1))
    free = tuple(islice((each for each in numbers if each not in used), _MOST_LINES))
    number = free[0]
    text = f"{number}: {{from: {end}, to: {target}, color: {like.colour}, size: {size}}}"
    at = like.place._replace(end=like.place.start, pattern="")
    indent = " " * (like.place.column - 1)
    words = f"add circuit {text}, as circuit {like.circuit} is"
    return Proposal(at, f"{text}\n{indent}", words, numbers=free)
