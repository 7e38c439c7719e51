"""The symbol of each element of a circuit with its designator, main figure and title."""

from collections.abc import Sequence
from functools import cache

from harnessgen.design.records.device import SIGNAL, Device, Driver, Fuse, Load, Relay, Switch
from harnessgen.drawings.circuit.elements.graph import StrandPiece
from harnessgen.drawings.circuit.elements.readings import Readings, volt_words
from harnessgen.drawings.circuit.elements.suppression import clamp_marks, with_suppression
from harnessgen.drawings.symbols import circuit_symbols as symbols
from harnessgen.drawings.symbols.circuit_symbols import Symbol
from harnessgen.measures.quantity import plain_number
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.sheets.box import Box
from harnessgen.sheets.lettering import fit_text, text_width_mm, wrap_text
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polyline, Rectangle, TextMark, box_of

_WIDTHS = (6.8, 8.6, 11.0, 14.0, 18.0)
"""Widths in modules that a title is wrapped to: the narrowest that needs no more lines than allowed."""
_MOST_LINES = 2
"""Lines of a title; with name and figure the text is no higher than its symbol."""
_HALF_TEXT_MM = 2.0
_RELAY_PINS = {ElementKind.COIL: ("86", "85"), ElementKind.MAKE: ("30", "87"), ElementKind.BREAK: ("30", "87a")}
"""Terminals by DIN 72552 at the two nodes of each element of a relay."""
_PIN_GAP = 0.4
_BESIDE_RELAY, _BESIDE_MOTOR, _BESIDE_COIL, _BESIDE_CONTACT = 3.6, 3.6, 2.4, 2.6
"""How far left of its coil, or of a driver's contact, stands what takes the current over, in modules."""


def piece_symbol(
    network: Network, piece: StrandPiece, module_mm: float, readings: Readings | None = None, reference: str = ""
) -> Symbol:
    """The symbol of a piece that is no wire, with its upper end at (0, 0).

    It has its volts if there are `readings`, and below its title the words of a `reference` to another part of it.
    """
    element, m = piece.element, module_mm
    device = element.device
    if device is None:
        return _connection(piece, m)
    name, lines = device.name, (*_lines(network, element, m, readings), *((reference,) if reference else ()))
    pins = _RELAY_PINS.get(element.kind, ())[:: 1 if piece.upper == element.a else -1]
    match element.kind:
        case ElementKind.FUSE:
            return symbols.fuse(0, 0, name, lines, m)
        case ElementKind.SWITCH:
            acts_on = device.acts_on if isinstance(device, Switch) else "hand"
            return symbols.switch(0, 0, name, lines, m, acts_on)
        case ElementKind.COIL:
            coil = _clear_of_pins(symbols.relay_coil(0, 0, name, lines, m, pins), pins, m)
            return with_suppression(network, piece, coil, _BESIDE_RELAY, m)
        case ElementKind.MAKE:
            return _clear_of_pins(symbols.make_contact(0, 0, name, lines, m, pins), pins, m)
        case ElementKind.BREAK:
            return _break_contact(name, lines, m, pins)
        case ElementKind.DRIVER:
            return _driver(name, lines, m, is_clamped=isinstance(device, Driver) and device.clamp_v is not None)
    draw = {"coil": symbols.coil, "motor": symbols.motor, "lamp": symbols.lamp, "sensor": symbols.sensor}
    symbol = draw.get(_load_kind(network, device), symbols.resistor)(0, 0, name, lines, m)
    return with_suppression(network, piece, symbol, _BESIDE_MOTOR if symbol.body.x0 < -1.5 * m else _BESIDE_COIL, m)


def _load_kind(network: Network, device: Device) -> str:
    if not isinstance(device, Load):
        return ""
    family = network.parts.loads.get(device.part)
    return device.kind or (family.kind if family is not None else "resistor")


def figure_text(network: Network, element: Element) -> str:
    """The main figure of a device as it is printed; empty where it has none."""
    device = element.device
    match device:
        case Fuse():
            return f"{plain_number(device.rating_a.value)} A"
        case Driver() if device.current_a is not None:
            return f"{plain_number(device.current_a.value)} A max"
        case Relay() if element.kind is ElementKind.COIL:
            return _ohm_text(network.parts.relays[device.part].coil_ohm.value)
        case Load():
            family = network.parts.loads.get(device.part)
            own = device.resistance_ohm or (family.resistance_ohm if family is not None else None)
            if device.resistance_ohm is None and device.power_w is not None:
                return f"{plain_number(device.power_w.value)} W"
            return _ohm_text(own.value) if own is not None else ""
    return ""


def _ohm_text(ohm: float) -> str:
    return f"{plain_number(ohm / 1000)} kohm" if ohm >= 1000 else f"{plain_number(ohm)} ohm"


def _lines(network: Network, element: Element, module_mm: float, readings: Readings | None) -> tuple[str, ...]:
    """Figure, reading and title of a device, the title wrapped to few short lines."""
    device = element.device
    if device is None:
        return ()
    title = wrapped(device.title, module_mm)
    if device.name in network.design.vehicle.fuses or device.name in network.design.vehicle.relays:
        title = ("vehicle's own", *title)
    if isinstance(device, Driver) and device.clamp_v is not None:
        title = (f"clamp {plain_number(device.clamp_v.value)} V", *title)
    if isinstance(device, Load) and SIGNAL in device.terminals:
        # One that cannot be drawn as one symbol is two resistances in series; its title stands at the first of them.
        is_second = element.name.endswith(f" {SIGNAL}")
        title = (f"{SIGNAL} to 2",) if is_second else (f"1 to {SIGNAL}", *wrapped(device.title, module_mm, 1))
    works = element.kind.does_work and not element.name.endswith(f" {SIGNAL}")
    reading = volt_words(readings, device.name) if works else ""
    return tuple(line for line in (figure_text(network, element), reading, *title) if line)


@cache
def wrapped(title: str, module_mm: float, most: int = _MOST_LINES) -> tuple[str, ...]:
    """A title in at most `most` lines, as narrow as can be; what no width can hold ends in an ellipsis."""
    lines: tuple[str, ...] = ()
    for width in _WIDTHS:
        lines = wrap_text(title, width * module_mm, module_mm)
        if len(lines) <= most:
            return lines
    rest = " ".join(lines[most - 1 :])
    return (*lines[: most - 1], fit_text(rest, _WIDTHS[-1] * module_mm, module_mm, module_mm)[0])


def joined_names(
    name: str, lines: Sequence[str], x: float, y: float, module_mm: float, subject: str
) -> tuple[TextMark, ...]:
    """A name in bold and after it, on the same line, further words."""
    size_mm = 1.1 * module_mm
    after = x + text_width_mm(name, size_mm, bold=True) + 0.6 * module_mm
    words = " ".join(lines)
    first = TextMark(name, x, y, size_mm, bold=True, subject=subject)
    return (first, TextMark(words, after, y, module_mm, subject=subject)) if words else (first,)


def _connection(piece: StrandPiece, m: float) -> Symbol:
    """A connector as a break in the conductor; of a disconnect with the letters of its two halves, as they lie."""
    designator, _, cavity = piece.element.name.partition("/")
    symbol = symbols.connection_break(0, 0, designator, cavity, m)
    if piece.element.kind is not ElementKind.MATING:
        return symbol
    size_mm = max(_HALF_TEXT_MM, 0.85 * m)
    letters = [node.partition("/")[0][-1] for node in (piece.upper, piece.lower)]
    words = tuple(
        TextMark(letter, -1.1 * m, down * m, size_mm, "end", subject=piece.element.name)
        for letter, down in zip(letters, (0.2, 1.75), strict=True)
    )
    return _with_marks(symbol, (*symbol.marks, *words))


def _with_marks(symbol: Symbol, marks: tuple[Mark, ...]) -> Symbol:
    body = box_of(tuple(mark for mark in marks if not isinstance(mark, TextMark)))
    return Symbol(marks, symbol.terminals, box_of(marks), body)


def _clear_of_pins(symbol: Symbol, pins: Sequence[str], m: float) -> Symbol:
    """The symbol with its name and lines moved right where a pin number would reach into them."""
    texts = [mark for mark in symbol.marks if isinstance(mark, TextMark)]
    numbers, words = texts[: len(pins)], texts[len(pins) :]
    if [text.text for text in numbers] != list(pins) or not words:
        return symbol
    by_mm = max(text.box.x1 for text in numbers) + _PIN_GAP * m - words[0].x
    if by_mm <= 0:
        return symbol
    moved = {id(text): text.shift(by_mm, 0.0) for text in words}
    return _with_marks(symbol, tuple(moved.get(id(mark), mark) for mark in symbol.marks))


def _break_contact(name: str, lines: Sequence[str], m: float, pins: Sequence[str]) -> Symbol:
    """A relay contact that opens when the coil is on: the lever rests against the fixed contact."""
    symbol = _clear_of_pins(symbols.make_contact(0, 0, name, lines, m, pins), pins, m)
    lever = Polyline(((0.0, 4 * m), (-0.75 * m, 1.8 * m)), 0.16 * m, kind=MarkKind.SYMBOL, subject=name)
    stop = Polyline(((0.0, 2 * m), (-0.9 * m, 2 * m)), 0.16 * m, kind=MarkKind.SYMBOL, subject=name)
    kept = tuple(mark for mark in symbol.marks if mark.kind is not MarkKind.SYMBOL)
    return _with_marks(symbol, (*kept, stop, lever))


def _driver(name: str, lines: Sequence[str], m: float, *, is_clamped: bool) -> Symbol:
    """A low-side output: an open contact on the panel that stands for the controller, with the clamp that it names."""
    inner = symbols.make_contact(0, 0, name, lines, m)
    if is_clamped:
        inner = _with_marks(inner, (*inner.marks, *clamp_marks(-_BESIDE_CONTACT * m, m, name)))
    box = inner.box.inflate(0.6 * m)
    area = Box(box.x0, min(box.y0, 0.4 * m), box.x1, max(box.y1, 5.6 * m))
    above_mm, below_mm = min(0.0, area.y0 - 0.4 * m), max(6 * m, area.y1 + 0.4 * m)
    leads = [
        Polyline(((0.0, start), (0.0, end)), 0.12 * m, kind=MarkKind.LEAD, subject=name)
        for start, end in ((above_mm, 0.0), (6 * m, below_mm))
        if end > start
    ]
    panel = Rectangle(area, 0.14 * m, fill=symbols.PANEL_FILL, kind=MarkKind.PANEL, subject=name)
    marks = tuple(mark.shift(0.0, -above_mm) for mark in (panel, *inner.marks, *leads))
    ends = (("top", (0.0, 0.0)), ("bottom", (0.0, below_mm - above_mm)))
    return Symbol(marks, ends, box_of(marks), box_of(tuple(mark for mark in marks if not isinstance(mark, TextMark))))
