"""Clips, tape and grommets on the formboard, read back from the PDF and from the DXF against the design."""

import io
from itertools import pairwise
from math import dist
from pathlib import Path

import pypdf
import pytest
from ezdxf import recover

from harnessgen.documents.cad.formboard_dxf import formboard_dxf
from harnessgen.documents.paper.formboard import formboard_pdf
from harnessgen.drawings.formboard.fixings import CLIP_MM
from harnessgen.drawings.formboard.grid import window_of
from harnessgen.drawings.formboard.marks import section_board_at_size
from harnessgen.drawings.formboard.sheets import used_tiles
from harnessgen.network.fixings import fixings_on
from harnessgen.network.network import Network
from tests.documents.paper.test_formboard import A4, GOOD, POINTS_PER_MM, segments
from tests.drawings.generated import network_of
from tests.drawings.layout.test_fixings import HEAD, ROUTE
from tests.samples import some

DESIGNS = sorted((Path(__file__).parents[3] / "designs").glob("*.yaml"))
TEXTS = {"tried": HEAD + ROUTE} | {path.stem: path.read_text(encoding="utf-8") for path in DESIGNS}
EACH = pytest.mark.parametrize("name", some(TEXTS, ["tried", "flat-six", "small-boat"]))
Point = tuple[float, float]


def places(network: Network, letter: str, kind: str) -> list[Point]:
    """Where the middle of each thing of a kind lies on the board, by the design's distance along the laid stretch."""
    board = section_board_at_size(network, letter, A4)
    found = []
    for laid in board.tree.laid:
        leg = next(each for each in network.route.legs if each.name == laid.run.name)
        is_turned = laid.run.start != leg.start and laid.run.end == leg.start
        for fixing in fixings_on(network, leg):
            if fixing.kind == kind:
                middle_mm = (fixing.low_mm + fixing.high_mm) / 2
                share = middle_mm / leg.stretch.length_mm.value
                share = 1.0 - share if is_turned else share
                (ax, ay), (bx, by) = laid.a, laid.b
                found.append((ax + share * (bx - ax), ay + share * (by - ay)))
    return found


@EACH
def test_clips_lie_at_their_places_on_paper(name: str) -> None:
    """The bars of all sheets, laid back on the board by the grid, have their middles at the clips, to 0.05 mm."""
    network = network_of(TEXTS[name])
    pages = list(pypdf.PdfReader(io.BytesIO(formboard_pdf(network, GOOD, "abc", A4))).pages)
    for section in network.sections.sections:
        if not section.legs:
            continue
        board = section_board_at_size(network, section.letter, A4)
        window = window_of(board.grid.paper)
        pages.pop(0)
        middles: list[Point] = []
        for tile in used_tiles(board):
            page = pages.pop(0)
            high_pt = float(page.mediabox.height)
            for (ax, ay), (bx, by), width in segments(page):
                if width == pytest.approx(CLIP_MM * POINTS_PER_MM, abs=0.01) and dist((ax, ay), (bx, by)) > 6.0:
                    x, y = (ax + bx) / 2 / POINTS_PER_MM, (high_pt - (ay + by) / 2) / POINTS_PER_MM
                    middles.append((x - window.x0 + tile.area.x0, y - window.y0 + tile.area.y0))
        wanted = places(network, section.letter, "clip")
        for place in wanted:
            assert any(dist(place, each) < 0.05 for each in middles), place
        # A bar that a sheet's edge cuts has its middle elsewhere; whole ones are at a clip.
        assert sum(any(dist(place, each) < 0.05 for place in wanted) for each in middles) >= len(wanted)
        assert bool(middles) is bool(wanted)


@EACH
def test_the_plotter_draws_each_on_its_own_layer_at_its_place(name: str) -> None:
    """Distances from the lines of the stretches: clips and grommets on them, tape as long as it is."""
    network = network_of(TEXTS[name])
    document, auditor = recover.read(io.BytesIO(formboard_dxf(network, A4, GOOD).encode("utf-8")))
    assert not auditor.has_errors
    space = document.modelspace()
    legs = {leg.name: leg for leg in network.route.legs}.values()
    wanted = {
        kind: sorted(
            (round(leg.stretch.length_mm.value, 3), round(min(mm, leg.stretch.length_mm.value - mm), 2))
            for leg in legs
            for each in fixings_on(network, leg)
            if each.kind == kind
            for mm in ((each.low_mm + each.high_mm) / 2,)
        )
        for kind in ("clip", "grommet")
    }
    stretches = [(each.dxf.start.vec2, each.dxf.end.vec2) for each in space.query('LINE[layer=="STRETCHES"]')]

    def found(middle: Point) -> tuple[float, float]:
        """Length of the stretch on which a place lies, and its distance from the nearer end."""
        for a, b in stretches:
            one, other, whole = dist(a, middle), dist(middle, b), dist(a, b)
            if abs(one + other - whole) < 1e-3:
                return round(whole, 3), round(min(one, other), 2)
        raise AssertionError(middle)

    clips = [(each.dxf.start + each.dxf.end) / 2 for each in space.query('LINE[layer=="CLIPS"]')]
    assert sorted(found((each.x, each.y)) for each in clips) == wanted["clip"]
    lines = [(each.dxf.start, each.dxf.end) for each in space.query('LINE[layer=="GROMMETS"]')]
    # Two flanges and the panel on both sides: four lines each, whose middles have the place as their middle.
    assert len(lines) == 4 * len(wanted["grommet"])
    told = []
    for index in range(0, len(lines), 4):
        ends = [end for line in lines[index : index + 4] for end in line]
        told.append(found((sum(each.x for each in ends) / 8, sum(each.y for each in ends) / 8)))
    assert sorted(told) == wanted["grommet"]


def test_tape_has_its_length_on_the_plotter() -> None:
    """A box of 100 mm around its middle; one that begins at the end of the stretch leaves room for the peg."""
    network = network_of(TEXTS["tried"])
    document, _ = recover.read(io.BytesIO(formboard_dxf(network, A4, GOOD).encode("utf-8")))
    boxes = [
        [tuple(point) for point in each.get_points("xy")]
        for each in document.modelspace().query('LWPOLYLINE[layer=="TAPE"]')
    ]
    closed = [each for each in boxes if each[0] == each[-1]]
    longest = sorted(max(dist(one, other) for one, other in pairwise(each)) for each in closed)
    assert longest == pytest.approx([57.0, 100.0, 394.0], abs=0.01)
