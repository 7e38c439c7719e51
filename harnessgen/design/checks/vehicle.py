"""Whether what is said of the vehicle makes sense by itself: each of these checks is a fault of the file."""

from collections.abc import Iterator, Mapping

from harnessgen.design.checks.consistency import family_for, wire_families
from harnessgen.design.reading.runs import runs_of
from harnessgen.design.records.design import Design
from harnessgen.parts.library import Parts
from harnessgen.source.fault import Fault
from harnessgen.source.key import Record
from harnessgen.source.near import did_you_mean


def designators_taken(design: Design) -> Iterator[Fault]:
    """Things of the vehicle that have the name of a thing of the same kind; `design` before the two are joined."""
    vehicle = design.vehicle
    kinds: tuple[tuple[Mapping[str, Record], Mapping[str, Record]], ...] = (
        (vehicle.fuses, design.fuses),
        (vehicle.relays, design.relays),
        (vehicle.connectors, design.connectors),
        (vehicle.taps, design.splices),
    )
    for given, own in kinds:
        for name, thing in given.items():
            if name in own:
                message = f"{name} is {thing.noun} here and {own[name].noun} elsewhere."
                also = (own[name].place, f"{name} stands here as {own[name].noun}")
                mend = "write it once: under vehicle if it is there already"
                yield Fault("duplicate-designator", thing.place, message, mend, also=also, subject=name)


def senseless_vehicle(design: Design, parts: Parts) -> Iterator[Fault]:
    """Every other fault of this kind."""
    vehicle = design.vehicle
    own = {run.circuit: run.place for run in runs_of(design)}
    for name, circuit in vehicle.circuits.items():
        if name in own:
            message = f"{name} is a circuit of the vehicle here and one of the harness elsewhere."
            also = (own[name], "it is a circuit of the harness here")
            mend = "give the vehicle's another name"
            yield Fault("duplicate-designator", circuit.place, message, mend, also=also, subject=name)
        things = (design.devices, design.connectors, design.splices, design.disconnects)
        if any(name in each for each in things):
            message = f"{name} is a circuit of the vehicle, and a thing of the design has that name too."
            yield Fault("duplicate-designator", circuit.place, message, "give one of them another name", subject=name)
        families = wire_families(design, circuit.wire)
        if all(each in parts.wires for each in families) and family_for(parts, families, circuit.size) is None:
            offered = "; ".join(f"{each}: {parts.wires[each].sizes_text}" for each in families)
            message = f"No {circuit.size} wire is made in {' or '.join(families)}."
            yield Fault("bad-value", circuit.where("size"), message, f"sizes of {offered}", subject=name)
    for name, tap in vehicle.taps.items():
        onto = vehicle.circuits.get(tap.onto)
        if onto is not None and tap.after_mm.value >= onto.length_mm.value:
            after_mm, whole_mm = tap.after_mm.value, onto.length_mm.value
            message = f"{tap.onto} is {whole_mm:g} mm long, and {name} sits on it after {after_mm:g} mm."
            mend = f"measure from the end that {tap.onto} names as from"
            yield Fault("bad-value", tap.where("after_mm"), message, mend, subject=name)
    for name, connector in vehicle.connectors.items():
        family = parts.connectors.get(connector.part)
        if family is None:
            continue
        for cavity in connector.occupied:
            if cavity not in family.cavities:
                message = f"{name} has no cavity {cavity}."
                mend = did_you_mean(cavity, family.cavities)
                yield Fault("unknown-reference", connector.where("occupied"), message, mend, subject=name)
