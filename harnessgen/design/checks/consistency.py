"""Whether what stands in the design makes sense by itself: each of these checks is a fault of the file."""

from collections.abc import Collection, Iterator, Mapping

from harnessgen.design.checks.cables import senseless_cables
from harnessgen.design.checks.names import points_of, terminal_names
from harnessgen.design.checks.shared import senseless_shared
from harnessgen.design.checks.states import senseless_states
from harnessgen.design.reading.runs import bank_connectors, runs_of
from harnessgen.design.records.bank import BankSide
from harnessgen.design.records.circuit import Circuit
from harnessgen.design.records.connector import Splice
from harnessgen.design.records.design import Design
from harnessgen.design.records.device import SIGNAL, Device, Load, Relay
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.parts.library import Parts
from harnessgen.parts.suppression import Suppression
from harnessgen.source.fault import Fault
from harnessgen.source.key import Record
from harnessgen.source.kind import names_in
from harnessgen.source.near import did_you_mean
from harnessgen.source.place import Place


def senseless(design: Design, parts: Parts) -> Iterator[Fault]:
    """Every fault of this kind; `design` as written, its banks not expanded."""
    yield from _route(design)
    yield from _designators(design)
    yield from _disconnects(design)
    for splice in design.splices.values():
        yield from _splice(design, splice)
    for circuit in design.circuits.values():
        yield from _circuit(circuit)
    yield from senseless_cables(design)
    yield from _banks(design)
    yield from senseless_shared(design)
    yield from _to_itself(design)
    yield from _devices(design, parts)
    yield from _sizes(design, parts)
    yield from senseless_states(design, parts)
    for mark, ends in design.marks.items():
        if len(ends) != 2:
            place = ends[0].place if ends else design.where("marks")
            yield Fault(
                "bad-value", place, f"{mark} is fixed with {len(ends)} ends.", "name its two ends: [F1, C10s/1]"
            )


def _route(design: Design) -> Iterator[Fault]:
    reached: dict[str, Place] = {}
    for start, stretches in design.route.items():
        for point, stretch in stretches.items():
            if point in reached:
                also = (reached[point], "it is reached here first")
                message = f"The route reaches {point} twice; it is a tree, so each point has one way to it."
                yield Fault("route-not-a-tree", stretch.place, message, "give one of the two another name", also, point)
                continue
            reached[point] = stretch.place
            if point == start:
                yield Fault(
                    "route-not-a-tree", stretch.place, f"{point} leads to itself.", "name the next point", None, point
                )
    roots = [point for point in design.route if point not in reached]
    seen: set[str] = set()
    queue = list(roots)
    while queue:
        point = queue.pop()
        if point not in seen:
            seen.add(point)
            queue.extend(design.route.get(point, ()))
    for point in design.route:
        if point not in seen and point in reached:
            message = f"The route runs in a ring through {point}; it is a tree."
            yield Fault("route-not-a-tree", reached[point], message, "take one stretch of the ring out", None, point)
            return


def _designators(design: Design) -> Iterator[Fault]:
    """One designator names one thing, across connectors, disconnects, splices, devices, and what banks bring."""
    known: dict[str, tuple[Place, str]] = {}

    def claim(name: str, place: Place, noun: str) -> Iterator[Fault]:
        if name in known:
            first, first_noun = known[name]
            yield Fault(
                "duplicate-designator",
                place,
                f"{name} is {noun} here and {first_noun} elsewhere.",
                "give one of them another designator",
                also=(first, f"{name} stands here as {first_noun}"),
                subject=name,
            )
        else:
            known[name] = (place, noun)

    poles = (design.supplies, design.grounds, design.buses)
    others = (design.fuses, design.relays, design.switches, design.drivers, design.loads, design.cables)
    kinds: tuple[Mapping[str, Record], ...] = (design.connectors, design.splices, *poles, *others)
    for things in kinds:
        for name, thing in things.items():
            yield from claim(name, thing.place, thing.noun)
    for name, disconnect in design.disconnects.items():
        for designator in (name, f"{name}s", f"{name}p"):
            yield from claim(designator, disconnect.place, disconnect.noun)
    for stretches in design.route.values():
        for stretch in stretches.values():
            for name, grommet in stretch.grommets.items():
                yield from claim(name, grommet.place, grommet.noun)
    for bank in design.banks.values():
        try:
            connectors = bank_connectors(bank)
        except ValueError:
            place = bank.connector.where("first")
            message = f"{bank.connector.first} cannot be counted up from."
            yield Fault("bad-value", place, message, "end it in a number, such as C21", subject=bank.name)
            continue
        for load, designator in connectors.items():
            yield from claim(load, bank.loads[load].place, "a load of a bank")
            yield from claim(designator, bank.loads[load].where("connector"), f"the connector of {load}")


def _disconnects(design: Design) -> Iterator[Fault]:
    for disconnect in design.disconnects.values():
        neighbours = neighbours_of(design, disconnect.at)
        for point in disconnect.socket_side:
            if neighbours and point not in neighbours:
                yield Fault(
                    "unknown-reference",
                    disconnect.where("socket_side"),
                    f"{point} is no neighbour of {disconnect.at}, where {disconnect.name} sits.",
                    did_you_mean(point, neighbours),
                    subject=disconnect.name,
                )
        if neighbours and set(disconnect.socket_side) >= set(neighbours):
            message = f"Every neighbour of {disconnect.at} is on the socket side of {disconnect.name}."
            mend = "leave at least one for the pin half"
            yield Fault("bad-value", disconnect.where("socket_side"), message, mend, subject=disconnect.name)


def neighbours_of(design: Design, point: str) -> list[str]:
    """Points of the route one stretch away from `point`: the one before it, then those after it."""
    return design.before(point) + list(design.route.get(point, ()))


def _splice(design: Design, splice: Splice) -> Iterator[Fault]:
    if not splice.toward:
        if splice.offset_mm.value:
            mend = "add toward: and the next point of the route"
            yield Fault(
                "missing-key", splice.place, f"{splice.name} has an offset and no direction.", mend, subject=splice.name
            )
        return
    neighbours = neighbours_of(design, splice.at)
    if splice.toward not in neighbours:
        message = f"{splice.toward} is no neighbour of {splice.at}."
        mend = did_you_mean(splice.toward, neighbours)
        yield Fault("unknown-reference", splice.where("toward"), message, mend, subject=splice.name)
        return
    stretch = design.route.get(splice.at, {}).get(splice.toward) or design.route[splice.toward][splice.at]
    if splice.offset_mm.value > stretch.length_mm.value:
        message = f"{splice.name} lies {splice.offset_mm.value:g} mm along a stretch of {stretch.length_mm.value:g} mm."
        mend = f"measure it from {splice.toward}, or shorten the offset"
        yield Fault("bad-value", splice.where("offset_mm"), message, mend, subject=splice.name)


def _circuit(circuit: Circuit) -> Iterator[Fault]:
    number = circuit.name
    if circuit.runs:
        for each in ("from_", "to", "splice", "through", "cut"):
            if each in circuit.places:
                message = f"Circuit {number} gives its runs, and {each.rstrip('_')} besides."
                yield Fault("unclear-circuit", circuit.where(each), message, "write it in the runs", subject=number)
        return
    missing = [name for name, value in (("from", circuit.from_), ("to", circuit.to)) if not value]
    if missing:
        message = f"Circuit {number} has no {' and no '.join(missing)}."
        yield Fault("unclear-circuit", circuit.place, message, "give its two ends, or its runs", subject=number)
    elif len(circuit.to) > 1 and not circuit.splice:
        message = f"Circuit {number} goes to {len(circuit.to)} ends and has no splice."
        yield Fault("unclear-circuit", circuit.where("to"), message, "add splice:, or write its runs", subject=number)
    if circuit.cut and circuit.splice:
        message = f"Circuit {number} is several wires, and one cut length is given."
        yield Fault(
            "unclear-circuit", circuit.where("cut"), message, "write its runs, each with its cut", subject=number
        )


def _banks(design: Design) -> Iterator[Fault]:
    for bank in design.banks.values():
        if not bank.loads:
            yield Fault(
                "missing-key",
                bank.where("loads"),
                f"Bank {bank.name} has no load.",
                "name its loads",
                subject=bank.name,
            )
        for side in (bank.feed, bank.return_):
            if isinstance(side, BankSide) and len(bank.loads) > 1 and not side.splice:
                message = f"{side.noun.capitalize()} goes to {len(bank.loads)} loads and has no splice."
                yield Fault("unclear-circuit", side.where("circuit"), message, "add splice:", subject=side.circuit)


def _to_itself(design: Design) -> Iterator[Fault]:
    """A wire from a splice to the same splice: it is in the file twice, or one of its ends is the wrong one."""
    for run in runs_of(design):
        if run.from_[:2] == run.to[:2] and run.from_.designator in design.splices:
            message = f"Circuit {run.circuit} has a wire from {run.from_} to itself."
            mend = "name the other end of the wire, or take it out"
            yield Fault("unclear-circuit", run.to.place, message, mend, subject=run.circuit)


def _devices(design: Design, parts: Parts) -> Iterator[Fault]:
    for load in design.loads.values():
        if not load.part and load.resistance_ohm is None and load.power_w is None and load.current_a is None:
            message = f"{load.name} has no load family, resistance, power or current."
            mend = "add part, resistance, power, or current"
            yield Fault("missing-key", load.place, message, mend, subject=load.name)
    for fuse in design.fuses.values():
        form = parts.fuses.get(fuse.form)
        if form is not None and form.rating(fuse.rating_a) is None:
            message = f"{fuse.form} does not come in {fuse.rating_a.value:g} A."
            yield Fault(
                "bad-value", fuse.where("rating_a"), message, f"ratings: {', '.join(form.ratings)} A", subject=fuse.name
            )
    for name, device in design.devices.items():
        if isinstance(device, Load) and SIGNAL in device.terminals and kind_of(device, parts) != "sensor":
            message = f"{name} has a terminal {SIGNAL}, and is no sensor."
            yield Fault("bad-value", device.terminals[SIGNAL].place, message, "add kind: sensor", subject=name)
        names = terminal_names(design, parts, name)
        places = {terminal: end.place for terminal, end in device.terminals.items()}
        for terminal in device.direct:
            if terminal in places:
                pole = device.direct[terminal]
                message = f"{name}/{terminal} stands behind {device.terminals[terminal]} and sits on {pole} too."
                yield Fault("unclear-circuit", places[terminal], message, "leave one of the two out", subject=name)
            places.setdefault(terminal, device.where("direct"))
        for terminal, place in places.items():
            if names and terminal not in names:
                message = f"{name} has no terminal {terminal}."
                yield Fault("unknown-reference", place, message, did_you_mean(terminal, names), subject=name)


def _sizes(design: Design, parts: Parts) -> Iterator[Fault]:
    """A fault for each size that its wire families lack; one, at the title block's family, where they lack them all."""
    found: dict[tuple[Place, str, str], Fault] = {}
    of_title: dict[bool, dict[str, ConductorSize]] = {True: {}, False: {}}
    for run in runs_of(design):
        families = wire_families(design, run.wire)
        if any(name not in parts.wires for name in families):
            continue
        is_made = family_for(parts, families, run.size) is not None
        if not run.wire:
            of_title[is_made][str(run.size)] = run.size
        if not is_made:
            offered = "; ".join(f"{name}: {parts.wires[name].sizes_text}" for name in families)
            message = f"No {run.size} wire is made in {' or '.join(families)}."
            place = run.size_place._replace(pattern="")
            fault = Fault("bad-value", place, message, f"sizes of {offered}", subject=run.circuit)
            found.setdefault((place, str(run.size), run.wire), fault)
    title, lacking = design.harness, of_title[False]
    if title is not None and "wire" in title.places and len(lacking) > 1 and not of_title[True]:
        named = " or ".join(title.wire)
        yield Fault(
            "bad-value",
            title.where("wire"),
            f"No wire of the sizes {names_in(lacking)} is made in {named}, and the design has no other.",
            _families_of(parts, lacking.values()),
            subject=named,
        )
        found = {key: fault for key, fault in found.items() if key[2]}
    yield from found.values()


def _families_of(parts: Parts, sizes: Collection[ConductorSize]) -> str:
    names = [name for name, family in parts.wires.items() if all(family.size(size) for size in sizes)]
    return f"these sizes come in {names_in(names)}" if names else "name a second family that has them"


def kind_of(load: Load, parts: Parts) -> str:
    """How a load behaves: its own kind, else its family's, else a resistor."""
    family = parts.loads.get(load.part)
    return load.kind or (family.kind if family is not None else "resistor")


def suppression_of(device: Device, parts: Parts) -> Suppression | None:
    """What sits across the coil of a relay or load; None where nobody says."""
    if isinstance(device, Relay):
        return device.suppression or parts.relays[device.part].suppression
    if isinstance(device, Load):
        family = parts.loads.get(device.part)
        return device.suppression or (family.suppression if family is not None else None)
    return None


def wire_families(design: Design, named: str) -> tuple[str, ...]:
    """Families that a wire may be of: the one it names, else those of the title block."""
    if named:
        return (named,)
    return design.harness.wire if design.harness is not None else ("thin-wall-125",)


def family_for(parts: Parts, families: tuple[str, ...], size: ConductorSize) -> str | None:
    """First of `families` that has `size`, or None."""
    return next((name for name in families if parts.wires[name].size(size) is not None), None)


def has_route(design: Design) -> bool:
    """True when there is a route to lay wires along."""
    return bool(points_of(design))
