"""Blocks: what stands on one column of the circuit drawing, drawn around its own top end and moved into place later.

A block is the label of a wire, an in-line splice, a ground, a sheet reference, or a device with its connectors, which
stay together as one stack.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import groupby

from harnessgen.design.device import Device, Driver, Fuse, Load, Relay
from harnessgen.drawings import symbols
from harnessgen.drawings.circuit_graph import CircuitGraph, JunctionKind, Piece, Reference, Strand
from harnessgen.drawings.symbols import Symbol
from harnessgen.measures.quantity import plain_number
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.sheets.box import Box
from harnessgen.sheets.lettering import drawn_text, fit_text, text_box, wrap_text
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polygon, Polyline, Rectangle, Text, box_of

LABEL_SHARE = 0.92
"""Size of the text on a conductor in modules."""
LEAST_TEXT_MM = 2.0
_LABEL_AIR_MM = 0.5
_STACK_AIR_MM = 0.5
_WIDTHS = (6.8, 8.6, 11.0, 14.0)
"""Widths in modules that a title is wrapped to, the narrowest first that needs no more than three lines."""
_MOST_LINES = 3


@dataclass(frozen=True, slots=True)
class Block:
    """Marks around (0, 0), the block's upper end; the lower end lies `length_mm` below it.

    `box` holds the marks; `anchor_mm` is the level at which blocks of one `rows` key are aligned, the first key first;
    `wire` is set on the label of a wire.
    """

    marks: tuple[Mark, ...]
    length_mm: float
    box: Box
    role: str
    anchor_mm: float = 0.0
    rows: tuple[str, ...] = ()
    wire: Wire | None = None


def strand_blocks(network: Network, graph: CircuitGraph, strand: Strand, module_mm: float) -> tuple[Block, ...]:
    """The blocks of a strand from top to bottom, its ends at grounds and at other sheets included."""
    blocks: list[Block] = []
    if strand.from_sheet is not None:
        blocks.append(_reference(strand.from_sheet, module_mm, is_upper=True))
    elif graph.junctions[strand.upper].kind is JunctionKind.GROUND and strand.pieces:
        blocks.append(_named_end(network, strand.upper, module_mm, is_upper=True))
    for kind, group in groupby(_with_splices(network, strand), key=_is_single):
        pieces = list(group)
        if kind:
            blocks += [_single(each, module_mm) for each in pieces]
        else:
            blocks.append(_stack(network, [each for each in pieces if isinstance(each, Piece)], module_mm))
    if strand.to_sheet is not None:
        blocks.append(_reference(strand.to_sheet, module_mm, is_upper=False))
    elif graph.junctions[strand.lower].kind is JunctionKind.GROUND:
        blocks.append(_ground(network, strand.lower, module_mm))
    elif graph.junctions[strand.lower].kind is JunctionKind.SUPPLY and strand.pieces:
        blocks.append(_named_end(network, strand.lower, module_mm, is_upper=False))
    return tuple(blocks)


def _with_splices(network: Network, strand: Strand) -> list[Piece | str]:
    """The pieces, and between two of them the name of a splice that joins just these two."""
    listed: list[Piece | str] = []
    for index, piece in enumerate(strand.pieces):
        if index and network.electrical.nodes[piece.upper].kind == "splice":
            listed.append(piece.upper)
        listed.append(piece)
    return listed


def _is_single(item: Piece | str) -> bool:
    return isinstance(item, str) or item.element.kind is ElementKind.WIRE


def _single(item: Piece | str, module_mm: float) -> Block:
    if isinstance(item, str):
        dot = symbols.splice_dot(0, 0, item, module_mm)
        return Block(dot.marks, 0.0, dot.box, "splice", rows=())
    assert item.element.wire is not None  # an element of this kind always carries its wire
    return wire_label(item.element.wire, module_mm)


def wire_words(wire: Wire) -> str:
    """What stands on a conductor: mark, colour code and size; the size in mm2 without its unit."""
    size = wire.size.label if wire.size.system == "mm2" else str(wire.size)
    return f"{wire.mark} {wire.colour} {size}"


def wire_label(wire: Wire, module_mm: float) -> Block:
    """The label of a wire, in a gap of the conductor that it interrupts."""
    size_mm = max(LEAST_TEXT_MM, LABEL_SHARE * module_mm)
    words = wire_words(wire)
    box = text_box(words, 0, 0, size_mm, anchor="middle")
    mark = Text(words, 0.0, _LABEL_AIR_MM - box.y0, size_mm, "middle", subject=wire.mark)
    return Block((mark,), box.height_mm + 2 * _LABEL_AIR_MM, mark.box, "wire", wire=wire)


def _stack(network: Network, pieces: Sequence[Piece], module_mm: float) -> Block:
    """A device with the connectors above and below it, joined by leads."""
    marks: list[Mark] = []
    end_mm, reach_mm, anchor_mm = 0.0, 0.0, 0.0
    rows: tuple[str, ...] = ()
    role = ""
    for piece in pieces:
        symbol = _symbol(network, piece, module_mm)
        start_mm = end_mm
        if marks:
            start_mm = max(end_mm + 0.8 * module_mm, reach_mm + _STACK_AIR_MM - symbol.box.y0)
            subject = piece.element.device.name if piece.element.device is not None else piece.element.name
            lead = ((0.0, end_mm), (0.0, start_mm))
            marks.append(Polyline(lead, 0.12 * module_mm, kind=MarkKind.LEAD, subject=subject))
        marks += [mark.shift(0.0, start_mm) for mark in symbol.marks]
        end_mm = symbol.bottom[1] + start_mm
        reach_mm = max(reach_mm, symbol.box.y1 + start_mm)
        if not rows or piece.element.device is not None:
            rows, anchor_mm, role = _rows(network, piece.element), start_mm, piece.element.kind.value
    return Block(tuple(marks), end_mm, box_of(tuple(marks)), role, anchor_mm, rows)


def _rows(network: Network, element: Element) -> tuple[str, ...]:
    """Names of the rows that an element would stand in, the most wanted first."""
    device = element.device
    if element.kind is ElementKind.MATING:
        return (f"disconnect {element.name.partition('/')[0]}",)
    if isinstance(device, Load):
        return (*(f"bank {bank.name}" for bank in network.design.banks.values() if device.name in bank.loads), "loads")
    if element.kind is ElementKind.COIL:
        return ("loads",)
    return (f"{element.kind.value} row",) if device is not None else ()


def _symbol(network: Network, piece: Piece, m: float) -> Symbol:
    element = piece.element
    device = element.device
    if device is None:
        return _connection(piece, m)
    name, lines = device.name, _lines(network, element, m)
    pins = tuple(network.electrical.nodes[node].terminal for node in (piece.upper, piece.lower))
    match element.kind:
        case ElementKind.FUSE:
            return symbols.fuse(0, 0, name, lines, m)
        case ElementKind.SWITCH:
            return symbols.switch(0, 0, name, lines, m)
        case ElementKind.COIL:
            return symbols.relay_coil(0, 0, name, lines, m, pins)
        case ElementKind.MAKE:
            return symbols.make_contact(0, 0, name, lines, m, pins)
        case ElementKind.BREAK:
            return _break_contact(name, lines, m, pins)
        case ElementKind.DRIVER:
            return _driver(name, lines, m)
    draw = {"coil": symbols.coil, "motor": symbols.motor, "lamp": symbols.lamp}
    return draw.get(_load_kind(network, device), symbols.resistor)(0, 0, name, lines, m)


def _load_kind(network: Network, device: Device) -> str:
    if not isinstance(device, Load):
        return ""
    family = network.parts.loads.get(device.part)
    return device.kind or (family.kind if family is not None else "resistor")


def _figure(network: Network, element: Element) -> str:
    """The main figure of a device; empty where it has none."""
    device = element.device
    match device:
        case Fuse():
            return f"{plain_number(device.rating_a.value)} A"
        case Driver() if device.current_a is not None:
            return f"{plain_number(device.current_a.value)} A max"
        case Relay() if element.kind is ElementKind.COIL:
            return f"{plain_number(network.parts.relays[device.part].coil_ohm.value)} ohm"
        case Load():
            family = network.parts.loads.get(device.part)
            own = device.resistance_ohm or (family.resistance_ohm if family is not None else None)
            if device.resistance_ohm is None and device.power_w is not None:
                return f"{plain_number(device.power_w.value)} W"
            return f"{plain_number(own.value)} ohm" if own is not None else ""
    return ""


def _lines(network: Network, element: Element, module_mm: float) -> tuple[str, ...]:
    """Figure and title of a device, the title wrapped to few short lines."""
    device = element.device
    title = wrapped(device.title, module_mm) if device is not None else ()
    return tuple(line for line in (_figure(network, element), *title) if line)


@cache
def wrapped(title: str, module_mm: float) -> tuple[str, ...]:
    """A title in at most three lines, as narrow as can be; what no width can hold ends in an ellipsis."""
    lines: tuple[str, ...] = ()
    for width in _WIDTHS:
        lines = wrap_text(title, width * module_mm, module_mm)
        if len(lines) <= _MOST_LINES:
            return lines
    rest = " ".join(lines[_MOST_LINES - 1 :])
    return (*lines[: _MOST_LINES - 1], fit_text(rest, _WIDTHS[-1] * module_mm, module_mm, module_mm)[0])


def _connection(piece: Piece, m: float) -> Symbol:
    """A connector as a break in the conductor; of a disconnect with the letters of its two halves, as they lie."""
    designator, _, cavity = piece.element.name.partition("/")
    symbol = symbols.connection_break(0, 0, designator, cavity, m)
    if piece.element.kind is not ElementKind.MATING:
        return symbol
    subject = piece.element.name
    size_mm = max(LEAST_TEXT_MM, 0.85 * m)
    letters = [node.partition("/")[0][-1] for node in (piece.upper, piece.lower)]
    words = tuple(
        Text(letter, -1.1 * m, down * m, size_mm, "end", subject=subject)
        for letter, down in zip(letters, (0.2, 1.75), strict=True)
    )
    marks = (*symbol.marks, *words)
    return Symbol(marks, symbol.terminals, box_of(marks), symbol.body)


def _break_contact(name: str, lines: Sequence[str], m: float, pins: Sequence[str]) -> Symbol:
    """A relay contact that opens when the coil is on: the lever rests against the fixed contact."""
    symbol = symbols.make_contact(0, 0, name, lines, m, pins)
    lever = Polyline(((0.0, 4 * m), (-0.75 * m, 1.8 * m)), 0.16 * m, kind=MarkKind.SYMBOL, subject=name)
    stop = Polyline(((0.0, 2 * m), (-0.9 * m, 2 * m)), 0.16 * m, kind=MarkKind.SYMBOL, subject=name)
    kept = tuple(mark for mark in symbol.marks if mark.kind is not MarkKind.SYMBOL)
    marks = (*kept, stop, lever)
    body = box_of(tuple(mark for mark in marks if not isinstance(mark, Text)))
    return Symbol(marks, symbol.terminals, box_of(marks), body)


def _driver(name: str, lines: Sequence[str], m: float) -> Symbol:
    """A low-side output: an open contact on the panel that stands for the controller."""
    inner = symbols.make_contact(0, 0, name, lines, m)
    box = inner.box.inflate(0.6 * m)
    area = Box(box.x0, min(box.y0, 0.4 * m), box.x1, max(box.y1, 5.6 * m))
    below_mm = max(6 * m, area.y1 + 0.4 * m)
    above_mm = min(0.0, area.y0 - 0.4 * m)
    leads = [
        Polyline(((0.0, start), (0.0, end)), 0.12 * m, kind=MarkKind.LEAD, subject=name)
        for start, end in ((above_mm, 0.0), (6 * m, below_mm))
        if end > start
    ]
    panel = Rectangle(area, 0.14 * m, fill=symbols.PANEL_FILL, kind=MarkKind.PANEL, subject=name)
    marks = tuple(mark.shift(0.0, -above_mm) for mark in (panel, *inner.marks, *leads))
    ends = (("top", (0.0, 0.0)), ("bottom", (0.0, below_mm - above_mm)))
    return Symbol(marks, ends, box_of(marks), box_of(tuple(mark for mark in marks if not isinstance(mark, Text))))


def _ground(network: Network, name: str, module_mm: float) -> Block:
    title = wrapped(network.design.devices[name].title, module_mm)
    symbol = symbols.ground(0, 0, name, title, module_mm)
    return Block(symbol.marks, symbol.box.y1, symbol.box, "ground", rows=("grounds",))


def _named_end(network: Network, name: str, module_mm: float, *, is_upper: bool) -> Block:
    """A terminal drawn at the end where its own symbol cannot stand: a small ring with its name."""
    m = module_mm
    from harnessgen.sheets.marks import Circle

    level = 0.5 * m
    ring = Circle(0.0, level, 0.5 * m, 0.16 * m, kind=MarkKind.SYMBOL, subject=name)
    words = Text(name, 1.1 * m, level + 0.36 * m, 1.1 * m, bold=True, subject=name)
    marks = (ring, words)
    return Block(marks, m, box_of(marks), "end")


def _reference(reference: Reference, module_mm: float, *, is_upper: bool) -> Block:
    """A flag at an end that goes on elsewhere, pointing along the current, with the number of the sheet beside it."""
    m = module_mm
    points = ((-0.8 * m, 0.0), (0.8 * m, 0.0), (0.8 * m, 1.4 * m), (0.0, 2.2 * m), (-0.8 * m, 1.4 * m))
    subject = f"sheet {reference.sheet}"
    flag = Polygon(points, 0.16 * m, kind=MarkKind.SYMBOL, subject=subject)
    towards = "from" if is_upper else "to"
    lines = [f"{towards} sheet {reference.sheet}", *wrapped(drawn_text(reference.named), module_mm)]
    words = tuple(
        Text(line, 1.4 * m, (1.1 + 0.36 + 1.5 * (index - (len(lines) - 1) / 2)) * m, m, bold=index == 0, subject=subject)
        for index, line in enumerate(lines)
    )
    marks = (flag, *words)
    return Block(marks, 2.2 * m, box_of(marks), "reference")
