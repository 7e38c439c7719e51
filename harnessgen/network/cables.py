"""Whether the circuits of a cable run together, and its shield along them."""

from collections.abc import Iterator, Mapping

from harnessgen.design.records.cable import Cable
from harnessgen.design.records.design import Design
from harnessgen.network.wires import Wire
from harnessgen.source.fault import Fault

_Way = frozenset[tuple[str, str]]


def cable_faults(design: Design, wires: tuple[Wire, ...]) -> Iterator[Fault]:
    """A fault for each cable whose circuits do not share their way, or whose shield does not lie along all of it."""
    if not design.cables:
        return
    by_circuit: dict[str, list[Wire]] = {}
    for wire in wires:
        by_circuit.setdefault(wire.circuit, []).append(wire)
    for cable in design.cables.values():
        yield from _faults(cable, by_circuit)


def _faults(cable: Cable, by_circuit: Mapping[str, list[Wire]]) -> Iterator[Fault]:
    ways: dict[str, _Way] = {}
    for circuit in cable.circuits:
        own = by_circuit.get(circuit, [])
        if len({wire.section for wire in own}) < len(own):
            message = f"Circuit {circuit} branches, and {cable.name} can only hold it as one run."
            mend = f"take {circuit} out of {cable.name}, or end the cable at the splice and give what follows a number"
            yield Fault("unclear-circuit", cable.where("circuits"), message, mend, subject=cable.name)
            return
        ways[circuit] = _way(own)
    first, *others = ways
    for circuit in others:
        if ways[circuit] != ways[first]:
            message = f"{cable.name} holds {first} and {circuit}, which do not run the same way from end to end."
            mend = "leave the one that parts out of the cable"
            yield Fault("unclear-circuit", cable.where("circuits"), message, mend, subject=cable.name)
            return
    shield = cable.shield
    if shield is not None and not ways[first] <= _way(by_circuit.get(shield.circuit, [])):
        message = f"The shield of {cable.name} runs from {shield.to} to {shield.free_at}, and not along all of {first}."
        mend = "name for free-at the end of the cable that is not grounded"
        yield Fault("unclear-circuit", shield.where("free_at"), message, mend, subject=cable.name)


def _way(wires: list[Wire]) -> _Way:
    return frozenset((leg.start, leg.end) for wire in wires for leg in wire.way)
