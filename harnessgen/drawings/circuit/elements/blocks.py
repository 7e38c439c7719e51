"""Blocks: what stands on one column of the circuit drawing, drawn around its own top end and moved into place later.

A block is the label of a wire, an in-line splice, a ground, a sheet reference, or a device with its connectors, which
stay together as one stack.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from harnessgen.design.records.cable import Cable
from harnessgen.design.records.device import Bus, Load
from harnessgen.drawings.circuit.elements.cables import cable_marks, cable_of, drain_words, envelope
from harnessgen.drawings.circuit.elements.element_symbols import joined_names, piece_symbol, wrapped
from harnessgen.drawings.circuit.elements.graph import CircuitGraph, JunctionKind, SheetReference, Strand, StrandPiece
from harnessgen.drawings.circuit.elements.readings import Readings, ampere_words
from harnessgen.drawings.symbols import circuit_symbols as symbols
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.network.vehicle_wires import VehicleWire
from harnessgen.network.wires import Wire
from harnessgen.sheets.box import Box, union_of
from harnessgen.sheets.lettering import text_box
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Circle, Mark, Polygon, Polyline, TextMark, box_of

LABEL_SHARE = 0.92
"""Size of the text on a conductor in modules."""
LEAST_TEXT_MM = 2.0
_LABEL_AIR_MM = 0.5
_READING_PITCH = 1.35
"""From the words on a conductor to the reading below them, in sizes of the text."""
_STACK_AIR_MM = 0.4
_LEAD = 1.0
"""Lead between a connector and its device in modules."""


@dataclass(frozen=True, slots=True)
class CircuitBlock:
    """Marks around (0, 0), the block's upper end; the lower end lies `length_mm` below it.

    `box` holds the marks; `anchor_mm` is the level at which blocks of one of the `rows` are aligned, the first of them
    first; `wire` is set on the label of a wire, `given` on that of a wire of the vehicle.
    """

    marks: tuple[Mark, ...]
    length_mm: float
    box: Box
    role: str
    anchor_mm: float = 0.0
    rows: tuple[str, ...] = ()
    wire: Wire | None = None
    given: VehicleWire | None = None

    @property
    def height_mm(self) -> float:
        """Height of the whole block."""
        return max(self.length_mm, self.box.height_mm)

    @property
    def depth_mm(self) -> float:
        """How far it reaches below its upper end."""
        return max(self.length_mm, self.box.y1)

    @property
    def rise_mm(self) -> float:
        """How far it reaches above its upper end."""
        return max(0.0, -self.box.y0)


class Blocks:
    """Makes the blocks of strands of one network; what it has made once it keeps, since sheets are tried repeatedly."""

    def __init__(self, network: Network, readings: Readings | None = None) -> None:
        self.network = network
        self.readings = readings
        self.references = relay_references(network)
        self._kept: dict[tuple[float, tuple[str, ...]], CircuitBlock] = {}
        self._ends: dict[tuple[object, ...], tuple[CircuitBlock, ...]] = {}

    def of(self, graph: CircuitGraph, strand: Strand, module_mm: float) -> tuple[CircuitBlock, ...]:
        """The blocks of a strand from top to bottom, what it ends in included unless that joins several strands."""
        blocks = list(self._end(graph, strand, module_mm, is_upper=True))
        for is_single, group in groupby(_with_splices(self.network, strand), key=_is_single):
            items = list(group)
            for held in [[each] for each in items] if is_single else [items]:
                blocks.append(self._made(held, module_mm))
                blocks += self._cable(held[0], module_mm)
        blocks += self._end(graph, strand, module_mm, is_upper=False)
        return tuple(blocks)

    def _end(
        self, graph: CircuitGraph, strand: Strand, module_mm: float, *, is_upper: bool
    ) -> tuple[CircuitBlock, ...]:
        """What a strand ends in, where that is no joint of several strands on this sheet."""
        reference = strand.from_sheet if is_upper else strand.to_sheet
        junction = graph.junctions[strand.upper if is_upper else strand.lower]
        near = strand.pieces[0 if is_upper else -1].element.kind if strand.pieces else None
        key = (module_mm, is_upper, reference, strand.is_stub if reference is not None else junction, near)
        if key not in self._ends:
            self._ends[key] = tuple(_end_block(self.network, graph, strand, module_mm, is_upper=is_upper))
        return self._ends[key]

    def _cable(self, item: StrandPiece | str, module_mm: float) -> list[CircuitBlock]:
        """The mark of the cable that a wire runs in, below its label."""
        wire = item.element.wire if isinstance(item, StrandPiece) else None
        cable = cable_of(self.network, wire) if wire is not None else None
        if cable is None or wire is None:
            return []
        marks, length_mm = cable_marks(cable, wire, module_mm)
        return [CircuitBlock(marks, length_mm, box_of(marks), "cable", wire=wire)]

    def _made(self, items: Sequence[StrandPiece | str], module_mm: float) -> CircuitBlock:
        names = tuple(each if isinstance(each, str) else f"{each.element.name} {each.upper}" for each in items)
        key = (module_mm, names)
        if key not in self._kept:
            pieces = [each for each in items if isinstance(each, StrandPiece)]
            is_stack = pieces and not pieces[0].element.kind.is_wire
            self._kept[key] = (
                _stack(self.network, pieces, module_mm, self.readings, self.references)
                if is_stack
                else _single(items[0], module_mm, self.readings)
            )
        return self._kept[key]


def _with_splices(network: Network, strand: Strand) -> list[StrandPiece | str]:
    """The pieces, and between two of them the name of a splice that joins just these two."""
    listed: list[StrandPiece | str] = []
    for index, piece in enumerate(strand.pieces):
        if index and network.electrical.nodes[piece.upper].kind == "splice":
            listed.append(piece.upper)
        listed.append(piece)
    return listed


def _is_single(item: StrandPiece | str) -> bool:
    return isinstance(item, str) or item.element.kind.is_wire


def _single(item: StrandPiece | str, module_mm: float, readings: Readings | None) -> CircuitBlock:
    if isinstance(item, str):
        return _dot(item, module_mm, lower=False)
    element = item.element
    said = ""
    if readings is not None:
        said = ampere_words(readings.amperes[element.name], is_down=item.upper == element.a)
    if element.given is not None:
        return _given_label(element.given, module_mm, said)
    assert element.wire is not None  # an element of this kind always carries its wire
    return wire_label(element.wire, module_mm, said)


def _dot(name: str, module_mm: float, *, lower: bool) -> CircuitBlock:
    dot = symbols.splice_dot(0, 0, name, module_mm, lower=lower)
    return CircuitBlock(dot.marks, 0.0, dot.box, "splice")


def wire_words(wire: Wire) -> str:
    """What stands on a conductor: mark, colour code and size; the size in mm2 without its unit."""
    size = wire.size.label if wire.size.system == "mm2" else str(wire.size)
    return f"{wire.mark} {wire.colour} {size}"


def wire_label(wire: Wire, module_mm: float, reading: str = "") -> CircuitBlock:
    """The label of a wire, in a gap of the conductor that it interrupts; a `reading` stands on a line below it."""
    rows = (f"leg of {wire.bank} {wire.circuit}",) if wire.bank and wire.run.load else ()
    return replace(_label(wire.mark, wire_words(wire), module_mm, reading), rows=rows, wire=wire)


def _given_label(wire: VehicleWire, module_mm: float, reading: str) -> CircuitBlock:
    """The same of a wire of the vehicle: its mark and size; its colour nobody says."""
    size = wire.circuit.size
    words = f"{wire.mark} {size.label if size.system == 'mm2' else size}"
    return replace(_label(wire.mark, words, module_mm, reading), given=wire)


def _label(mark: str, words: str, module_mm: float, reading: str) -> CircuitBlock:
    size_mm = max(LEAST_TEXT_MM, LABEL_SHARE * module_mm)
    box = text_box(words, 0, 0, size_mm, anchor="middle")
    first = TextMark(words, 0.0, _LABEL_AIR_MM - box.y0, size_mm, "middle", subject=mark)
    marks = [first]
    if reading:
        pitch_mm = _READING_PITCH * size_mm
        marks.append(TextMark(reading, 0.0, first.y + pitch_mm, size_mm, "middle", bold=True, subject=mark))
    held = box_of(tuple(marks))
    return CircuitBlock(tuple(marks), held.height_mm + 2 * _LABEL_AIR_MM, held, "wire")


def _stack(
    network: Network,
    pieces: Sequence[StrandPiece],
    module_mm: float,
    readings: Readings | None,
    references: Mapping[str, str],
) -> CircuitBlock:
    """A device with the connectors above and below it, joined by leads."""
    marks: list[Mark] = []
    boxes: list[Box] = []
    end_mm, reach_mm, anchor_mm = 0.0, 0.0, 0.0
    rows: tuple[str, ...] = ()
    role = ""
    for piece in pieces:
        symbol = piece_symbol(network, piece, module_mm, readings, references.get(piece.element.name, ""))
        device = piece.element.device
        start_mm = end_mm
        if marks:
            start_mm = max(end_mm + _LEAD * module_mm, reach_mm + _STACK_AIR_MM - symbol.box.y0)
            subject = device.name if device is not None else piece.element.name
            lead = ((0.0, end_mm), (0.0, start_mm))
            marks.append(Polyline(lead, 0.12 * module_mm, kind=MarkKind.LEAD, subject=subject))
        marks += [mark.shift(0.0, start_mm) for mark in symbol.marks]
        boxes.append(symbol.box.shift(0.0, start_mm))
        end_mm = symbol.bottom[1] + start_mm
        reach_mm = max(reach_mm, symbol.box.y1 + start_mm)
        if not role or device is not None:
            rows, anchor_mm, role = _rows(network, piece), start_mm, piece.element.kind.value
    return CircuitBlock(tuple(marks), end_mm, union_of(boxes), role, anchor_mm, rows)


def _rows(network: Network, piece: StrandPiece) -> tuple[str, ...]:
    """Names of the rows that an element would stand in, the most wanted first."""
    element, device = piece.element, piece.element.device
    if element.kind is ElementKind.MATING:
        # Feeds pass a disconnect one way and returns the other: two rows.
        return (f"disconnect {piece.upper.partition('/')[0]}",)
    if isinstance(device, Load):
        return (*(f"bank {bank.name}" for bank in network.design.banks.values() if device.name in bank.loads), "loads")
    if element.kind is ElementKind.COIL:
        return ("loads",)
    if element.kind in (ElementKind.MAKE, ElementKind.BREAK) and device is not None:
        return (f"contact {device.name}", "contacts")
    return (element.kind.value,) if device is not None else ()


def _end_block(
    network: Network, graph: CircuitGraph, strand: Strand, module_mm: float, *, is_upper: bool
) -> Iterator[CircuitBlock]:
    """What a strand ends in, where that is no joint of several strands on this sheet."""
    reference = strand.from_sheet if is_upper else strand.to_sheet
    if reference is not None:
        yield _reference(reference, module_mm, is_upper=is_upper, is_stub=strand.is_stub)
        return
    junction = graph.junctions[strand.upper if is_upper else strand.lower]
    if junction.kind is JunctionKind.GROUND and not is_upper:
        yield _ground(network, junction.device, module_mm)
    elif not strand.pieces:
        return
    elif junction.kind is (JunctionKind.GROUND if is_upper else JunctionKind.SUPPLY):
        yield _ring(junction.device, (), module_mm)
    elif junction.kind is JunctionKind.END:
        piece = strand.pieces[0] if is_upper else strand.pieces[-1]
        if junction.device:
            yield _ring(junction.device, (), module_mm)
        elif piece.element.kind.is_wire:
            yield _loose_end(network, junction.name, module_mm, is_upper=is_upper)


def _loose_end(network: Network, name: str, module_mm: float, *, is_upper: bool) -> CircuitBlock:
    """Where a wire leads no further: a splice of one wire, a cavity without a device behind it, a free shield."""
    node = network.electrical.nodes[name]
    if node.kind == "splice":
        return _dot(name, module_mm, lower=is_upper)
    if node.kind == "cavity":
        symbol = symbols.connection_break(0, 0, node.designator, node.terminal, module_mm)
        return CircuitBlock(symbol.marks, symbol.bottom[1], symbol.box, "end")
    cable = network.design.cables.get(node.designator) if node.kind == "shield" else None
    return _drain(cable, module_mm) if cable else _ring(node.designator, (node.terminal,), module_mm)


def _drain(cable: Cable, module_mm: float) -> CircuitBlock:
    """The shield of a cable as an envelope at the end of its drain, with its conductors and its ground."""
    m = module_mm
    marks: list[Mark] = [envelope(3.0 * m, m, cable.name)]
    names = (cable.name, *drain_words(cable))
    for index, words in enumerate(names):
        is_name = index == 0
        marks.append(
            TextMark(
                words,
                1.9 * m,
                (-0.4 + 1.4 * index) * m,
                (1.1 if is_name else 1.0) * m,
                bold=is_name,
                subject=cable.name,
            )
        )
    # The conductor ends on the envelope, which is where the drain leaves it.
    length_mm = 3.0 * m
    return CircuitBlock(tuple(marks), length_mm, box_of(tuple(marks)), "end")


def _ring(name: str, lines: Sequence[str], module_mm: float) -> CircuitBlock:
    """An end drawn as a small ring with its name."""
    m = module_mm
    ring = Circle(0.0, 0.5 * m, 0.42 * m, 0.16 * m, kind=MarkKind.SYMBOL, subject=name)
    marks: list[Mark] = [ring, *joined_names(name, [line for line in lines if line], 1.1 * m, 0.86 * m, m, name)]
    return CircuitBlock(tuple(marks), m, box_of(tuple(marks)), "end")


def _ground(network: Network, name: str, module_mm: float) -> CircuitBlock:
    title = wrapped(network.design.devices[name].title, module_mm)
    symbol = symbols.ground(0, 0, name, title, module_mm)
    return CircuitBlock(symbol.marks, symbol.box.y1, symbol.box, "ground", rows=("grounds",))


def _reference(reference: SheetReference, module_mm: float, *, is_upper: bool, is_stub: bool) -> CircuitBlock:
    """A flag at an end that goes on elsewhere, pointing along the current, with the number of the sheet beside it."""
    m = module_mm
    points = ((-0.8 * m, 0.0), (0.8 * m, 0.0), (0.8 * m, 1.4 * m), (0.0, 2.2 * m), (-0.8 * m, 1.4 * m))
    towards = "from" if is_upper else "to"
    subject = f"{towards} {reference.sheet} {reference.named}"
    flag = Polygon(points, 0.16 * m, kind=MarkKind.SYMBOL, subject=subject)
    lines = [f"{towards} {reference.sheet}", *(line for line in wrapped(reference.named, m, most=12) if line)]
    words = tuple(
        TextMark(line, 1.4 * m, (1.46 + 1.5 * index) * m, m, bold=index == 0, subject=subject)
        for index, line in enumerate(lines)
    )
    marks = (flag, *words)
    row = f"references {towards}{' stub' if is_stub else ''}"
    return CircuitBlock(marks, 2.2 * m, box_of(marks), "reference", rows=(row,))


_CONTACTS = (ElementKind.MAKE, ElementKind.BREAK)


def relay_references(network: Network) -> Mapping[str, str]:
    """For the coil and each contact of every relay the words that lead to the other, by name of the element."""
    electrical = network.electrical
    relays: dict[str, list[Element]] = {}
    for element in electrical.elements:
        if element.device is not None and (element.kind is ElementKind.COIL or element.kind in _CONTACTS):
            relays.setdefault(element.device.name, []).append(element)
    landmarks = _landmarks(network) if relays else {}
    found: dict[str, str] = {}
    for elements in relays.values():
        coil = next((each for each in elements if each.kind is ElementKind.COIL), None)
        contacts = [each for each in elements if each.kind in _CONTACTS]
        if coil is None or not contacts:
            continue
        # A contact is looked for at its switched side; where no wire is there, at its common.
        ways = (name for each in contacts for node in (each.b, each.a) if (name := landmarks.get(node)))
        if there := next(ways, ""):
            found[coil.name] = f"contact at {there}"
        if there := landmarks.get(coil.a, "") or landmarks.get(coil.b, ""):
            found.update({each.name: f"coil at {there}" for each in contacts})
    return found


def _landmarks(network: Network) -> dict[str, str]:
    """What is printed at each node: the mark of its first wire, or the name of its bus bar."""
    marks: dict[str, str] = {}
    for element in network.electrical.elements:
        if element.wire is not None:
            for node in (element.a, element.b):
                marks.setdefault(node, element.wire.mark)
    buses = {name for name, device in network.design.devices.items() if isinstance(device, Bus)}
    return marks | {name: name for name in buses if name in network.electrical.nodes}
