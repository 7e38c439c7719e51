"""Devices explained: supplies, grounds, buses, fuses, relays, switches, drivers and loads."""

from collections.abc import Iterator, Mapping

from harnessgen.design.limits.table import Limit, limit
from harnessgen.design.records.device import Device, Driver, Fuse, Load, Relay, Supply
from harnessgen.evidence.derivation import Derivation
from harnessgen.explain.currents import currents, feed_facts, load_numbers, volts
from harnessgen.explain.protection import fuse_facts, fuse_numbers
from harnessgen.explain.thing import Fact, Thing
from harnessgen.explain.written import written_facts
from harnessgen.measures.quantity import plain_number, tolerance_text
from harnessgen.network.electrical import ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.conditions import pull_in, supply_range


def device_thing(physics: Physics, device: Device, texts: Mapping[str, str]) -> Thing:
    """A device: what the file says of it, what its part gives, what carries current in it, and what is asked of it."""
    network = physics.network
    noun = device.noun.partition(" ")[2]
    facts = (*written_facts(device, texts), *_part_facts(network, device), *_own_facts(physics, device))
    return Thing(device.name, noun, device.title, device.place, facts, tuple(_numbers(physics, device)))


def _part_facts(network: Network, device: Device) -> Iterator[Fact]:
    for terminal in network.parts.relays[device.part].terminals if isinstance(device, Relay) else device.terminal_names:
        cavity = device.cavity_of(terminal)
        where = str(cavity) if cavity is not None else device.direct.get(terminal, "")
        if terminal and where:
            yield Fact(f"terminal {terminal}", where)
    if isinstance(device, Fuse):
        form = network.parts.fuses[device.form]
        rating = form.rating(device.rating_a)
        if rating is not None:
            yield Fact(
                "resistance", f"{plain_number(1000 * rating.resistance_ohm.value, 2)} mohm", str(form.origin(rating))
            )
    if isinstance(device, Relay):
        relay = network.parts.relays[device.part]
        source = str(relay.publication)
        yield Fact("its contact carries", f"{plain_number(relay.current_a.value)} A", source)
        yield Fact("coil at 20 degC", f"{plain_number(relay.coil_ohm.value)} ohm", source)
        yield Fact("contact", f"{plain_number(1000 * relay.contact_ohm.value, 2)} mohm", source)
    if isinstance(device, Load) and device.part:
        family = network.parts.loads[device.part]
        yield Fact("family", f"{family.name}, {family.title}", str(family.publication))


def _own_facts(physics: Physics, device: Device) -> Iterator[Fact]:
    network = physics.network
    if isinstance(device, Fuse):
        yield from fuse_facts(physics, device)
        for name in ("fuse-load", "fuse-to-wire"):
            yield limit_fact(limit(name, network.design.limits))
    if isinstance(device, Load):
        yield from feed_facts(physics, device)
    if isinstance(device, Supply):
        for state in network.design.states.values():
            found = supply_range(network.design, device, state)
            shown = f"{plain_number(found.volts.value)} {tolerance_text(found.volts)}".rstrip()
            yield Fact(f"without load in {state.name}", f"{shown} V", str(found.source))
    for name, spreads in physics.fuel_spreads.items():
        for spread in spreads:
            if any(each.load == device.name for each in spread.openings):
                yield Fact(f"fuel in {name}", spread.sentence, str(spread.match.source))


def limit_fact(applied: Limit) -> Fact:
    """A limit as it applies, with where it comes from."""
    unit = "" if applied.unit == "1" else f" {applied.unit}"
    shown = f"{plain_number(applied.value.value)} {tolerance_text(applied.value)}".rstrip()
    return Fact(f"limit {applied.name}", shown + unit, str(applied.source))


def _numbers(physics: Physics, device: Device) -> Iterator[Derivation]:
    if isinstance(device, Load):
        yield from load_numbers(physics, device)
        return
    if isinstance(device, Fuse):
        yield from fuse_numbers(physics, device)
    elements = [each for each in physics.network.electrical.elements if each.device is device]
    for element in elements:
        if element.kind is ElementKind.COIL:
            yield from volts(physics, element.name)
        yield from currents(physics, element.name)
    if isinstance(device, Relay):
        yield from (pull_in(physics.network, device, case) for case in Case)
    if isinstance(device, Driver):
        for stresses in physics.driver_stresses.values():
            for stress in stresses:
                if stress.driver is device and stress.clamped:
                    yield from stress.clamped
                    yield stress.energy
                    yield from (stress.power,) if stress.power is not None else ()
