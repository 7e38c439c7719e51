"""Wires of the vehicle that take part: from end to end, in two pieces or more where taps of ours sit on them.

They lie in no stretch of the route and are no wires of the harness: nothing of them is cut, bought or laid.
"""

from collections.abc import Iterator
from itertools import pairwise

from harnessgen.design.checks.consistency import family_for, wire_families
from harnessgen.design.records.design import Design
from harnessgen.design.records.vehicle import VehicleCircuit
from harnessgen.measures.designator import segment_letters
from harnessgen.measures.frozen import frozen
from harnessgen.network.wires import bare_terminal
from harnessgen.parts.library import Parts
from harnessgen.parts.wire import WireFamily, WireSize
from harnessgen.source.kind import End


@frozen
class VehicleWire:
    """One piece of a vehicle's wire between the electrical nodes `a` and `b`, from its `from` end on.

    `mark` is the name of its circuit, with a letter where taps divide it: V7A, V7B.
    """

    mark: str
    circuit: VehicleCircuit
    a: str
    b: str
    length_mm: float
    family: WireFamily
    figures: WireSize

    @property
    def carries_a(self) -> float | None:
        """What it carries already, in A; None where nobody says."""
        said = self.circuit.carries_a
        return said.value if said is not None else None


def vehicle_wires(design: Design, parts: Parts) -> tuple[VehicleWire, ...]:
    """The vehicle's wires of a design, each circuit cut at its taps."""
    return tuple(wire for circuit in design.vehicle.circuits.values() for wire in _pieces(design, parts, circuit))


def _pieces(design: Design, parts: Parts, circuit: VehicleCircuit) -> Iterator[VehicleWire]:
    taps = sorted((tap.after_mm.value, name) for name, tap in design.vehicle.taps.items() if tap.onto == circuit.name)
    whole_mm = circuit.length_mm.value
    start, goal = _node(design, circuit.from_, is_start=True), _node(design, circuit.to, is_start=False)
    points = [(0.0, start), *taps, (whole_mm, goal)]
    families = wire_families(design, circuit.wire)
    name = family_for(parts, families, circuit.size)
    assert name is not None  # a size that is not made is a fault of the file
    family = parts.wires[name]
    figures = family.size(circuit.size)
    assert figures is not None
    for number, ((from_mm, a), (to_mm, b)) in enumerate(pairwise(points)):
        mark = f"{circuit.name}{segment_letters(number)}" if taps else circuit.name
        yield VehicleWire(mark, circuit, a, b, to_mm - from_mm, family, figures)


def _node(design: Design, end: End, *, is_start: bool) -> str:
    """The electrical node of an end: the cavity that holds it, or the terminal itself."""
    device = design.devices.get(end.designator)
    if device is None or end.designator in design.splices or end.designator in design.connectors:
        return f"{end.designator}/{end.terminal}" if end.terminal else end.designator
    terminal = end.terminal or bare_terminal(device.terminal_names, is_start=is_start)
    cavity = device.cavity_of(terminal)
    if cavity is not None:
        return str(cavity)
    if terminal in device.direct:
        return device.direct[terminal]
    return f"{device.name}/{terminal}" if terminal else device.name
