"""The layout drawing: the route of each section as it lies on a board, and of the whole harness.

A stretch is drawn to the stated scale or with a marked break, and dimensioned once: nominal length with the tolerance
to build it to. Faces and cavity charts stand at the ends of the route where there is room, else under it or on a sheet
of their own.
"""

from dataclasses import dataclass, replace

from harnessgen.drawings.layout.block import Stock
from harnessgen.drawings.layout.charts import ChartSheet, chart_sheets, rows_marks
from harnessgen.drawings.layout.content import Content, SheetOf, Where, devices_name, labels_of, rows_of
from harnessgen.drawings.layout.fit import (
    FOOT_MM,
    KEY_MM,
    FittedBoard,
    below_blocks,
    drawing_area,
    fitted,
    rows_height_mm,
)
from harnessgen.drawings.layout.fixing_marks import key_marks
from harnessgen.drawings.layout.foot import foot_marks
from harnessgen.drawings.layout.marks import spine_marks
from harnessgen.drawings.layout.place import Placer
from harnessgen.drawings.layout.placed import PlacedSpine
from harnessgen.drawings.layout.spine import parted, trees_of
from harnessgen.drawings.layout.spine_axes import Frame
from harnessgen.drawings.layout.tree import Board, section_board, whole_board
from harnessgen.network.network import Network
from harnessgen.schedules.tables.length_text import in_inches
from harnessgen.sheets.box import Box
from harnessgen.sheets.marks import Mark
from harnessgen.sheets.sheet import STATIONERY, Paper, Sheet, usable_area
from harnessgen.sheets.title_block import TitleBlock

_SECTION = (Where.NEAR, Where.BELOW, Where.APART)
_WHOLE = (Where.ELSEWHERE,)


@dataclass(frozen=True, slots=True)
class _SectionPart:
    """What one section, or the whole harness, takes: its title, its number, its fitted boards, its sheets of charts."""

    title: str
    number: str
    boards: tuple[FittedBoard, ...]
    charts: tuple[ChartSheet, ...]
    is_whole: bool


def layout_sheets(
    network: Network, first_sheet: int = 1, papers: tuple[Paper, ...] = STATIONERY["a4"].drawings
) -> tuple[Sheet, ...]:
    """The layout drawing: the whole harness where it has several sections, then each section with its charts.

    Sheets are numbered from `first_sheet`; references between them use these numbers. A section that is too large for a
    sheet goes on on further ones. Of `papers`, the smallest first, each sheet takes the one that suits it.

    Raises:
        ValueError: one stretch with what stands at its ends is larger than the largest paper.
    """
    stock = Stock(network)
    parts = _parts(stock, papers)
    places = _Places(parts, first_sheet)
    sheets: list[Sheet] = []
    for part in parts:
        for index, board in enumerate(part.boards):
            marks = _board_marks(stock, board, places.sheet_of(part, board))
            more = f", part {index + 1} of {len(part.boards)}" if len(part.boards) > 1 else ""
            sheets.append(_sheet(network, board.paper, f"{part.title}: layout{more}", part.number, marks))
        for chart in part.charts:
            marks = rows_marks(chart.rows, usable_area(chart.paper))
            sheets.append(_sheet(network, chart.paper, f"{part.title}: faces and charts", part.number, marks))
    last = first_sheet + len(sheets) - 1
    return tuple(
        replace(sheet, block=replace(sheet.block, sheet=first_sheet + place, sheets=last))
        for place, sheet in enumerate(sheets)
    )


def _parts(stock: Stock, papers: tuple[Paper, ...]) -> list[_SectionPart]:
    network = stock.network
    harness = network.design.harness
    title, number = (harness.title, harness.number) if harness is not None else ("Harness", "")
    sections = network.sections.sections
    parts: list[_SectionPart] = []
    if len(sections) > 1:
        whole = tuple(each for tree in trees_of(whole_board(network)) for each in _fit_all(stock, tree, _WHOLE, papers))
        parts.append(_SectionPart(title, number, whole, (), is_whole=True))
    for section in sections:
        boards = _fit_all(stock, section_board(network, section.letter), _SECTION, papers)
        charts = tuple(
            sheet for each in boards if each.where is Where.APART for sheet in chart_sheets(stock, each.board, papers)
        )
        named = section.title or (f"Section {section.letter}" if len(sections) > 1 else title)
        parts.append(_SectionPart(named, section.number, boards, charts, is_whole=False))
    return parts


def _fit_all(
    stock: Stock, board: Board, wheres: tuple[Where, ...], papers: tuple[Paper, ...]
) -> tuple[FittedBoard, ...]:
    """The board on one sheet, or in parts on several."""
    if not board.runs:
        return ()
    whole = fitted(stock, board, wheres, papers)
    if whole is None and wheres == _WHOLE:
        whole = fitted(stock, board.quiet(), wheres, papers)
    if whole is not None:
        return (whole,)
    halves = parted(board)
    if halves is None and wheres == _WHOLE:
        # The two faces of a large disconnect may not fit side by side; then the sheets of the sections show them.
        whole = fitted(stock, board.quiet(), (Where.APART,), papers)
        if whole is not None:
            return (whole,)
    if halves is None:
        raise ValueError(f"the stretch {board.runs[0].name} with its ends does not fit the largest paper")
    return tuple(each for half in halves for each in _fit_all(stock, half, wheres, papers))


class _Places:
    """On which sheet each thing is shown."""

    def __init__(self, parts: list[_SectionPart], first_sheet: int) -> None:
        self.things: dict[str, int] = {}
        self.nodes: dict[tuple[str, str], list[int]] = {}
        number = first_sheet
        for part in parts:
            for board in part.boards:
                for node, spot in board.board.spots.items():
                    self.nodes.setdefault((part.number, node), []).append(number)
                    if not part.is_whole and board.where is not Where.APART:
                        devices = (devices_name(spot),) if spot.devices else ()
                        self.things |= dict.fromkeys((*spot.connectors, *devices), number)
                number += 1
            for chart in part.charts:
                for name in chart.names:
                    self.things.setdefault(name, number)
                number += 1
        self.own = {id(board): number for number, board in enumerate(_boards_in_order(parts), start=first_sheet)}

    def sheet_of(self, part: _SectionPart, board: FittedBoard) -> SheetOf:
        """Sheet of a thing; of a node of the route that goes on, the first other sheet that shows it."""

        def find(name: str) -> int:
            node = name.removesuffix(" onward")
            if node != name:
                own = self.own[id(board)]
                return next(each for each in self.nodes[part.number, node] if each != own)
            return self.things[name]

        return find


def _boards_in_order(parts: list[_SectionPart]) -> list[FittedBoard | ChartSheet]:
    found: list[FittedBoard | ChartSheet] = []
    for part in parts:
        found += [*part.boards, *part.charts]
    return found


def _board_marks(stock: Stock, board: FittedBoard, sheet_of: SheetOf) -> tuple[Mark, ...]:
    """The route in the middle of its sheet, what is collected under it, and the foot that states the scale."""
    blocks = Content(stock, board.board, board.where, sheet_of).blocks()
    spine = Placer(board.setting, blocks, labels_of(board.board)).trunk(board.trunk)
    area = drawing_area(board.paper, board.board)
    below = below_blocks(stock, board.board, board.where)
    low_mm = rows_height_mm(below, area.width_mm) if below else 0.0
    u0, u1, v0, v1 = board.extent
    spare_mm = area.height_mm - low_mm - (v1 - v0)
    route_mm = v1 - v0 + spare_mm / (2 if below else 1)
    x = area.centre[0] - (u0 + u1) / 2
    y = area.y0 + route_mm / 2 + (v0 + v1) / 2
    marks = list(spine_marks(Frame(x, y, (1.0, 0.0), (0.0, -1.0)), spine, board.setting.scale))
    if below:
        rows = rows_of(below, area.width_mm)
        marks.extend(rows_marks(rows, Box(area.x0, area.y0 + route_mm, area.x1, area.y1)))
    marks.extend(_foot(board, spine, stock.network.design.units.length))
    return tuple(marks)


def _foot(board: FittedBoard, spine: PlacedSpine, unit: str) -> tuple[Mark, ...]:
    is_drawn_out = any(spot.is_drawn_out for spot in spine.all_spots)
    area = usable_area(board.paper)
    is_quiet = any(run.is_quiet for run in board.board.runs)
    denominator = board.denominator if board.has_scale else None
    notes = foot_marks(
        denominator,
        area,
        is_true=board.is_true,
        is_drawn_out=is_drawn_out,
        is_quiet=is_quiet,
        has_loops=any(run.extras for run in board.board.runs) and not is_quiet,
        unit=unit,
    )
    return (*notes, *key_marks(board.board.signs, area.x0 + 2.0, area.y1 - FOOT_MM - KEY_MM / 2))


def _sheet(network: Network, paper: Paper, title: str, number: str, marks: tuple[Mark, ...]) -> Sheet:
    """A sheet that is numbered later."""
    harness = network.design.harness
    revision, date = (harness.revision, harness.date) if harness is not None else ("", "")
    lengths = "inches, [mm]" if in_inches(network.design.units.length) else "mm"
    numbered = f"{number}, layout" if number else ""
    return Sheet(paper, TitleBlock(title, numbered, revision, date, 0, 0, lengths=lengths), marks)
