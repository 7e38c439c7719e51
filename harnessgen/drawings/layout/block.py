"""Blocks of a layout drawing: what stands at an end of the route, or is collected elsewhere, as a size and marks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from harnessgen.drawings.layout.faces import ChartRow, chart_rows, face_data, landing_rows, served_by, splice_side_rows
from harnessgen.drawings.symbols.connector_face import face
from harnessgen.lengths.wire_length_terms import service_loops
from harnessgen.network.network import Network
from harnessgen.schedules.tables.length_text import length_words
from harnessgen.sheets.box import Box
from harnessgen.sheets.lettering import ASCENT_EM, fit_text, text_width_mm, wrap_text
from harnessgen.sheets.marks import Mark, TextMark, box_of
from harnessgen.sheets.table import table

TITLE_MM = 2.5
TEXT_MM = 2.2
_LEAST_MM = 2.0
_LINE = 1.3
"""Distance of lines of text, in their size."""
_AIR_MM = 1.4
"""Between title, face and chart."""
_CELL_MM = 34.0
"""Widest text of a chart's cell."""
_TITLE_WIDTH_MM = 44.0
_MOST_NAMES = 40
_MOST_ROWS = 12
_WIDEST_VIEW_MM, _HIGHEST_VIEW_MM = 380.0, 120.0


@lru_cache(maxsize=4096)
def width_mm(text: str, size_mm: float, bold: bool = False) -> float:
    """Width of a text, remembered, since the search for a scale asks for the same ones again and again."""
    return text_width_mm(text, size_mm, bold)


@dataclass(frozen=True, slots=True)
class Panel:
    """A rectangle of marks, its size in mm, and where in the marks' own places its upper left corner is.

    `held` are other panels in it, each with its place from that corner. Marks are moved only once, when all is placed.
    """

    marks: tuple[Mark, ...]
    width_mm: float
    height_mm: float
    x0: float = 0.0
    y0: float = 0.0
    held: tuple[tuple["Panel", float, float], ...] = ()

    def at(self, x: float, y: float) -> Iterator[Mark]:
        """The marks with the panel's upper left corner at (x, y)."""
        for mark in self.marks:
            yield mark.shift(x - self.x0, y - self.y0)
        for panel, across, down in self.held:
            yield from panel.at(x + across, y + down)


@dataclass(frozen=True, slots=True)
class LayoutBlock:
    """Panels that stand under one another, each centred; `titled` says that the first is a title and stays on top."""

    panels: tuple[Panel, ...]
    titled: bool = True

    @property
    def width_mm(self) -> float:
        """Width of the widest panel, mm."""
        return max(panel.width_mm for panel in self.panels)

    @property
    def height_mm(self) -> float:
        """Height of all panels with the air between them, mm."""
        return sum(panel.height_mm for panel in self.panels) + _AIR_MM * (len(self.panels) - 1)

    def marks(self, x: float, y: float, *, from_below: bool = False) -> tuple[Mark, ...]:
        """The marks with the block's upper left corner at (x, y); see `panel` for `from_below`."""
        return tuple(self.panel(from_below=from_below).at(x, y))

    def panel(self, *, from_below: bool = False) -> Panel:
        """The whole block as one panel.

        `from_below` turns the order under the title round, so that the face view is nearest to a leg that comes from
        below.
        """
        panels = self.panels
        if from_below and self.titled:
            panels = (panels[0], *panels[:0:-1])
        y = 0.0
        held = []
        for panel in panels:
            held.append((panel, (self.width_mm - panel.width_mm) / 2, y))
            y += panel.height_mm + _AIR_MM
        return Panel((), self.width_mm, self.height_mm, held=tuple(held))


def listed(names: Sequence[str]) -> str:
    """Names with commas; of very many only the first, and the number of the others."""
    if len(names) <= _MOST_NAMES:
        return ", ".join(names)
    return f"{', '.join(names[:_MOST_NAMES])} and {len(names) - _MOST_NAMES} more"


def words_panel(lines: Sequence[str], subject: str, most_mm: float = _TITLE_WIDTH_MM, bold_lines: int = 1) -> Panel:
    """Lines of text, the first `bold_lines` of them bold.

    Each is wrapped, and cut where a single word is too wide or the line takes more rows than any sheet has to spare.
    """
    marks: list[Mark] = []
    most_rows = min(_MOST_ROWS, max(2, 2 * _MOST_ROWS // max(1, len(lines))))
    y = 0.0
    for index, line in enumerate(lines):
        bold = index < bold_lines
        size_mm = TITLE_MM if bold else TEXT_MM
        rows = wrap_text(line, most_mm, size_mm, bold)
        if len(rows) > most_rows:
            rows = (*rows[: most_rows - 1], f"{rows[most_rows - 1]} …")
        for wrapped in rows:
            shown, fitted_mm = fit_text(wrapped, most_mm, size_mm, _LEAST_MM, bold)
            if shown:
                marks.append(
                    TextMark(shown, 0.0, y + ASCENT_EM * size_mm, fitted_mm, "middle", bold=bold, subject=subject)
                )
                y += _LINE * size_mm
    return _panel(marks)


def _panel(marks: Sequence[Mark]) -> Panel:
    return _panel_in(marks, box_of(tuple(marks)))


def _panel_in(marks: Sequence[Mark], box: Box) -> Panel:
    return Panel(tuple(marks), box.width_mm, box.height_mm, box.x0, box.y0)


def table_panels(head: Sequence[str], rows: Sequence[Sequence[str]], subject: str, most_rows: int) -> tuple[Panel, ...]:
    """A table in columns of at most `most_rows`; texts too wide for a cell are cut."""
    count = -(-len(rows) // most_rows)
    each = -(-len(rows) // max(1, count))
    panels = []
    for index in range(count):
        cells = [[_cell(text) for text in row] for row in rows[index * each : (index + 1) * each]]
        name = f"{subject} chart" + (f" {index + 1}" if index else "")
        drawn = table(0.0, 0.0, head, cells, name, TEXT_MM)
        panels.append(_panel_in(drawn.marks, drawn.box))
    return tuple(panels)


def _cell(text: str) -> str:
    return fit_text(text, _CELL_MM, TEXT_MM, TEXT_MM)[0]


def side_by_side(panels: Sequence[Panel], air_mm: float = 2.0) -> Panel:
    """Panels in one row, their upper edges level."""
    held = []
    x = 0.0
    for panel in panels:
        held.append((panel, x, 0.0))
        x += panel.width_mm + air_mm
    return Panel((), x - air_mm, max(panel.height_mm for panel in panels), held=tuple(held))


def _size_head(rows: Sequence[ChartRow]) -> tuple[str, list[ChartRow]]:
    """Head of the size column, and the rows with bare numbers where all sizes are of one system."""
    systems = {row[3].partition(" ")[2] for row in rows if row[3]}
    if len(systems) != 1:
        return "size", list(rows)
    return systems.pop(), [(*row[:3], row[3].partition(" ")[0]) for row in rows]


class Stock:
    """The faces, charts and end marks of a harness, each made once: they are tried at every place they may stand."""

    def __init__(self, network: Network) -> None:
        self.network = network
        self._faces: dict[str, LayoutBlock] = {}
        self._blocks: dict[tuple[str, int], LayoutBlock] = {}

    def connector(self, designator: str, most_rows: int) -> LayoutBlock:
        """A connector or half: title, face view on its wire side, and chart in columns of at most `most_rows`."""
        head, rows = _size_head(chart_rows(self.network, designator))
        most_rows = min(most_rows, max(1, len(rows)))
        known = self._blocks.get((designator, most_rows))
        if known is None:
            charts = table_panels(("cavity", "wire", "colour", head), rows, designator, most_rows)
            known = LayoutBlock((*self.face(designator).panels, side_by_side(charts)))
            self._blocks[designator, most_rows] = known
        return known

    def face(self, designator: str) -> LayoutBlock:
        """A connector or half without its chart; the title of the face view is set apart, over two lines."""
        known = self._faces.get(designator)
        if known is None:
            view, folds = self._view(designator)
            kind = ", ".join(face_data(self.network, designator).title.split(", ")[1:])
            folded = f", rows folded to {folds} each" if folds > 1 else ""
            lines = (connector_heading(self.network, designator), kind + folded, *self._spare(designator))
            title = words_panel(lines, designator, max(_TITLE_WIDTH_MM, view.width_mm))
            known = self._faces[designator] = LayoutBlock((title, view))
        return known

    def _spare(self, designator: str) -> Iterator[str]:
        """What its wires have to spare for crimping their terminals anew."""
        network, unit = self.network, self.network.design.units.length
        found = {
            service_loops(network, wire, end)
            for cavity in network.connector_part(designator).cavities
            for wire in network.wires_at.get(f"{designator}/{cavity}", ())
            for end in wire.ends
            if end.designator == designator
        }
        spare = sorted(count * each_mm for count, each_mm in found if count)
        if spare:
            low, high = length_words(spare[0], unit), length_words(spare[-1], unit)
            yield f"service loop in each wire: +{low}" + (f" to +{high}" if low != high else "")

    def _view(self, designator: str) -> tuple[Panel, int]:
        """The face view, its rows folded until it fits the widest sheet; and into how many each row is folded."""
        ways = len(self.network.connector_part(designator).cavities)
        for folds in range(1, ways + 1):
            data = face_data(self.network, designator, folds)
            drawn = face(data, 0.0, 0.0, TEXT_MM, codes=False)
            marks = [mark for mark in drawn.marks if not (isinstance(mark, TextMark) and mark.text == data.title)]
            view = _panel(marks)
            if view.width_mm <= _WIDEST_VIEW_MM:
                if view.height_mm <= _HIGHEST_VIEW_MM:
                    return view, folds
                break
        return words_panel(("no face view: it is larger than a sheet",), designator, bold_lines=0), 1

    def landing(self, devices: tuple[str, ...], node: str, heading: str, most_rows: int) -> LayoutBlock:
        """An end mark of devices that wires land on: the point's name and devices, the wires with their terminals."""
        head, rows = _size_head(landing_rows(self.network, devices, node))
        tables = table_panels(("at", "wire", "colour", head), rows, f"{node} devices", most_rows)
        titles = [heading]
        if len(devices) == 1 and self.network.design.devices[devices[0]].title:
            titles.append(self.network.design.devices[devices[0]].title)
        titles += [self._free_shield(name) for name in devices if name in self.network.design.cables]
        return LayoutBlock((words_panel(titles, node), side_by_side(tables)))

    def splices(self, names: Sequence[str], most_rows: int) -> LayoutBlock | None:
        """Which wires leave each splice towards which point of the route; None where there is no splice."""
        rows = splice_side_rows(self.network, names)
        if not rows:
            return None
        tables = table_panels(("splice", "towards", "wires"), rows, "splices", most_rows)
        return LayoutBlock((words_panel(("splices: the side of each wire",), "splices"), side_by_side(tables)))

    def _free_shield(self, cable: str) -> str:
        """What is done where the shield of a cable ends: it is grounded at its other end alone."""
        shield = self.network.design.cables[cable].shield
        if shield is None:
            return ""
        back = length_words(shield.cut_back_mm.value, self.network.design.units.length)
        return f"shield and drain end here, cut back {back}, insulated: joined to nothing"


def connector_heading(network: Network, designator: str) -> str:
    """Designator and what it plugs into: `C21 to INJ1`."""
    return f"{designator} {served_by(network, designator)}".strip()


def words_block(lines: Sequence[str], subject: str, bold_lines: int = 1) -> LayoutBlock:
    """A note at an end of the route."""
    return LayoutBlock((words_panel(lines, subject, bold_lines=bold_lines),))
