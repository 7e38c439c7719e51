"""Resistance of every element of the electrical graph, each at its own temperature."""

import math
from collections.abc import Mapping

from harnessgen.design.checks.consistency import suppression_of
from harnessgen.design.limits.table import limit
from harnessgen.design.records.device import Driver, Fuse, Ground, Load, Relay, Supply, Switch
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.lengths.wire_length import WireLength
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.network.vehicle_wires import VehicleWire
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.physics.electrical.resistance import TEMPERATURE_SOURCE, resistance_at

STATED_POWER_AT_V = 13.5
"""Voltage at which a load's power is taken to be stated when the design does not say (common practice, no source)."""


def ambient_degc(network: Network, leg: Leg) -> float:
    """Ambient temperature of a part of the route: its zone's, or the limit for what lies in no zone."""
    zone = network.design.zones.get(leg.zone)
    return zone.ambient_degc.value if zone is not None else limit("ambient", network.design.limits).value.value


def conductor_ohm(network: Network, wire: Wire, length: WireLength) -> float:
    """Resistance of a wire's conductor with every part of it at the ambient of its zone.

    What the ends and the slack add lies at the ambient of the stretch beside it.
    """
    per_m = wire.figures.resistance_ohm_per_m.value
    return math.fsum(
        per_m * resistance_at(1.0, degc) * length_mm / 1000.0
        for length_mm, degc in _heated_parts(network, wire, length)
    )


def given_degc(network: Network, wire: VehicleWire) -> float:
    """Ambient temperature of a wire of the vehicle: its zone's, or the limit for what lies in no zone."""
    zone = network.design.zones.get(wire.circuit.zone)
    return zone.ambient_degc.value if zone is not None else limit("ambient", network.design.limits).value.value


def given_ohm(network: Network, wire: VehicleWire) -> float:
    """Resistance of a wire of the vehicle at the ambient of its zone, in ohm; of its own crimps nothing is known."""
    at_20_ohm = wire.figures.resistance_ohm_per_m.value * wire.length_mm / 1000.0
    return resistance_at(at_20_ohm, given_degc(network, wire))


def _heated_parts(network: Network, wire: Wire, length: WireLength) -> list[tuple[float, float]]:
    """Lengths of the wire (mm) with their temperatures (degC)."""
    extra = length.needed_mm - math.fsum(leg.length_mm for leg in wire.way)
    if not wire.way:
        return [(max(extra, 0.0), limit("ambient", network.design.limits).value.value)]
    parts = [(leg.length_mm, ambient_degc(network, leg)) for leg in wire.way]
    first, last = parts[0][1], parts[-1][1]
    return [*parts, (extra / 2, first), (extra / 2, last)]


def mean_temperature_degc(network: Network, wire: Wire, length: WireLength) -> float:
    """Temperature of the whole wire that gives it the resistance it has, in degC."""
    parts = _heated_parts(network, wire, length)
    total = math.fsum(length_mm for length_mm, _ in parts)
    return math.fsum(length_mm * degc for length_mm, degc in parts) / total if total else parts[0][1]


def joint_ohm(network: Network, end: WireEnd) -> float:
    """Resistance of the crimp and terminal at an end of a wire; a cavity's is in its mated contact instead."""
    if end.kind is EndKind.SPLICE:
        return network.splice_part(end.designator).resistance_ohm.value
    contact = network.contact_at(end) if end.kind is EndKind.LANDING else None
    return contact.resistance_ohm.value if contact is not None else 0.0


def wire_ohm_derivation(network: Network, wire: Wire, length: WireLength) -> Evaluated:
    """Where a wire's resistance comes from: conductor at its mean temperature, and the joints at its ends."""
    inputs = (
        Input(
            "r",
            "conductor at 20 degC",
            wire.figures.resistance_ohm_per_m.value,
            "ohm/m",
            wire.family.origin(wire.figures),
        ),
        Input("L", "length", max(length.needed_mm, 0.0) / 1000.0, "m"),
        Input("T", "mean temperature along it", mean_temperature_degc(network, wire, length), "degC"),
        Input("ja", f"joint at {wire.a}", joint_ohm(network, wire.a), "ohm"),
        Input("jb", f"joint at {wire.b}", joint_ohm(network, wire.b), "ohm"),
    )
    formula = "r * L * (234.5 + T) / 254.5 + ja + jb"
    return evaluated(f"resistance of {wire.mark}", formula, inputs, "ohm", TEMPERATURE_SOURCE)


def load_ohm(network: Network, load: Load) -> float:
    """Resistance of a load while it works, in ohm: its own, else from its power or current, else its family's."""
    if load.resistance_ohm is not None:
        return load.resistance_ohm.value
    volts = load.at_voltage_v.value if load.at_voltage_v is not None else STATED_POWER_AT_V
    if load.power_w is not None:
        return volts**2 / load.power_w.value
    if load.current_a is not None:
        return volts / load.current_a.value
    return network.parts.loads[load.part].resistance_ohm.value


def element_ohm(network: Network, element: Element, lengths: Mapping[str, WireLength]) -> float:
    """Resistance of an element while it conducts, in ohm; 0 for an ideal supply or ground point."""
    if element.kind is ElementKind.SUPPRESSOR and element.device is not None:
        suppression = suppression_of(element.device, network.parts)
        assert suppression is not None
        assert suppression.resistor_ohm is not None
        return suppression.resistor_ohm
    match element.device:
        case Supply() | Ground() | Switch() | Driver():
            return element.device.resistance_ohm.value
        case Fuse():
            rating = network.parts.fuses[element.device.form].rating(element.device.rating_a)
            assert rating is not None  # a rating that its form does not come in is a fault of the file
            return rating.resistance_ohm.value
        case Relay():
            part = network.parts.relays[element.device.part]
            return part.coil_ohm.value if element.kind is ElementKind.COIL else part.contact_ohm.value
        case Load():
            return load_ohm(network, element.device)
    if element.given is not None:
        return max(given_ohm(network, element.given), 1e-6)
    if element.wire is not None:
        wire = element.wire
        conductor = conductor_ohm(network, wire, lengths[wire.mark])
        # A wire of no length is still a joint; below a microohm nothing can be told apart.
        return max(conductor + joint_ohm(network, wire.a) + joint_ohm(network, wire.b), 1e-6)
    return network.parts.contacts[element.part].resistance_ohm.value
