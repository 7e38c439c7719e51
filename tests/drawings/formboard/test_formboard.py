"""The formboard's geometry: every stretch straight and at its length, no two crossing, all words clear and whole."""

from itertools import combinations
from math import dist
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.drawings.formboard.grid import OVERLAP_MM, SheetGrid, window_of
from harnessgen.drawings.formboard.line_clipping import cut_to
from harnessgen.drawings.formboard.marks import section_board_at_size
from harnessgen.drawings.formboard.place import LaidTree, lay_in_sectors, lay_section
from harnessgen.drawings.formboard.sheets import formboard_sheets, used_tiles
from harnessgen.drawings.layout.spine import trees_of
from harnessgen.drawings.layout.tree import section_board
from harnessgen.network.network import Network
from harnessgen.sheets.box import Box
from harnessgen.sheets.marks import TextMark, box_of
from harnessgen.sheets.sheet import PAPERS
from tests.drawings.generated import design_text, network_of
from tests.samples import examples, sample, some
from tests.sheets.clearance import collisions

DESIGNS = sorted((Path(__file__).parents[3] / "designs").glob("*.yaml"))
A4 = (PAPERS["A4 landscape"], PAPERS["A4 portrait"])
NEXT_TO_NOTHING_MM = 1e-6


def orientation(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def meet(one: tuple[tuple[float, float], ...], other: tuple[tuple[float, float], ...]) -> bool:
    """Whether two segments have a point in common, by the signs of four triangles; ends count."""
    (a, b), (c, d) = one, other
    return (orientation(a, b, c) > 0) != (orientation(a, b, d) > 0) and (
        (orientation(c, d, a) > 0) != (orientation(c, d, b) > 0)
    )


def assert_true_and_apart(tree: LaidTree) -> None:
    """Each stretch is as long as it says; two meet only at the breakout that they share."""
    for laid in tree.laid:
        assert dist(laid.a, laid.b) == pytest.approx(laid.run.length_mm, abs=1e-6), laid.run.name
    for one, other in combinations(tree.laid, 2):
        shared = {one.run.start, one.run.end} & {other.run.start, other.run.end}
        if shared:
            # Two straight lines from one point have nothing else in common unless they lie on one another.
            place = tree.places[shared.pop()]
            ends = [b if dist(a, place) < NEXT_TO_NOTHING_MM else a for a, b in ((one.a, one.b), (other.a, other.b))]
            area = abs(orientation(place, *ends))
            dot = sum((p - q) * (r - q) for p, r, q in zip(*ends, place, strict=True))
            assert area > NEXT_TO_NOTHING_MM or dot <= NEXT_TO_NOTHING_MM, (one.run.name, other.run.name)
        else:
            assert not meet((one.a, one.b), (other.a, other.b)), (one.run.name, other.run.name)


def trees(network: Network) -> list[LaidTree]:
    return [lay_section(network, each.letter) for each in network.sections.sections if each.legs]


@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_shipped_designs_lie_true_and_clear(path: Path) -> None:
    """Every section of every design: lengths, crossings, the table of meetings, no word without a place."""
    network = network_of(path.read_text(encoding="utf-8"))
    for section in network.sections.sections:
        if section.legs:
            board = section_board_at_size(network, section.letter, A4)
            assert_true_and_apart(board.tree)
            assert [str(each) for each in collisions(board.marks, box_of(board.marks).inflate(1.0))] == []
            assert board.homeless == ()


def assert_lies_true(network: Network) -> None:
    for section in network.sections.sections:
        if section.legs:
            board = section_board_at_size(network, section.letter, A4)
            assert_true_and_apart(board.tree)
            assert [str(each) for each in collisions(board.marks, box_of(board.marks).inflate(1.0))] == []


@pytest.mark.parametrize("first", some(range(0, 200, 20), 2))
def test_generated_designs_lie_true(first: int) -> None:
    """Long names, deep trees, many loads: true lengths and no crossing; words on the board or in the map's list."""
    for seed in sample(range(first, first + 20), 6):
        assert_lies_true(network_of(design_text(seed)))


@pytest.mark.parametrize(("seed", "loads", "disconnects"), some([(0, 60, 3), (2, 45, 2)], [(2, 45, 2)]))
def test_large_designs_lie_true(seed: int, loads: int, disconnects: int) -> None:
    """Up to 60 loads and three disconnects one behind another."""
    assert_lies_true(network_of(design_text(seed, loads=loads, disconnects=disconnects)))


@pytest.mark.parametrize("seed", range(12))
def test_sectors_never_cross(seed: int) -> None:
    """What is laid where legs are too crowded for straight lines with air: cones that share an apex do not meet."""
    network = network_of(design_text(seed, loads=30, disconnects=1))
    for section in network.sections.sections:
        for board in trees_of(section_board(network, section.letter)):
            assert_true_and_apart(lay_in_sectors(board))


@settings(max_examples=examples(200), deadline=None)
@given(*(st.floats(-50, 150, allow_nan=False) for _ in range(4)))
def test_a_cut_line_lies_within_and_leaves_out_only_what_is_beyond(ax: float, ay: float, bx: float, by: float) -> None:
    """Against sampling: a point of the line lies in the box exactly where it lies on the cut piece."""
    area = Box(0.0, 0.0, 100.0, 60.0)
    cut = cut_to((ax, ay), (bx, by), area)
    for step in range(41):
        point = ax + (bx - ax) * step / 40, ay + (by - ay) * step / 40
        if area.contains_point(point, -1e-6):
            assert cut is not None
            assert dist(cut[0], point) + dist(point, cut[1]) == pytest.approx(dist(*cut), abs=1e-6)
        elif cut is not None and not area.contains_point(point, 1e-6):
            assert dist(cut[0], point) + dist(point, cut[1]) > dist(*cut) + 1e-12
    if cut is not None:
        assert all(area.contains_point(end, 1e-6) for end in cut)


def test_neighbours_share_a_strip_and_its_crosses() -> None:
    """Two sheets beside one another overlap by the stated strip, and a register mark lies in the middle of it."""
    grid = SheetGrid(PAPERS["A4 landscape"], (0.0, 0.0), 2, 2)
    first, right, below, _ = grid.tiles
    assert first.area.x1 - right.area.x0 == pytest.approx(OVERLAP_MM)
    assert first.area.y1 - below.area.y0 == pytest.approx(OVERLAP_MM)
    shared = (first.area.x1 + right.area.x0) / 2, (first.area.y1 + below.area.y0) / 2
    assert any(dist(shared, place) < NEXT_TO_NOTHING_MM for place in grid.registers)
    assert [tile.name for tile in grid.tiles] == ["A1", "A2", "B1", "B2"]


@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_every_mark_is_on_some_sheet(path: Path) -> None:
    """Each word and peg is whole on a sheet, each stretch has all its length on them, and the furniture is clear."""
    network = network_of(path.read_text(encoding="utf-8"))
    for section in network.sections.sections:
        if not section.legs:
            continue
        board = section_board_at_size(network, section.letter, A4)
        areas = [tile.area for tile in used_tiles(board)]
        for mark in board.marks:
            if isinstance(mark, TextMark):
                assert any(area.contains(mark.box) for area in areas), mark
        for laid in board.tree.laid:
            for step in range(101):
                place = laid.at(laid.run.length_mm * step / 100)
                assert any(area.contains_point(place) for area in areas), (laid.run.name, step)
    window = window_of(A4[0])
    for sheet in formboard_sheets(network, (A4[0],), "NOT RELEASED"):
        words = [mark for mark in sheet.marks if isinstance(mark, TextMark)]
        assert any(mark.text == "NOT RELEASED" for mark in words)
        for one, other in combinations([mark.box for mark in words if mark.box.y0 > window.y1], 2):
            assert not one.intersects(other), sheet.title
        assert all(sheet.paper.box.contains(mark.box) for mark in sheet.marks), sheet.title
