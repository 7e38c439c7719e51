"""A return that somebody forgot, as a line to add to the file: from an end that lacks its wire, as like returns run."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import count, islice

from harnessgen.design.checks.consistency import kind_of
from harnessgen.design.records.device import Device, Driver, Load, Relay
from harnessgen.evidence.finding import Proposal
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire, WireEnd
from harnessgen.rules.cavity.pins import Pin, empty_pins, pins_of
from harnessgen.source.kind import End
from harnessgen.source.place import Place

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
    wires. A ground point that no wire reaches comes first; it is led to in black where the design has no return to go
    by. A sensor's return goes to where the returns of other sensors go, never to the ground of what draws current.
    Where what lacks is a feed, only the splice at which like feeds meet is left.
    """
    own = list({each.text: each for each in reversed([*joined(network, end, devices)])}.values())[::-1]
    if _lacks_feed(network, devices):
        return tuple(own)
    is_sensor = any(isinstance(each, Load) and kind_of(each, network.parts) == "sensor" for each in devices)
    pins: dict[str, list[Pin]] = {}
    for pin in pins_of(network):
        pins.setdefault(pin.cavity, []).append(pin)
    free = [pin.cavity for pin in empty_pins(network) if isinstance(pin.device, Driver) and pin.terminal == "out"]
    likes = sorted(_returns(network, pins, free), key=lambda each: _difference(each.devices, devices))
    if is_sensor:
        likes = [each for each in likes if any(_is_sensor(network, one) for one in each.devices)]
    grounds = network.design.grounds.items()
    unreached = [name for name, each in grounds if each.cavity is None and name not in network.wires_at]
    if is_sensor:
        unreached = []
    elif free:
        # A return is missing and an output has no wire: the wire between them, never one past the output to ground.
        likes, unreached = [replace(each, targets=tuple(free)) for each in likes], []
    if end in network.design.splices:
        own += _runs(network, end, [*unreached, *dict.fromkeys(each.targets[0] for each in likes)])
    found: dict[str, Proposal] = {}
    for like in likes:
        is_ground = like.targets[0] not in free
        for target in dict.fromkeys((*(unreached if is_ground else ()), *like.targets)):
            for size in _sizes(network, like.wire, devices):
                for passage in _passages(network, like.wire):
                    proposal = _line(network, end, like.wire, f"{target}{passage}", size)
                    found.setdefault(proposal.text, proposal)
    if not likes and unreached:
        for proposal in _to_grounds(network, end, devices, unreached):
            found.setdefault(proposal.text, proposal)
    return (*own[:_MOST], *tuple(found.values())[:_MOST])


def _is_sensor(network: Network, device: Device) -> bool:
    return isinstance(device, Load) and kind_of(device, network.parts) == "sensor"


def _lacks_feed(network: Network, devices: Sequence[Device]) -> bool:
    """Whether of a device that works the side that leads somewhere leads to ground alone."""
    ways, names = network.ways, {each.name for each in devices}
    for element in network.electrical.elements:
        if element.kind.does_work and element.device is not None and element.device.name in names:
            supplies, grounds = zip(ways.poles(element.a), ways.poles(element.b), strict=True)
            if any(grounds) and not any(supplies):
                return True
    return False


def joined(network: Network, end: str, devices: Sequence[Device]) -> Iterator[Proposal]:
    """The end among those of a circuit that joins the same terminal of like devices in a splice."""
    for name, circuit in network.design.circuits.items():
        for run in circuit.runs:
            ends = (run.from_, run.to)
            other = next((each for each in ends if each.designator in network.design.devices), None)
            splice = next((each for each in ends if each.designator in network.design.splices), None)
            if other is None or splice is None or not _is_same(network, other, end, devices):
                continue
            size = f", size: {run.size}" if run.size is not None else ""
            text = f"{{from: {splice}, to: {end}{size}}}"
            words = f"add the run {text} to circuit {name}, as {other} has it"
            yield from _before(run.place, text, words)
        if not circuit.splice:
            continue
        for other in circuit.to:
            if _is_same(network, other, end, devices):
                at = other.place._replace(start=other.place.end, column=other.place.end_column, pattern="")
                words = f"add {end} to the ends of circuit {name}, as {other} is"
                yield Proposal(at, f", {end}", words)


def _is_same(network: Network, other: End, end: str, devices: Sequence[Device]) -> bool:
    """Whether an end of a circuit is the same terminal of a device like one of `devices`."""
    like = network.design.devices.get(other.designator)
    is_same = other.terminal == end.partition("/")[2] and bool(other.terminal)
    return like is not None and is_same and any(_is_alike(network, like, each) for each in devices)


def _before(place: Place, text: str, words: str) -> Iterator[Proposal]:
    """A run before another one in its list, of block style and of flow style: either can be read in one alone."""
    # A record stands at its first key, one behind the brace; in a list of block style two more behind the dash.
    start, column = place.start - 1, place.column - 1
    at = place._replace(start=start, end=start, column=column, end_column=column, pattern="")
    indent = " " * max(column - 3, 0)
    yield Proposal(at, f"{text}\n{indent}- ", words)
    yield Proposal(at, f"{text}, ", words)


def _runs(network: Network, splice: str, targets: Sequence[str]) -> Iterator[Proposal]:
    """A run more for the circuit that meets in a splice, to each of the targets, as thick as the thickest there."""
    wires = sorted(network.wires_at.get(splice, ()), key=lambda wire: wire.figures.area_mm2.value)
    circuit = network.design.circuits.get(wires[-1].circuit) if wires else None
    if circuit is None or not circuit.runs:
        return
    for target in (each for each in targets if each in network.design.grounds or each in network.design.buses):
        for passage in ("", *_free_passages(network)):
            run = f"{{from: {splice}, to: {target}{passage}, size: {wires[-1].size}}}"
            words = f"add the run {run} to circuit {wires[-1].circuit}"
            yield from _before(circuit.runs[0].place, run, words)


def _free_passages(network: Network) -> Iterator[str]:
    """How a run could pass each disconnect: by its first cavity that no wire takes."""
    for name, disconnect in network.design.disconnects.items():
        cavities = network.parts.connectors[disconnect.part].cavities
        free = [each for each in cavities if not any(f"{name}{half}/{each}" in network.wires_at for half in "sp")]
        if free:
            yield f", through: {name}/{free[0]}"


def _is_alike(network: Network, one: Device, other: Device) -> bool:
    if isinstance(one, Load) and isinstance(other, Load):
        return kind_of(one, network.parts) == kind_of(other, network.parts)
    return type(one) is type(other)


def _to_grounds(network: Network, end: str, devices: Sequence[Device], targets: Sequence[str]) -> Iterator[Proposal]:
    """Lines in black to ground points that no wire reaches, of the sizes of the devices' other wires."""
    wires = sorted(network.wires, key=lambda wire: wire.figures.area_mm2.value)
    own = {str(device.cavity_of(name)) for device in devices for name in device.terminal_names}
    at_them = [wire for wire in wires if any(each.node in own for each in wire.ends)]
    circuits = [(name, each.place) for name, each in network.design.circuits.items() if name.isdigit()]
    if not circuits or not wires:
        return
    name, place = circuits[-1]
    free = _free_numbers(network, name)
    sizes = dict.fromkeys(wire.size for wire in (at_them or wires))
    for target in targets:
        for size in reversed(sizes):
            text = f"{free[0]}: {{from: {end}, to: {target}, color: BK, size: {size}}}"
            at = place._replace(end=place.start, pattern="")
            yield Proposal(at, f"{text}\n{' ' * (place.column - 1)}", f"add circuit {text}", numbers=free)


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
    # The ground of outputs carries what all of them switch.
    has_outputs = any(isinstance(device, Driver) for device in devices)
    both = sorted((like, thickest), key=lambda wire: wire.figures.area_mm2.value, reverse=has_outputs)
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
    free = _free_numbers(network, like.circuit)
    text = f"{free[0]}: {{from: {end}, to: {target}, color: {like.colour}, size: {size}}}"
    at = like.place._replace(end=like.place.start, pattern="")
    indent = " " * (like.place.column - 1)
    words = f"add circuit {text}, as circuit {like.circuit} is"
    return Proposal(at, f"{text}\n{indent}", words, numbers=free)


def _free_numbers(network: Network, after: str) -> tuple[str, ...]:
    """The first numbers from that of a circuit on that no circuit has."""
    used = {wire.circuit for wire in network.wires} | set(network.design.circuits)
    numbers = map(str, count(int(after) if after.isdigit() else 1))
    return tuple(islice((each for each in numbers if each not in used), _MOST_LINES))
