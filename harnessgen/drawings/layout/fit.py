"""Choose paper, scale and the place of the charts, so that as many stretches as can be are drawn to scale."""

from dataclasses import dataclass

from harnessgen.drawings.layout.block import LayoutBlock, Stock
from harnessgen.drawings.layout.content import (
    NEAR_ROWS,
    SPLICE_ROWS,
    Content,
    Where,
    labels_of,
    rows_of,
    splices_of,
    things_at,
)
from harnessgen.drawings.layout.corridor import Setting
from harnessgen.drawings.layout.place import Placer
from harnessgen.drawings.layout.placed import PlacedSpine
from harnessgen.drawings.layout.spine import filled, other_spines, spine_of
from harnessgen.drawings.layout.tree import Board, Spine
from harnessgen.sheets.box import Box
from harnessgen.sheets.sheet import Paper, usable_area

DENOMINATORS = (1, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200)
"""Scales are 1 to one of these."""
KEY_MM = 6.0
"""Height of the strip above it that explains the signs of what is fixed on the bundles."""
FOOT_MM = 8.0
"""Height of the strip under a layout that states its scale."""
ROW_AIR_MM = 6.0
"""Between rows of collected blocks, and between the route and these."""
MOST_RUNS = 60
"""Stretches on one sheet; a tree with more is parted without trying."""

_LONGEST_MM = (10_000.0, 140.0, 90.0, 60.0, 40.0)
_TURNED_LONGEST_MM = (10_000.0, 60.0)
"""Bounds at which a trunk that is not the longest way is tried first, before anything else of it is."""
_MOST_TURNED = 30
"""Stretches of a board, itself no part of a larger one, up to which other trunks than the longest way are tried."""
_MOST_TRUNKS = 12
"""Of the other trunks so many are tried: those whose tree is most like the paper in its proportions."""
_MOST_ENDS = 10
"""A board with more ends has too many ways from end to end to try them all."""
_BROKEN_COST = 3.0
_LARGER_COST = 0.5
"""What each larger paper costs."""
_WHERE_COST = {Where.NEAR: 0.0, Where.BELOW: 0.3, Where.APART: 0.9, Where.ELSEWHERE: 0.0}
_PAD_MM = 3.0


@dataclass(frozen=True, slots=True)
class FittedBoard:
    """A board as it fits its paper: the placed trunk, and its extent (u0, u1, v0, v1) in mm on paper."""

    board: Board
    trunk: Spine
    where: Where
    paper: Paper
    denominator: float
    setting: Setting
    spine: PlacedSpine
    extent: tuple[float, float, float, float]
    cost: float

    def precedes(self, other: "FittedBoard") -> bool:
        """Whether it is better than another one: it costs less, or as much at a larger scale and with another trunk."""
        if abs(self.cost - other.cost) > 1e-9:
            return self.cost < other.cost
        return self.trunk is not other.trunk and self.denominator < other.denominator

    @property
    def is_true(self) -> bool:
        """Whether every stretch is drawn to scale."""
        return all(each.is_true for each in self.spine.corridors if not each.run.mated)

    @property
    def has_scale(self) -> bool:
        """Whether any stretch is."""
        return any(each.is_true for each in self.spine.corridors if not each.run.mated)


def drawing_area(paper: Paper, board: Board) -> Box:
    """Where the route may lie on a sheet: the usable area above the strip that states the scale and explains signs."""
    area = usable_area(paper)
    return Box(area.x0, area.y0, area.x1, area.y1 - FOOT_MM - (KEY_MM if board.signs else 0.0))


def below_blocks(stock: Stock, board: Board, where: Where) -> list[LayoutBlock]:
    """What stands under the route of a board: its splices, and if `where` says so all faces, charts and end marks.

    Nothing on a sheet of the whole harness, and where there are sheets of charts.
    """
    if where not in (Where.NEAR, Where.BELOW):
        return []
    shown = board.spots.values() if where is Where.BELOW else ()
    blocks = [block for spot in shown for _, block in things_at(stock, spot, NEAR_ROWS)]
    splices = stock.splices(splices_of(board), SPLICE_ROWS)
    return blocks if splices is None else [*blocks, splices]


def rows_height_mm(blocks: list[LayoutBlock], width_mm: float) -> float:
    """Height of blocks in rows of `width_mm` with the air above each; more than any paper where one is too wide."""
    if any(block.width_mm > width_mm for block in blocks):
        return 1e9
    return sum(ROW_AIR_MM + max(block.height_mm for block in row) for row in rows_of(blocks, width_mm))


def fitted(stock: Stock, board: Board, wheres: tuple[Where, ...], papers: tuple[Paper, ...]) -> FittedBoard | None:
    """The board on the paper of `papers`, at the scale and with its charts where it costs least; None if none fits."""
    if len(board.runs) > MOST_RUNS:
        return None
    is_small = len(board.runs) <= _MOST_TURNED and not any(spot.goes_on for spot in board.spots.values())
    for is_tight in (False, True):
        search = _Search(stock, board, papers, is_tight)
        search.improve_on_all(wheres)
        if is_small and (search.best is None or search.best.cost > 0):
            search.turn(wheres)
        if search.best is not None:
            return search.best
    return None


class _Search:
    """Tries settings for one board; placements are kept, since they do not depend on the paper."""

    def __init__(self, stock: Stock, board: Board, papers: tuple[Paper, ...], is_tight: bool) -> None:
        self.papers = papers
        self.is_tight = is_tight
        self.stock = stock
        self.board = board
        self.trunk = spine_of(board)
        self.labels = labels_of(board)
        self.contents: dict[Where, dict[str, LayoutBlock]] = {}
        self.below: dict[Where, list[LayoutBlock]] = {}
        self.best: FittedBoard | None = None
        self.least_broken = _BROKEN_COST / len(board.runs)
        self.placed: dict[tuple[Where, Setting], tuple[PlacedSpine, tuple[float, float, float, float]]] = {}

    def turn(self, wheres: tuple[Where, ...]) -> None:
        """Try all other trunks with which the board fits at a larger scale than with the longest way."""
        straight, area = self.best, drawing_area(self.papers[-1], self.board)
        others = sorted(
            other_spines(self.board, _MOST_ENDS), key=lambda each: filled(each, area.width_mm, area.height_mm)
        )
        for trunk in others[:_MOST_TRUNKS]:
            self.trunk, self.placed = trunk, {}
            if straight is not None:
                larger = DENOMINATORS[max(0, DENOMINATORS.index(straight.denominator) - 1)]
                where = wheres[0] if straight.where is wheres[0] else wheres[-1]
                bounds = (self._fits(where, larger, mm, area.width_mm, area.height_mm) for mm in _TURNED_LONGEST_MM)
                if not any(bounds):
                    continue
            self.improve_on_all(wheres)

    def improve_on_all(self, wheres: tuple[Where, ...]) -> None:
        """Try every paper with the charts at every place, the cheapest first."""
        area = drawing_area(self.papers[-1], self.board)
        if not self._fits(wheres[-1], DENOMINATORS[-1], _LONGEST_MM[-1], area.width_mm, area.height_mm):
            # At the smallest scale on the largest paper, everything drawn as short as can be.
            return
        tried = sorted(
            (_WHERE_COST[where] + _LARGER_COST * larger, index, larger)
            for index, where in enumerate(wheres)
            for larger in range(len(self.papers))
        )
        for cost, index, larger in tried:
            self.improve(self.papers[larger], wheres[index], cost)

    def improve(self, paper: Paper, where: Where, cost: float) -> None:
        """For each bound on the longest piece take the largest scale that fits, if it costs less than the best so far.

        `cost` is that of the paper and the place of the charts; what has no chance to cost less is not tried.
        """
        if self.best is not None and cost > self.best.cost - 1e-9:
            return
        area = drawing_area(paper, self.board)
        if where not in self.below:
            self.below[where] = below_blocks(self.stock, self.board, where)
        high_mm = area.height_mm - rows_height_mm(self.below[where], area.width_mm)
        for longest_mm in _LONGEST_MM:
            low, high = 0, len(DENOMINATORS) - 1
            if not self._fits(where, DENOMINATORS[high], longest_mm, area.width_mm, high_mm):
                continue
            while low < high:
                middle = (low + high) // 2
                if self._fits(where, DENOMINATORS[middle], longest_mm, area.width_mm, high_mm):
                    high = middle
                else:
                    low = middle + 1
            found = self._fitted(where, paper, DENOMINATORS[low], longest_mm, cost)
            if self.best is None or found.precedes(self.best):
                self.best = found
            if found.is_true or cost + self.least_broken >= self.best.cost:
                return

    def _fits(self, where: Where, denominator: float, longest_mm: float, width_mm: float, height_mm: float) -> bool:
        _, (u0, u1, v0, v1) = self._place(where, denominator, longest_mm)
        return u1 - u0 <= width_mm and v1 - v0 <= height_mm

    def _place(
        self, where: Where, denominator: float, longest_mm: float
    ) -> tuple[PlacedSpine, tuple[float, float, float, float]]:
        setting = Setting(1 / denominator, longest_mm, self.is_tight)
        known = self.placed.get((where, setting))
        if known is None:
            if where not in self.contents:
                self.contents[where] = Content(self.stock, self.board, where).blocks()
            spine = Placer(setting, self.contents[where], self.labels).trunk(self.trunk)
            known = self.placed[where, setting] = (spine, extent_of(spine))
        return known

    def _fitted(self, where: Where, paper: Paper, denominator: float, longest_mm: float, cost: float) -> FittedBoard:
        spine, extent = self._place(where, denominator, longest_mm)
        stretches = [corridor.is_true for corridor in spine.corridors if not corridor.run.mated]
        broken = 1 - sum(stretches) / len(stretches)
        setting = Setting(1 / denominator, longest_mm, self.is_tight)
        return FittedBoard(
            self.board, self.trunk, where, paper, denominator, setting, spine, extent, cost + _BROKEN_COST * broken
        )


def extent_of(spine: PlacedSpine) -> tuple[float, float, float, float]:
    """From and to along the trunk and across it of all that is placed, mm."""
    first = spine.runs[0]
    deep_mm = first.corridor.depth_mm
    across = (0.0, deep_mm) if first.side > 0 else (-deep_mm, 0.0)
    rects = [*spine.rest, (*across, first.u0, first.u1)]
    rects += [(-spot.ring_mm, spot.ring_mm, spot.centres[0], spot.centres[-1]) for spot in spine.spots]
    return (
        min(rect[2] for rect in rects) - _PAD_MM,
        max(rect[3] for rect in rects) + _PAD_MM,
        min(rect[0] for rect in rects) - _PAD_MM,
        max(rect[1] for rect in rects) + _PAD_MM,
    )
