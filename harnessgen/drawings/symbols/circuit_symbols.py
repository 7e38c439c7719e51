"""Circuit symbols in the forms of IEC 60617, upright: current enters at the top and leaves at the bottom.

Each function takes the place of the top terminal (x, y), the designator and further lines of text, and returns the
marks, the places of the terminals and the boxes. All sizes are multiples of the module, 2.5 mm unless told otherwise,
so that terminals fall on a raster. Proportions are drawn from the general forms of the standard (from memory); the
connector as two arcs follows common practice of service manuals (common practice, no source).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import cos, hypot, pi

from harnessgen.sheets.box import Box, Point
from harnessgen.sheets.insulation_colours import WHITE
from harnessgen.sheets.lettering import text_width_mm
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Arc, Circle, Mark, Polygon, Polyline, Rectangle, TextMark, box_of

MODULE_MM = 2.5
PANEL_FILL = (243, 243, 243)
_NAME_SHARE = 1.1
_LINE_PITCH = 1.5
_THIN, _BOLD = 0.12, 0.16
"""Widths of leads and of bodies in modules."""


@dataclass(frozen=True, slots=True)
class Symbol:
    """A placed symbol: marks, named terminals, the box of everything and the box of what is not text (millimetres)."""

    marks: tuple[Mark, ...]
    terminals: tuple[tuple[str, Point], ...]
    box: Box
    body: Box

    def terminal(self, name: str) -> Point:
        """Place of the terminal called `name`.

        Raises:
            KeyError: the symbol has no such terminal.
        """
        for known, place in self.terminals:
            if known == name:
                return place
        raise KeyError(name)

    @property
    def top(self) -> Point:
        """The terminal where current enters."""
        return self.terminals[0][1]

    @property
    def bottom(self) -> Point:
        """The terminal where current leaves; of a symbol with one terminal, that one."""
        return self.terminals[-1][1]


def _symbol(marks: Sequence[Mark], **terminals: Point) -> Symbol:
    body = tuple(mark for mark in marks if not isinstance(mark, TextMark))
    return Symbol(tuple(marks), tuple(terminals.items()), box_of(tuple(marks)), box_of(body))


@dataclass(frozen=True, slots=True)
class _Pen:
    """Draws in modules around the top terminal (x, y) of one symbol, so that each form reads as on squared paper."""

    x: float
    y: float
    name: str
    module_mm: float

    def at(self, across: float, down: float) -> Point:
        return self.x + across * self.module_mm, self.y + down * self.module_mm

    def lead(self, *places: tuple[float, float]) -> Polyline:
        points = tuple(self.at(*place) for place in places)
        return Polyline(points, _THIN * self.module_mm, kind=MarkKind.LEAD, subject=self.name)

    def line(self, *places: tuple[float, float]) -> Polyline:
        points = tuple(self.at(*place) for place in places)
        return Polyline(points, _BOLD * self.module_mm, kind=MarkKind.SYMBOL, subject=self.name)

    def ring(self, down: float, radius: float) -> Circle:
        centre = self.at(0, down)
        width_mm = _BOLD * self.module_mm
        return Circle(*centre, radius * self.module_mm, width_mm, kind=MarkKind.SYMBOL, subject=self.name)

    def block(self, left: float, upper: float, right: float, lower: float) -> Rectangle:
        area = Box(*self.at(left, upper), *self.at(right, lower))
        return Rectangle(area, _BOLD * self.module_mm, fill=WHITE, kind=MarkKind.SYMBOL, subject=self.name)

    def text(self, words: str, across: float, down: float, *, bold: bool = False, end: bool = False) -> TextMark:
        size_mm = self.module_mm * (_NAME_SHARE if bold else 1.0)
        return TextMark(words, *self.at(across, down), size_mm, "end" if end else "start", bold, subject=self.name)

    def words(self, lines: Sequence[str], across: float, middle: float) -> list[Mark]:
        """The name in bold and `lines` under it, the block centred on `middle`; empty lines are left out."""
        shown = [words for words in (self.name, *lines) if words]
        first = middle - (len(shown) - 1) / 2 * _LINE_PITCH + 0.36
        return [
            self.text(words, across, first + index * _LINE_PITCH, bold=index == 0) for index, words in enumerate(shown)
        ]


def fuse(x: float, y: float, name: str, lines: Sequence[str] = (), module_mm: float = MODULE_MM) -> Symbol:
    """A fuse: a block with the conductor running through it."""
    pen = _Pen(x, y, name, module_mm)
    block = [pen.block(-0.9, 1, 0.9, 5), pen.line((0, 1), (0, 5))]
    marks = [pen.lead((0, 0), (0, 1)), *block, pen.lead((0, 5), (0, 6)), *pen.words(lines, 1.7, 3)]
    return _symbol(marks, top=pen.at(0, 0), bottom=pen.at(0, 6))


def resistor(x: float, y: float, name: str, lines: Sequence[str] = (), module_mm: float = MODULE_MM) -> Symbol:
    """A resistor or a load that is one: an empty block."""
    pen = _Pen(x, y, name, module_mm)
    marks = [pen.lead((0, 0), (0, 1)), pen.block(-0.8, 1, 0.8, 5), pen.lead((0, 5), (0, 6)), *pen.words(lines, 1.7, 3)]
    return _symbol(marks, top=pen.at(0, 0), bottom=pen.at(0, 6))


def sensor(x: float, y: float, name: str, lines: Sequence[str] = (), module_mm: float = MODULE_MM) -> Symbol:
    """A sensor of two terminals: a resistor whose value changes by itself, so with a slanted stroke that has a foot."""
    pen = _Pen(x, y, name, module_mm)
    marks = [pen.lead((0, 0), (0, 1)), pen.block(-0.8, 1, 0.8, 5), pen.lead((0, 5), (0, 6))]
    stroke = pen.line((-2.2, 4.2), (-1.4, 4.2), (1.3, 1.8))
    return _symbol([*marks, stroke, *pen.words(lines, 1.7, 3)], top=pen.at(0, 0), bottom=pen.at(0, 6))


def coil(x: float, y: float, name: str, lines: Sequence[str] = (), module_mm: float = MODULE_MM) -> Symbol:
    """An inductive load: four half turns one under the other, open to the left."""
    pen = _Pen(x, y, name, module_mm)
    width_mm = _BOLD * module_mm
    turns = [
        Arc(*pen.at(0, 1.5 + turn), module_mm / 2, -90, 180, width_mm, kind=MarkKind.SYMBOL, subject=name)
        for turn in range(4)
    ]
    marks = [pen.lead((0, 0), (0, 1)), *turns, pen.lead((0, 5), (0, 6)), *pen.words(lines, 1.7, 3)]
    return _symbol(marks, top=pen.at(0, 0), bottom=pen.at(0, 6))


def motor(x: float, y: float, name: str, lines: Sequence[str] = (), module_mm: float = MODULE_MM) -> Symbol:
    """A motor: a circle with M."""
    pen = _Pen(x, y, name, module_mm)
    letter = TextMark("M", *pen.at(0, 3.5), 1.4 * module_mm, "middle", bold=True, subject=name)
    marks = [pen.lead((0, 0), (0, 1)), pen.ring(3, 2), letter, pen.lead((0, 5), (0, 6)), *pen.words(lines, 2.7, 3)]
    return _symbol(marks, top=pen.at(0, 0), bottom=pen.at(0, 6))


def lamp(x: float, y: float, name: str, lines: Sequence[str] = (), module_mm: float = MODULE_MM) -> Symbol:
    """A lamp: a circle with a diagonal cross."""
    pen = _Pen(x, y, name, module_mm)
    reach = 1.6 * cos(pi / 4)
    cross = [
        pen.line((-reach, 3 - reach), (reach, 3 + reach)),
        pen.line((-reach, 3 + reach), (reach, 3 - reach)),
    ]
    leads = [pen.lead((0, 0), (0, 1.4)), pen.lead((0, 4.6), (0, 6))]
    return _symbol([*leads, pen.ring(3, 1.6), *cross, *pen.words(lines, 2.3, 3)], top=pen.at(0, 0), bottom=pen.at(0, 6))


def diode(
    x: float, y: float, name: str, lines: Sequence[str] = (), module_mm: float = MODULE_MM, *, upwards: bool = False
) -> Symbol:
    """A diode that conducts from top to bottom, or from bottom to top where `upwards` (a coil's suppression diode)."""
    pen = _Pen(x, y, name, module_mm)
    tip, back = (2.1, 3.9) if upwards else (3.9, 2.1)
    corners = (pen.at(-1, back), pen.at(1, back), pen.at(0, tip))
    width_mm = _BOLD * module_mm
    body = Polygon(corners, width_mm, fill=WHITE, kind=MarkKind.SYMBOL, subject=name)
    through = pen.line((0, 2.1), (0, 3.9))
    marks = [pen.lead((0, 0), (0, 6)), body, through, pen.line((-1, tip), (1, tip)), *pen.words(lines, 1.7, 3)]
    return _symbol(marks, top=pen.at(0, 0), bottom=pen.at(0, 6))


def _open_contact(pen: _Pen) -> list[Mark]:
    """A fixed contact above and a lever from below that leans left and does not reach it, 6 modules high."""
    return [pen.lead((0, 0), (0, 2)), pen.line((0, 4), (-1.1, 1.9)), pen.lead((0, 4), (0, 6))]


def switch(
    x: float, y: float, name: str, lines: Sequence[str] = (), module_mm: float = MODULE_MM, acts_on: str = "hand"
) -> Symbol:
    """A switch, drawn open: contact, lever, and the dashed link to what works it.

    `acts_on` is `hand` (a handle), `position` (a triangle on the lever, as of a door switch), `temperature` or
    `pressure` (a box with its letter), `level` (a float), or `signal` (nothing that could be seen moving, so the
    contact alone).
    """
    pen = _Pen(x, y, name, module_mm)
    marks = [*_open_contact(pen), *_ACTUATORS[acts_on](pen), *pen.words(lines, 1.0, 3)]
    return _symbol(marks, top=pen.at(0, 0), bottom=pen.at(0, 6))


def _link(pen: _Pen) -> Polyline:
    """The dashed link from a lever to what moves it."""
    m = pen.module_mm
    ends = (pen.at(-2.4, 3), pen.at(-0.55, 3))
    return Polyline(ends, _THIN * m, dash_mm=(0.3 * m, 0.2 * m), kind=MarkKind.SYMBOL, subject=pen.name)


def _handle(pen: _Pen) -> list[Mark]:
    return [_link(pen), pen.line((-2.4, 2.4), (-2.4, 3.6))]


def _position(pen: _Pen) -> list[Mark]:
    """A triangle whose long side is the lever: the part that what moves runs against."""
    start, end, reach = (-0.28, 3.47), (-0.88, 2.32), 0.95
    along = (end[0] - start[0], end[1] - start[1])
    share = reach / hypot(*along)
    corner = (end[0] + along[1] * share, end[1] - along[0] * share)
    return [pen.line(start, corner, end)]


def _lettered(letter: str) -> Callable[[_Pen], list[Mark]]:
    """A box with the letter of the quantity that works a contact."""

    def drawn(pen: _Pen) -> list[Mark]:
        words = TextMark(letter, *pen.at(-3.3, 3.36), pen.module_mm, "middle", subject=pen.name)
        return [pen.line((-2.4, 2.1), (-2.4, 3.9), (-4.2, 3.9), (-4.2, 2.1), (-2.4, 2.1)), _link(pen), words]

    return drawn


def _float(pen: _Pen) -> list[Mark]:
    """A ball at the end of its arm, half under the surface."""
    ball = Circle(
        *pen.at(-3.1, 3), 0.7 * pen.module_mm, _BOLD * pen.module_mm, fill=WHITE, kind=MarkKind.SYMBOL, subject=pen.name
    )
    return [_link(pen), ball, pen.line((-4.6, 3), (-3.8, 3)), pen.line((-3.8, 3), (-2.4, 3))]


_ACTUATORS: dict[str, Callable[[_Pen], list[Mark]]] = {
    "hand": _handle,
    "position": _position,
    "temperature": _lettered("\u03b8"),
    "pressure": _lettered("p"),
    "level": _float,
    "signal": lambda pen: [],
}


def make_contact(
    x: float, y: float, name: str, lines: Sequence[str] = (), module_mm: float = MODULE_MM, pins: Sequence[str] = ()
) -> Symbol:
    """A relay contact that closes when the coil is on; `pins` are the numbers at top and bottom, or none."""
    pen = _Pen(x, y, name, module_mm)
    numbers: list[Mark] = [pen.text(pin, 0.5, down) for pin, down in zip(pins, (1.15, 5.7), strict=False)]
    marks = [*_open_contact(pen), *numbers, *pen.words(lines, 2.4 if pins else 1.0, 3)]
    return _symbol(marks, top=pen.at(0, 0), bottom=pen.at(0, 6))


def relay_coil(
    x: float, y: float, name: str, lines: Sequence[str] = (), module_mm: float = MODULE_MM, pins: Sequence[str] = ()
) -> Symbol:
    """The coil of a relay: a wide block; `pins` are the numbers at top and bottom, or none."""
    pen = _Pen(x, y, name, module_mm)
    numbers = [pen.text(pin, 0.5, down) for pin, down in zip(pins, (1.15, 5.7), strict=False)]
    marks = [pen.lead((0, 0), (0, 2)), pen.block(-2, 2, 2, 4), pen.lead((0, 4), (0, 6)), *numbers]
    return _symbol([*marks, *pen.words(lines, 2.7, 3)], top=pen.at(0, 0), bottom=pen.at(0, 6))


def ground(x: float, y: float, name: str, lines: Sequence[str] = (), module_mm: float = MODULE_MM) -> Symbol:
    """A ground: three bars, each shorter than the one above; its only terminal is the top."""
    pen = _Pen(x, y, name, module_mm)
    bars = [pen.line((-half, 1.5 + step), (half, 1.5 + step)) for half, step in ((1.6, 0), (1.0, 0.6), (0.4, 1.2))]
    return _symbol([pen.lead((0, 0), (0, 1.5)), *bars, *pen.words(lines, 2.4, 2.1)], top=pen.at(0, 0))


def connection_break(x: float, y: float, designator: str, cavity: str, module_mm: float = MODULE_MM) -> Symbol:
    """A connector in a conductor: two nested arcs, with designator (bold) and cavity beside them."""
    subject = f"{designator}/{cavity}"
    pen = _Pen(x, y, subject, module_mm)
    arcs = [
        Arc(
            *pen.at(0, down),
            0.68 * module_mm,
            180,
            180,
            _BOLD * module_mm,
            kind=MarkKind.CONNECTION_BREAK,
            subject=subject,
        )
        for down in (0.68, 1.28)
    ]
    name_mm = text_width_mm(designator, module_mm, bold=True) + 0.35 * module_mm
    names = [
        TextMark(designator, *pen.at(1.3, 1.3), module_mm, bold=True, subject=subject),
        TextMark(cavity, x + 1.3 * module_mm + name_mm, pen.at(0, 1.3)[1], module_mm, subject=subject),
    ]
    return _symbol([*arcs, *names], top=pen.at(0, 0), bottom=pen.at(0, 0.6))


def splice_dot(
    x: float, y: float, name: str, module_mm: float = MODULE_MM, *, side: str = "right", lower: bool = False
) -> Symbol:
    """A splice: a dot at (x, y) with its designator in the quarter above (or, `lower`, below) on the `side` named.

    `side` is `right` or `left`; the text keeps clear of conductors that leave the dot level or upright.
    """
    pen = _Pen(x, y, name, module_mm)
    dot = Circle(x, y, 0.4 * module_mm, 0, fill=(0, 0, 0), kind=MarkKind.SPLICE, subject=name)
    across = -0.6 if side == "left" else 0.6
    words = pen.text(name, across, 1.35 if lower else -0.75, bold=True, end=side == "left")
    return _symbol([dot, words], top=(x, y))
