"""What takes the current of a coil over when it is switched off, drawn where it sits: across the coil, or in a driver.

The forms are those of IEC 60617: a diode with its bar at the cathode, a resistor as an empty block, a breakdown diode
with a bar bent at one end.
"""

from harnessgen.design.records.device import Load, Relay
from harnessgen.drawings.circuit.elements.graph import StrandPiece
from harnessgen.drawings.symbols.circuit_symbols import Symbol
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network
from harnessgen.parts.suppression import RESISTOR_OHM
from harnessgen.physics.loads.model import cathode_is_at_a, suppression_of
from harnessgen.sheets.box import Box
from harnessgen.sheets.insulation_colours import BLACK, WHITE
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Circle, Mark, Polygon, Polyline, Rectangle, TextMark, box_of

_UPPER, _LOWER = 0.45, 5.55
"""Where the branch leaves the leads of a coil that is 6 modules high."""
_LEAST_TEXT_MM = 2.0


def with_suppression(network: Network, piece: StrandPiece, symbol: Symbol, beside: float, m: float) -> Symbol:
    """The symbol of a coil with what sits across it, `beside` modules to its left; unchanged where that is nothing.

    The bar of a diode is at the terminal that the design names, be that the right one or not. `m` is the module in mm.
    """
    device = piece.element.device
    found = suppression_of(network, device) if isinstance(device, Load | Relay) else None
    if device is None or found is None or found.kind == "none":
        return symbol
    x, name = -beside * m, device.name
    if found.kind == "diode":
        is_above = cathode_is_at_a(device, found) == (piece.upper == piece.element.a)
        body = diode_marks(x, 3 * m, m, name, is_upwards=is_above)
    else:
        ohm = found.resistance_ohm.value if found.resistance_ohm is not None else RESISTOR_OHM
        body = _resistor_marks(x, m, name, f"{plain_number(ohm)} ohm")
    marks = (*symbol.marks, *_branch(x, m, name), *body)
    plain = box_of(tuple(mark for mark in marks if not isinstance(mark, TextMark)))
    return Symbol(marks, symbol.terminals, box_of(marks), plain)


def clamp_marks(x: float, m: float, name: str) -> tuple[Mark, ...]:
    """The clamp of a low-side output: a breakdown diode from output to ground, at `x` (mm) beside its contact."""
    bar = (x - m, 2.1 * m), (x + m, 2.1 * m)
    bent = Polyline((bar[1], (bar[1][0], 2.55 * m)), 0.16 * m, kind=MarkKind.SYMBOL, subject=name)
    return (*_branch(x, m, name), *diode_marks(x, 3 * m, m, name, is_upwards=True), bent)


def diode_marks(x: float, y: float, m: float, name: str, *, is_upwards: bool) -> tuple[Mark, ...]:
    """A diode around (`x`, `y`) (mm) without its leads; it conducts up the sheet where `is_upwards`, its bar on top."""
    tip, back = (y - 0.9 * m, y + 0.9 * m) if is_upwards else (y + 0.9 * m, y - 0.9 * m)
    corners = ((x - m, back), (x + m, back), (x, tip))
    body = Polygon(corners, 0.16 * m, fill=WHITE, kind=MarkKind.SYMBOL, subject=name)
    strokes = (((x, y - 0.9 * m), (x, y + 0.9 * m)), ((x - m, tip), (x + m, tip)))
    lines = (Polyline(points, 0.16 * m, kind=MarkKind.SYMBOL, subject=name) for points in strokes)
    return (body, *lines)


def _resistor_marks(x: float, m: float, name: str, figure: str) -> tuple[Mark, ...]:
    area = Box(x - 0.6 * m, 1.5 * m, x + 0.6 * m, 4.5 * m)
    block = Rectangle(area, 0.16 * m, fill=WHITE, kind=MarkKind.SYMBOL, subject=name)
    size_mm = max(_LEAST_TEXT_MM, 0.85 * m)
    return block, TextMark(figure, x - m, 3.3 * m, size_mm, "end", subject=name)


def _branch(x: float, m: float, name: str) -> tuple[Mark, ...]:
    """Leads from the conductor above the coil to the one below it, with a dot at each."""
    runs = (
        ((0.0, _UPPER * m), (x, _UPPER * m), (x, 2.1 * m)),
        ((x, 3.9 * m), (x, _LOWER * m), (0.0, _LOWER * m)),
    )
    leads = (Polyline(points, 0.12 * m, kind=MarkKind.LEAD, subject=name) for points in runs)
    dots = (Circle(0.0, at * m, 0.22 * m, 0, fill=BLACK, kind=MarkKind.SYMBOL, subject=name) for at in (_UPPER, _LOWER))
    return (*leads, *dots)
