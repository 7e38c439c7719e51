"""The map of a formboard: the whole board small, with the sheets that it is cut into, and how to put them together."""

from collections.abc import Iterator, Sequence

from harnessgen.drawings.formboard.grid import Tile, window_of
from harnessgen.drawings.formboard.marks import SectionBoard
from harnessgen.sheets.box import Box, Point, box_around
from harnessgen.sheets.lettering import wrap_text
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polyline, Rectangle, TextMark

_AIR_MM = 6.0
_TEXT_MM = 2.9
_LINE_MM = 4.3
_LEAST_NAME_MM = 2.0
_LARGEST_NAME_MM = 6.0

HOW_TO = (
    "Print every sheet at 100 % (no fitting to the page). Measure both check lines of each: 100 mm, or print again.",
    "Trim, lay crosses on crosses by this map, and tape. Measure the longest stretch from peg to peg once more.",
    "Drive a peg at each ringed breakout. A length runs from centre of breakout to centre of breakout,"
    " or to the rear face of a connector, where its outline begins.",
    "Outlines of connectors are not to size: they show where a housing lies and which it is. A bar across a stretch is"
    " where its covering is taped; a dot is a splice.",
    "Each length stands with the tolerance to build it to."
    " Wires are cut by the cut list, which adds what the ends take.",
)


def map_marks(board: SectionBoard, used: Sequence[Tile], name: str) -> Iterator[Mark]:
    """Marks of the map sheet within the window of its paper."""
    window = window_of(board.grid.paper).inflate(-_AIR_MM)
    long_mm, high_mm = board.size_mm
    head = (
        f"{name}: formboard at 1:1",
        f"The board needs {long_mm:.0f} by {high_mm:.0f} mm. {len(used)} sheets, as below;"
        " sheets that would be blank are left out.",
    )
    y = window.y0 + _LINE_MM
    for at, paragraph in enumerate((*head, *HOW_TO, *_homeless(board))):
        for line in wrap_text(paragraph, window.width_mm, _TEXT_MM, bold=not at):
            yield TextMark(line, window.x0, y, _TEXT_MM, bold=not at, kind=MarkKind.LABEL)
            y += _LINE_MM
    yield from _picture(board, used, Box(window.x0, y, window.x1, window.y1))


def _homeless(board: SectionBoard) -> Iterator[str]:
    """Words that found no room on the board, so that they are not lost."""
    if board.homeless:
        yield "Without room on the board: " + "; ".join(": ".join(words.lines) for words in board.homeless) + "."


def _picture(board: SectionBoard, used: Sequence[Tile], area: Box) -> Iterator[Mark]:
    whole = box_around([corner for tile in used for corner in tile.area.corners])
    scale = min(area.width_mm / whole.width_mm, area.height_mm / whole.height_mm, 0.5)
    x0 = area.centre[0] - whole.width_mm * scale / 2
    y0 = area.centre[1] - whole.height_mm * scale / 2

    def at(point: Point) -> Point:
        return x0 + (point[0] - whole.x0) * scale, y0 + (point[1] - whole.y0) * scale

    for tile in used:
        corners = [at(corner) for corner in tile.area.corners]
        yield Rectangle(box_around(corners), 0.15, kind=MarkKind.GAUGE, subject="sheets")
        high_mm = abs(corners[2][1] - corners[0][1])
        size_mm = min(_LARGEST_NAME_MM, 0.3 * high_mm)
        if size_mm >= _LEAST_NAME_MM:
            name_at = corners[0][0] + 0.15 * size_mm + 0.6, corners[0][1] + size_mm
            yield TextMark(tile.name, *name_at, size_mm, kind=MarkKind.LABEL, ink=(90, 90, 90))
    for laid in board.tree.laid:
        yield Polyline((at(laid.a), at(laid.b)), 0.5, kind=MarkKind.BUNDLE, subject=laid.run.name)
