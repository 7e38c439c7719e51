"""The index of a circuit drawing of several sheets: what is on each sheet, and on which sheet and path each thing is.

A path is a tenth of the width of a sheet, numbered along its upper edge, since a circuit drawing is read in columns.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import hypot

from harnessgen.drawings.circuit.pages.references import in_short
from harnessgen.measures.designator import natural_key
from harnessgen.network.network import Network
from harnessgen.sheets.box import Box
from harnessgen.sheets.lettering import fit_text, text_width_mm, wrap_text
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polyline, TextMark
from harnessgen.sheets.sheet import PAPERS, Paper, usable_area

PATHS = 10
RULER_MM = 5.0
"""Height of the numbered paths along the upper edge."""
_TEXT_MM = 2.2
_ROW_MM = 3.7
_COLUMNS = 2
_GAP_MM = 6.0
_NAME_MM, _MOST_NAME_MM, _TITLE_MM = 15.0, 55.0, 48.0
_TOP_MM = 5.0
_BAR_MM = 15.0
"""What is wider is a bar that spans columns."""


@dataclass(frozen=True, slots=True)
class _Table:
    """A part of the index: its head, the widths (mm) of names and titles, and rows of name, title and the rest."""

    head: str
    name_mm: float
    title_mm: float
    rows: tuple[tuple[str, str, str], ...]


def ruler(area: Box) -> tuple[Mark, ...]:
    """The numbers of the paths along the upper edge of `area` (mm), with a tick between two."""
    step_mm = area.width_mm / PATHS
    ticks = (
        Polyline(((x, area.y0), (x, area.y0 + 2.6)), 0.25, kind=MarkKind.GAUGE, subject="paths")
        for x in (area.x0 + step_mm * number for number in range(1, PATHS))
    )
    numbers = (
        TextMark(
            str(number + 1), area.x0 + step_mm * (number + 0.5), area.y0 + 2.4, _TEXT_MM, "middle", subject="paths"
        )
        for number in range(PATHS)
    )
    return (*ticks, *numbers)


def path_of(area: Box, x: float) -> int:
    """Number of the path at `x` (mm) of a sheet."""
    return min(PATHS, max(1, 1 + int((x - area.x0) / area.width_mm * PATHS)))


def index_pages(
    network: Network, drawn: Sequence[tuple[Paper, Sequence[Mark]]], paper: Paper = PAPERS["A4 landscape"]
) -> list[tuple[Mark, ...]]:
    """The marks of the index on `paper`, page by page, read from the drawn sheets: papers and marks, in order."""
    contents = ((f"sheet {number}", "", _contents(network, marks)) for number, (_, marks) in enumerate(drawn, 1))
    places = sorted(_places(network, drawn).items(), key=lambda item: natural_key(item[0]))
    things = ((name, _title(network, name), ", ".join(found)) for name, found in places)
    area = usable_area(paper)
    column_mm = (area.width_mm - (_COLUMNS - 1) * _GAP_MM) / _COLUMNS - 1.0
    tables = (
        _table("what is on each sheet", list(contents), 0.0, column_mm),
        _table("on which sheet / path each thing is", list(things), _TITLE_MM, column_mm),
        _table("on which sheet / path each wire is", _wires(network, drawn), 0.0, column_mm),
    )
    pages: list[list[Mark]] = [[]]
    column, y = 0, area.y0 + _TOP_MM
    for table in tables:
        y += _ROW_MM if y > area.y0 + _TOP_MM else 0.0
        for number, row in enumerate(table.rows):
            has_head = number == 0
            if y + (3 if has_head else 0) * _ROW_MM > area.y1 - 1.0:
                column, y = column + 1, area.y0 + _TOP_MM
            if column == _COLUMNS:
                pages.append([])
                column = 0
            x = area.x0 + 1.0 + column * (column_mm + _GAP_MM)
            if has_head:
                pages[-1].append(TextMark(table.head, x, y, 1.2 * _TEXT_MM, bold=True))
                y += 1.6 * _ROW_MM
            pages[-1] += _written(table, row, x, y)
            y += _ROW_MM
    return [tuple(page) for page in pages]


def _table(head: str, entries: Sequence[tuple[str, str, str]], title_mm: float, column_mm: float) -> _Table:
    """Rows of entries, what follows the title wrapped; the names have as much room as the longest needs."""
    name_mm = max(text_width_mm(name, _TEXT_MM, bold=True) for name, _, _ in entries) + 3.0
    name_mm = min(_MOST_NAME_MM, max(_NAME_MM, name_mm))
    rest_mm = column_mm - name_mm - title_mm
    rows: list[tuple[str, str, str]] = []
    for name, title, rest in entries:
        first, *others = wrap_text(rest, rest_mm, _TEXT_MM) or ("",)
        rows += [(name, title, first), *((name, "", line) for line in others)]
    return _Table(head, name_mm, title_mm, tuple(rows))


def _written(table: _Table, row: tuple[str, str, str], x: float, y: float) -> Iterator[Mark]:
    name, title, rest = row
    shown, size_mm = fit_text(name, table.name_mm - 2.0, _TEXT_MM, 2.0, True)
    yield TextMark(shown, x, y, size_mm, bold=True, subject=name)
    if title:
        shown, size_mm = fit_text(title, table.title_mm - 2.0, _TEXT_MM, 2.0)
        yield TextMark(shown, x + table.name_mm, y, size_mm, subject=name)
    yield TextMark(rest, x + table.name_mm + table.title_mm, y, _TEXT_MM, subject=name)


def _places(network: Network, drawn: Sequence[tuple[Paper, Sequence[Mark]]]) -> Mapping[str, list[str]]:
    """Sheet and path of each name that stands on a drawing, in the order of the sheets."""
    design = network.design
    names = {*design.devices, *design.connectors, *design.disconnects, *design.splices, *design.cables}
    found: dict[str, dict[tuple[int, int], None]] = {}
    for number, (paper, marks) in enumerate(drawn, 1):
        area = usable_area(paper)
        signs = _signs(marks)
        for mark in marks:
            if isinstance(mark, TextMark) and mark.bold and mark.text in names:
                x = _beside(mark, signs.get(mark.subject, ()))
                found.setdefault(mark.text, {})[number, path_of(area, x)] = None
    return {name: [f"{number}/{path}" for number, path in sorted(held)] for name, held in found.items()}


def _signs(marks: Sequence[Mark]) -> Mapping[str, list[Box]]:
    """Boxes of what is drawn for each subject, words left out."""
    signs: dict[str, list[Box]] = {}
    for mark in marks:
        if not isinstance(mark, TextMark) and mark.subject:
            signs.setdefault(mark.subject, []).append(mark.box)
    return signs


def _beside(text: TextMark, signs: Sequence[Box]) -> float:
    """Where the thing stands that a name is printed beside, millimetres: on a long bar, right at the name."""
    x, y = text.box.x0, text.box.centre[1]
    if not signs:
        return x
    near = min(signs, key=lambda box: (hypot(_within(x, box) - x, min(max(y, box.y0), box.y1) - y), box.x0))
    return _within(x, near) if near.width_mm > _BAR_MM else near.centre[0]


def _within(x: float, box: Box) -> float:
    return min(max(x, box.x0), box.x1)


def _wires(network: Network, drawn: Sequence[tuple[Paper, Sequence[Mark]]]) -> list[tuple[str, str, str]]:
    """Circuits, and for each of their wires the sheet and path of the words on it, in the order of the marks."""
    circuits = {wire.mark: wire.circuit for wire in network.wires}
    circuits |= {wire.mark: wire.circuit.name for wire in network.given}
    found: dict[str, dict[tuple[int, int], None]] = {}
    for number, (paper, marks) in enumerate(drawn, 1):
        area = usable_area(paper)
        for mark in marks:
            if isinstance(mark, TextMark) and mark.subject in circuits and mark.text.startswith(f"{mark.subject} "):
                found.setdefault(mark.subject, {})[number, path_of(area, mark.box.centre[0])] = None
    rows: dict[str, list[str]] = {}
    for name in sorted(found, key=natural_key):
        places = ", ".join(f"{number}/{path}" for number, path in sorted(found[name]))
        rows.setdefault(circuits[name], []).append(f"{name} {places}")
    return [(f"circuit {circuit}", "", "; ".join(rows[circuit])) for circuit in sorted(rows, key=natural_key)]


def _title(network: Network, name: str) -> str:
    """What a thing is: its title, or what its designator stands for."""
    design = network.design
    if name in design.connectors:
        return design.connectors[name].mate or "connector"
    if name in design.disconnects:
        return design.disconnects[name].title or "disconnect"
    if name in design.cables:
        return design.cables[name].title or "cable"
    if name in design.splices:
        return "splice"
    return design.devices[name].title or design.devices[name].noun.partition(" ")[2]


def _contents(network: Network, marks: Sequence[Mark]) -> str:
    """Fuses, relays and loads of a sheet in one line."""
    design = network.design
    printed = {mark.text for mark in marks if isinstance(mark, TextMark) and mark.bold}
    groups = (design.supplies, design.fuses, design.relays, design.switches, design.drivers, design.loads)
    return "; ".join(in_short(held) for group in groups if (held := [name for name in group if name in printed]))
