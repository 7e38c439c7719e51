"""Devices explained: supplies, grounds, buses, fuses, relays, switches, drivers and loads."""

import math
from collections.abc import Iterator, Mapping

from harnessgen.design.device import Device, Driver, Fuse, Load, Relay, Supply
from harnessgen.design.limits import Limit, limit
from harnessgen.evidence.derivation import Derivation
from harnessgen.explain.currents import currents, load_numbers, volts
from harnessgen.explain.thing import Fact, Thing
from harnessgen.explain.written import written_facts
from harnessgen.measures.quantity import plain_number, tolerance_text
from harnessgen.network.electrical import ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.physics.short_current import Short
from harnessgen.physics.state_conditions import pull_in, supply_range
from harnessgen.rules.protection.fused import protected
from harnessgen.rules.protection.guards import guards


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
        rating = network.parts.fuses[device.form].rating(device.rating_a)
        if rating is not None:
            yield Fact(
                "resistance", f"{plain_number(1000 * rating.resistance_ohm.value, 2)} mohm", str(rating.publication)
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
        for each in protected(network):
            if each.fuse.name == device.name:
                yield Fact("protects", ", ".join(element.name for element in each.wires) or "no wire")
                if each.in_line:
                    yield Fact("its current runs through too", ", ".join(element.name for element in each.in_line))
        yield from _guard_facts(physics, device)
        for name in ("fuse-load", "fuse-to-wire"):
            yield limit_fact(limit(name, network.design.limits))
    if isinstance(device, Supply):
        for state in network.design.states.values():
            found = supply_range(network.design, device, state)
            shown = f"{plain_number(found.volts.value)} {tolerance_text(found.volts)}".rstrip()
            yield Fact(f"without load in {state.name}", f"{shown} V", str(found.source))
    for name, spreads in physics.fuel_spreads.items():
        for spread in spreads:
            if any(each.load == device.name for each in spread.openings):
                yield Fact(f"fuel in {name}", spread.sentence, str(spread.match.source))


def _guard_facts(physics: Physics, fuse: Fuse) -> Iterator[Fact]:
    """What a fuse does in a short, and how the wire that it guards least fares."""
    guard = next((each for each in guards(physics) if each.protects.fuse is fuse), None)
    if guard is None:
        return
    near, far, curve = guard.currents.near, guard.currents.far, guard.curve
    near_words = f"{plain_number(near.volts, 1)} V, cold conductors, {_milliohm(near)} back through the body"
    yield Fact("short right behind it", f"{plain_number(near.current_a, 0)} A", near_words)
    if not any(each.resistance_ohm.value == 0.0 for each in physics.network.design.supplies.values()):
        breaking = physics.network.parts.fuses[fuse.form].breaking
        broken = f"{plain_number(breaking.capacity_a.value)} A" if breaking is not None else "not known"
        yield Fact("breaks", broken, str(breaking.publication) if breaking is not None else "")
    else:
        yield Fact("breaks", "not examined: a supply states no inner resistance")
    far_words = f"at {far.at}, {plain_number(far.volts, 1)} V, hot conductors, {_milliohm(far)} back through the body"
    yield Fact("short far away", f"{plain_number(far.current_a, 1)} A", far_words)
    yield Fact("may hold for ever", f"{plain_number(curve.holds_up_to_a, 2)} A", str(curve.source))
    if guard.wires:
        least = guard.wires[0]
        where = f" from {least.leg.name}" if least.leg is not None else ""
        yield Fact("guards least", f"{least.wire.mark}, {least.wire.size}{where}")
        yield Fact("it stands for ever", f"{plain_number(least.for_ever_a, 1)} A")
        if math.isfinite(least.margin):
            said = f"stands {least.stands_s:.3g} s, the fuse has opened by {least.opens_s:.3g} s"
            yield Fact(f"at {plain_number(least.at_a, 1)} A, where the margin is least", said)


def _milliohm(short: Short) -> str:
    return f"{plain_number(1000 * short.return_ohm, 1)} mohm"


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
        for guard in guards(physics):
            if guard.protects.fuse is device and guard.wires and math.isfinite(guard.wires[0].margin):
                least = guard.wires[0]
                yield least.heating.k2s2_derivation(least.wire.mark)
                if least.stands_s > 0.0:
                    yield least.heating.stands_derivation(least.wire.mark, least.at_a)
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
