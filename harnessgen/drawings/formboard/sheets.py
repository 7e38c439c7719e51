"""The formboard on paper: for each section a map of its sheets, then every sheet that shows some of it, all at 1:1."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from harnessgen.drawings.formboard.grid import FOOT_MM, MARGIN_MM, SheetGrid, Tile, window_of
from harnessgen.drawings.formboard.line_clipping import cut_line
from harnessgen.drawings.formboard.map import map_marks
from harnessgen.drawings.formboard.marks import SectionBoard, section_board_at_size
from harnessgen.drawings.formboard.occupied import pieces
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import HarnessSection, Network
from harnessgen.sheets.box import Box
from harnessgen.sheets.lettering import fit_text, text_width_mm
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Circle, Mark, Polyline, Rectangle, TextMark
from harnessgen.sheets.sheet import Paper

CHECK_MM = 100.0
"""Length of both check lines of every sheet."""
_ARM_MM = 3.5
_THIN_MM = 0.18


@frozen
class BoardSheet:
    """One sheet of a formboard: its paper, its title in one line, and its marks in mm from its corner."""

    paper: Paper
    title: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class _Sign:
    """What every sheet of one section says of it."""

    name: str
    status: str
    used: tuple[Tile, ...]


def formboard_sheets(network: Network, papers: tuple[Paper, ...], status: str = "") -> tuple[BoardSheet, ...]:
    """The formboards of all sections on sheets of one of `papers` each; `status` is printed on every sheet."""
    sheets: list[BoardSheet] = []
    for section in network.sections.sections:
        if section.legs:
            board = section_board_at_size(network, section.letter, papers)
            sheets.extend(_section_sheets(network, section, board, status))
    return tuple(sheets)


def used_tiles(board: SectionBoard) -> tuple[Tile, ...]:
    """The sheets of a board's grid that show some of it."""
    used: set[tuple[int, int]] = set()
    for mark in board.marks:
        for outline in mark.outlines:
            for box in pieces(outline):
                used |= board.grid.touched(box)
    return tuple(tile for tile in board.grid.tiles if (tile.row, tile.column) in used)


def _section_sheets(
    network: Network, section: HarnessSection, board: SectionBoard, status: str
) -> Iterator[BoardSheet]:
    used = used_tiles(board)
    sign = _Sign(section_name(network, section), status, used)
    yield BoardSheet(
        board.grid.paper,
        f"{sign.name}: formboard, map of {len(used)} sheets",
        (*map_marks(board, used, sign.name), *_furniture(board.grid.paper, sign, "map")),
    )
    window = window_of(board.grid.paper)
    for tile in used:
        dx_mm, dy_mm = window.x0 - tile.area.x0, window.y0 - tile.area.y0
        marks = [mark.shift(dx_mm, dy_mm) for mark in _shown(board.marks, tile)]
        marks += _registers(board.grid, tile, dx_mm, dy_mm)
        marks += _furniture(board.grid.paper, sign, tile.name)
        yield BoardSheet(board.grid.paper, f"{sign.name}: formboard 1:1, sheet {tile.name}", tuple(marks))


def section_name(network: Network, section: HarnessSection) -> str:
    """Number, title and revision of a section in one line."""
    harness = network.design.harness
    title = section.title or (harness.title if harness is not None else "harness")
    revision = f", revision {harness.revision}" if harness is not None and harness.revision else ""
    return f"{section.number} {title}{revision}".strip()


def _shown(marks: Sequence[Mark], tile: Tile) -> Iterator[Mark]:
    """What a sheet shows: lines cut at its window, and everything else that lies wholly within."""
    for mark in marks:
        if isinstance(mark, Polyline):
            yield from cut_line(mark, tile.area)
        elif tile.area.contains(mark.box):
            yield mark


def _registers(grid: SheetGrid, tile: Tile, dx_mm: float, dy_mm: float) -> Iterator[Mark]:
    """Crosses in rings at the corners, each the same point of the board on all sheets that show it."""
    for x, y in grid.registers:
        if tile.area.contains_point((x, y)):
            place = x + dx_mm, y + dy_mm
            yield Circle(*place, 2.0, _THIN_MM, kind=MarkKind.GAUGE, subject="register mark")
            for ax, ay in ((_ARM_MM, 0.0), (0.0, _ARM_MM)):
                ends = ((place[0] - ax, place[1] - ay), (place[0] + ax, place[1] + ay))
                yield Polyline(ends, _THIN_MM, kind=MarkKind.GAUGE, subject="register mark")


def _furniture(paper: Paper, sign: _Sign, name: str) -> Iterator[Mark]:
    """The edge of the window, the two check lines, and what the sheet is."""
    window = window_of(paper)
    yield Rectangle(window, _THIN_MM, kind=MarkKind.FRAME, subject="edge")
    foot = paper.height_mm - MARGIN_MM - FOOT_MM
    yield from _check_lines(window, foot)
    tag_mm = 11.0
    x = window.x0 + CHECK_MM + 10.0
    room_mm = window.x1 - x
    yield TextMark(name, x, foot + 11.5, tag_mm, bold=True, kind=MarkKind.TITLE_TEXT)
    words_x = x + max(26.0, text_width_mm(name, tag_mm, bold=True) + 4.0)
    lines = [sign.name, _neighbours(sign.used, name) if name != "map" else "lay the sheets by this map"]
    lines += [sign.status] if sign.status else []
    for at, line in enumerate(lines):
        shown, size_mm = fit_text(line, room_mm - (words_x - x), 2.8, 2.0, bold=at != 1)
        yield TextMark(shown, words_x, foot + 5.4 + 4.2 * at, size_mm, bold=at != 1, kind=MarkKind.TITLE_TEXT)


def _check_lines(window: Box, foot: float) -> Iterator[Mark]:
    """Two lines of exactly 100 mm, level and upright, between the ends of their bars."""
    x, y = window.x0, foot + 8.0
    kind, subject = MarkKind.GAUGE, "check line"
    yield Polyline(((x, y), (x + CHECK_MM, y)), _THIN_MM, kind=kind, subject=subject)
    for end in (x, x + CHECK_MM):
        yield Polyline(((end, y - 2.0), (end, y + 2.0)), _THIN_MM, kind=kind, subject=subject)
    words = "this line and the upright one: 100 mm each, else print again at 100 %"
    shown, size_mm = fit_text(words, CHECK_MM - 2.0, 2.6, 2.0)
    yield TextMark(shown, x + CHECK_MM / 2, y - 1.2, size_mm, "middle")
    across, low = MARGIN_MM + 6.0, (window.y0 + window.y1) / 2 + CHECK_MM / 2
    yield Polyline(((across, low), (across, low - CHECK_MM)), _THIN_MM, kind=kind, subject=f"upright {subject}")
    for end in (low, low - CHECK_MM):
        bar = ((across - 2.0, end), (across + 2.0, end))
        yield Polyline(bar, _THIN_MM, kind=kind, subject=f"upright {subject}")
    yield TextMark("100 mm", across - 1.2, low - CHECK_MM / 2, 2.6, "middle", rotation=-90)


def _neighbours(used: Sequence[Tile], name: str) -> str:
    """Which sheets lie around one."""
    by_place = {(tile.row, tile.column): tile.name for tile in used}
    own = next(tile for tile in used if tile.name == name)
    around = (("above", -1, 0), ("below", 1, 0), ("left", 0, -1), ("right", 0, 1))
    found = [
        f"{side} {by_place[own.row + down, own.column + across]}"
        for side, down, across in around
        if (own.row + down, own.column + across) in by_place
    ]
    return ", ".join(found) or "no sheet beside it"
