"""What stands at the spots of a board: faces and charts themselves, or a note that says where they are."""

from collections.abc import Callable, Sequence
from enum import Enum

from harnessgen.drawings.layout.block import (
    LayoutBlock,
    Panel,
    Stock,
    connector_heading,
    listed,
    words_block,
    words_panel,
)
from harnessgen.drawings.layout.tree import Board, LayoutSpot

SheetOf = Callable[[str], int]
"""Number of the sheet where something of a name (`C21`, or `battery devices`) is shown."""

NEAR_ROWS = 14
"""Most rows of a chart's column beside an end of the route."""
SPLICE_ROWS = 6
"""The same of the table of splices under a route."""
SHEET_ROWS = 40
"""Most rows of a chart's column on a sheet of charts."""
_NOTE_WIDTH_MM = 40.0
_WIDEST_SHEET = 888
_MOST_LINES = 8
_AIR_MM = 5.0


class Where(Enum):
    """Where faces and charts are."""

    NEAR = "near"
    """At the ends of the route."""
    BELOW = "below"
    """Collected under the route on the same sheet."""
    APART = "apart"
    """On sheets of their own."""
    ELSEWHERE = "elsewhere"
    """On the sheets of the sections: this one shows the whole harness."""


def labels_of(board: Board) -> dict[str, Panel]:
    """Names of the breakouts, with the splices that sit there; an end of the route has one only for its splices."""
    labels = {}
    for node, spot in board.spots.items():
        degree = len(board.neighbours[node])
        is_plain_half = degree == 2 and any(run.mated for run in board.neighbours[node])
        if spot.splices or (degree > 1 and not is_plain_half):
            lines = [spot.point, f"{listed(spot.splices)} here"] if spot.splices else [spot.point]
            labels[node] = words_panel(lines, spot.point, 26.0, bold_lines=2)
    return labels


def things_at(stock: Stock, spot: LayoutSpot, most_rows: int) -> list[tuple[str, LayoutBlock]]:
    """Faces with charts and the end mark of a spot, each with its name."""
    found = [(name, stock.connector(name, most_rows)) for name in spot.connectors]
    if spot.devices:
        heading = f"{spot.point}: {listed(spot.devices)}"
        found.append((devices_name(spot), stock.landing(spot.devices, spot.node, heading, most_rows)))
    return found


def splices_of(board: Board) -> list[str]:
    """The splices on a board, on its stretches and at its breakouts."""
    names = [name for run in board.runs for name in run.splices]
    return list(dict.fromkeys([*names, *(name for spot in board.spots.values() for name in spot.splices)]))


def devices_name(spot: LayoutSpot) -> str:
    """Name under which the devices at a spot are referred to."""
    return f"{spot.node} devices"


class Content:
    """The blocks at the spots of a board, with its faces and charts placed as `where` says.

    `sheet_of` gives the sheet of a thing, and of a node of the route that goes on; without it, room for any number of
    three digits is kept, so that the sizes of all blocks are known before the sheets are numbered.
    """

    def __init__(self, stock: Stock, board: Board, where: Where, sheet_of: SheetOf | None = None) -> None:
        self.stock = stock
        self.network = stock.network
        self.board = board
        self.where = where
        self.sheet_of = sheet_of

    def blocks(self) -> dict[str, LayoutBlock]:
        """The block of each spot that has one: every end of the route, and where something is mounted on its way."""
        found = {}
        for node, spot in self.board.spots.items():
            blocks = self._at(spot)
            is_end = len(self.board.neighbours[node]) == 1
            if is_end and spot.splices:
                blocks = [words_block((f"{listed(spot.splices)} at {spot.point}",), spot.point), *blocks]
            if is_end and not blocks:
                blocks = [words_block((spot.point, "nothing here"), spot.point)]
            if blocks:
                found[node] = grouped(blocks)
        return found

    def _at(self, spot: LayoutSpot) -> list[LayoutBlock]:
        if self.where is Where.NEAR:
            blocks = [block for _, block in things_at(self.stock, spot, NEAR_ROWS)]
        else:
            is_whole = self.where is Where.ELSEWHERE
            disconnects = self.network.design.disconnects if is_whole else {}
            blocks = [self.stock.face(name) for name in self._halves(spot)] if is_whole else []
            own = [name for name in spot.connectors if name[:-1] not in disconnects]
            if own or spot.devices:
                blocks.append(self._note(own, spot))
        if spot.goes_on:
            blocks.append(self._referring((spot.point,), "route goes on, ", (f"{spot.node} onward",), spot.point))
        return blocks

    def _halves(self, spot: LayoutSpot) -> list[str]:
        """Both halves of the disconnects at a point, once for the pair: at the spot of the socket halves."""
        own = self.network.design.disconnects
        sockets = [name for name in spot.connectors if name[:-1] in own and name.endswith("s")]
        return [half for name in sockets for half in (name, f"{name[:-1]}p")]

    def _note(self, connectors: list[str], spot: LayoutSpot) -> LayoutBlock:
        """What is at a spot, in a line each while they are few, and where its faces and charts are."""
        if len(connectors) == 1:
            lines = [connector_heading(self.network, connectors[0])]
        elif len(connectors) <= _MOST_LINES:
            lines = [connector_heading(self.network, name).partition(",")[0] for name in connectors]
        else:
            lines = [listed(connectors)]
        names = list(connectors)
        if spot.devices:
            lines.append(f"{spot.point}: {listed(spot.devices)}")
            names.append(devices_name(spot))
        if self.where is Where.BELOW:
            return words_block((*lines, "see below"), spot.point, len(lines))
        return self._referring(tuple(lines), "", tuple(names), spot.point)

    def _referring(self, headings: tuple[str, ...], before: str, names: tuple[str, ...], subject: str) -> LayoutBlock:
        """A note that refers to sheets, as large as it is with the widest numbers."""
        widest = [_WIDEST_SHEET] * min(3, len(names))
        kept = words_panel((*headings, before + _sheets_text(widest)), subject, _NOTE_WIDTH_MM, len(headings))
        numbers = widest if self.sheet_of is None else sorted({self.sheet_of(name) for name in names})
        shown = words_panel((*headings, before + _sheets_text(numbers)), subject, _NOTE_WIDTH_MM, len(headings))
        held = ((shown, (kept.width_mm - shown.width_mm) / 2, 0.0),)
        return LayoutBlock((Panel((), kept.width_mm, kept.height_mm, held=held),))


def _sheets_text(numbers: Sequence[int]) -> str:
    if len(numbers) == 1:
        return f"sheet {numbers[0]}"
    if len(numbers) > 3:
        return f"sheets {numbers[0]} to {numbers[-1]}"
    return f"sheets {', '.join(map(str, numbers))}"


def grouped(blocks: Sequence[LayoutBlock]) -> LayoutBlock:
    """Several blocks as one: in rows, so that the whole is rather wider than high."""
    if len(blocks) == 1:
        return blocks[0]
    area = sum((block.width_mm + _AIR_MM) * (block.height_mm + _AIR_MM) for block in blocks)
    most_mm = max(*(block.width_mm for block in blocks), (3.0 * area) ** 0.5)
    held: list[tuple[Panel, float, float]] = []
    y = 0.0
    rows = [(row, sum(block.width_mm + _AIR_MM for block in row) - _AIR_MM) for row in rows_of(blocks, most_mm)]
    wide_mm = max(row_mm for _, row_mm in rows)
    for row, row_mm in rows:
        x = (wide_mm - row_mm) / 2
        for block in row:
            held.append((block.panel(), x, y))
            x += block.width_mm + _AIR_MM
        y += max(block.height_mm for block in row) + _AIR_MM
    return LayoutBlock((Panel((), wide_mm, y - _AIR_MM, held=tuple(held)),), titled=False)


def rows_of(blocks: Sequence[LayoutBlock], most_mm: float) -> list[list[LayoutBlock]]:
    """The blocks in rows of at most `most_mm`, in their order; a wider block has a row of its own."""
    rows: list[list[LayoutBlock]] = []
    taken_mm = 0.0
    for block in blocks:
        if not rows or taken_mm + _AIR_MM + block.width_mm > most_mm:
            rows.append([])
            taken_mm = -_AIR_MM
        rows[-1].append(block)
        taken_mm += _AIR_MM + block.width_mm
    return rows
