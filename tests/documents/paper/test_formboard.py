"""The formboard read back: from the PDF with a PDF library, from the DXF with a DXF library, against the design."""

import io
from math import dist, hypot
from pathlib import Path
from typing import Any

import pypdf
import pytest
from ezdxf import recover
from pypdf.generic import ContentStream

from harnessgen.documents.cad.formboard_dxf import formboard_dxf
from harnessgen.documents.paper.formboard import formboard_pdf
from harnessgen.drawings.formboard.grid import window_of
from harnessgen.drawings.formboard.marks import STRETCH_MM, section_board_at_size
from harnessgen.drawings.formboard.sheets import used_tiles
from harnessgen.schedules.results.status import Status, status_of
from harnessgen.sheets.sheet import PAPERS, Paper
from tests.documents.paper.test_paper import ERROR, fonts
from tests.drawings.generated import network_of
from tests.samples import some

DESIGNS = sorted((Path(__file__).parents[3] / "designs").glob("*.yaml"))
A4 = (PAPERS["A4 landscape"], PAPERS["A4 portrait"])
POINTS_PER_MM = 72 / 25.4
CHECK_PT = 283.4646
"""100 mm: 100 x 72 / 25.4."""
GOOD: Status = status_of([])
Segment = tuple[tuple[float, float], tuple[float, float], float]


def papers(size: str) -> tuple[Paper, ...]:
    return PAPERS[f"{size} landscape"], PAPERS[f"{size} portrait"]


def times(one: list[float], other: list[float]) -> list[float]:
    a, b, c, d, e, f = one
    p, q, r, s, t, u = other
    return [a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u]


def segments(page: Any) -> list[Segment]:
    """Straight strokes of a page in points from its lower left corner, each with the width of its line."""
    found: list[Segment] = []

    def walk(stream: Any, resources: Any, matrix: list[float]) -> None:
        width, stack, path = 1.0, [], []
        at = (0.0, 0.0)

        def there(x: float, y: float) -> tuple[float, float]:
            a, b, c, d, e, f = matrix
            return a * x + c * y + e, b * x + d * y + f

        for operands, operator in ContentStream(stream, page.pdf).operations:
            values = [float(each) for each in operands] if operator in (b"m", b"l", b"cm", b"w") else []
            if operator == b"q":
                stack.append((matrix, width))
            elif operator == b"Q":
                matrix, width = stack.pop()
            elif operator == b"cm":
                matrix = times(values, matrix)
            elif operator == b"w":
                width = values[0]
            elif operator == b"m":
                at = there(*values)
            elif operator == b"l":
                end = there(*values)
                path.append((at, end))
                at = end
            elif operator in (b"S", b"s"):
                scale = hypot(matrix[0], matrix[1])
                found.extend((a, b, width * scale) for a, b in path)
                path = []
            elif operator in (b"f", b"f*", b"n", b"B", b"B*"):
                path = []
            elif operator == b"Do":
                inner = resources["/XObject"][operands[0]].get_object()
                if inner["/Subtype"] == "/Form":
                    own = [float(each) for each in inner.get("/Matrix", [1, 0, 0, 1, 0, 0])]
                    walk(inner, inner.get("/Resources", resources), times(own, matrix))

    walk(page.get_contents(), page["/Resources"], [1.0, 0.0, 0.0, 1.0, 0.0, 0.0])
    return found


@pytest.mark.parametrize("size", ["A4", "letter", "A3"])
def test_every_sheet_has_its_size_and_two_check_lines_of_100_mm(size: str) -> None:
    """ISO 216 A4 and A3, letter by ANSI/ASME Y14.1; 283.46 pt within 0.05 pt, level and upright, on every sheet."""
    sizes = {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "letter": (215.9, 279.4)}
    network = network_of(DESIGNS[0].read_text(encoding="utf-8"))
    pdf = formboard_pdf(network, GOOD, "abc", papers(size))
    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        width_pt, height_pt = float(page.mediabox.width), float(page.mediabox.height)
        short_mm, long_mm = sorted((width_pt / POINTS_PER_MM, height_pt / POINTS_PER_MM))
        assert (short_mm, long_mm) == pytest.approx(sizes[size], abs=0.01)
        strokes = segments(page)
        level = [dist(a, b) for a, b, _ in strokes if a[1] == pytest.approx(b[1], abs=1e-3)]
        upright = [dist(a, b) for a, b, _ in strokes if a[0] == pytest.approx(b[0], abs=1e-3)]
        assert min(abs(long - CHECK_PT) for long in level) < 0.05
        assert min(abs(long - CHECK_PT) for long in upright) < 0.05


@pytest.mark.parametrize("path", some(DESIGNS, 3), ids=lambda path: path.stem)
def test_every_stretch_has_its_length_across_the_sheets(path: Path) -> None:
    """The strokes of all sheets, laid back on the board by the grid, cover each stretch to 0.2 mm and nothing else."""
    network = network_of(path.read_text(encoding="utf-8"))
    pages = list(pypdf.PdfReader(io.BytesIO(formboard_pdf(network, GOOD, "abc", A4))).pages)
    for section in network.sections.sections:
        if not section.legs:
            continue
        board = section_board_at_size(network, section.letter, A4)
        pages.pop(0)
        lines: list[tuple[tuple[float, float], tuple[float, float]]] = []
        window = window_of(board.grid.paper)
        for tile in used_tiles(board):
            page = pages.pop(0)
            high_pt = float(page.mediabox.height)
            for a, b, width in segments(page):
                if width == pytest.approx(STRETCH_MM * POINTS_PER_MM, abs=0.01):
                    ends = [
                        (
                            x / POINTS_PER_MM - window.x0 + tile.area.x0,
                            (high_pt - y) / POINTS_PER_MM - window.y0 + tile.area.y0,
                        )
                        for x, y in (a, b)
                    ]
                    lines.append((ends[0], ends[1]))
        for laid in board.tree.laid:
            on_it = sorted(
                sorted(dist(laid.a, end) for end in line)
                for line in lines
                if all(abs(dist(laid.a, end) + dist(end, laid.b) - laid.run.length_mm) < 0.01 for end in line)
            )
            reached = 0.0
            assert on_it, laid.run.name
            assert on_it[0][0] < 0.05
            for low, high in on_it:
                assert low <= reached + 0.05, laid.run.name
                reached = max(reached, high)
            assert reached == pytest.approx(laid.run.length_mm, abs=0.2), laid.run.name
    assert pages == []


def test_the_drawing_for_a_plotter_has_every_stretch_at_its_length() -> None:
    """Millimetres, a layer for each meaning, the sum of its lines that of the route, and no fault found by an audit."""
    network = network_of((DESIGNS[0]).read_text(encoding="utf-8"))
    text = formboard_dxf(network, A4, GOOD)
    document, auditor = recover.read(io.BytesIO(text.encode("utf-8")))
    assert not auditor.has_errors
    assert document.units == 4, "millimetres"
    space = document.modelspace()
    stretches = sorted(dist(each.dxf.start, each.dxf.end) for each in space.query('LINE[layer=="STRETCHES"]'))
    wanted = sorted(each.length_mm.value for ends in network.design.route.values() for each in ends.values())
    assert stretches == pytest.approx(wanted, abs=1e-6)
    check = [dist(each.dxf.start, each.dxf.end) for each in space.query('LINE[layer=="CHECK"]')]
    assert check == pytest.approx([100.0] * len(check))
    assert len(check) == 2 * sum(bool(section.legs) for section in network.sections.sections)
    assert {"PEGS", "CONNECTORS", "NAMES", "LENGTHS"} <= {entity.dxf.layer for entity in space}
    assert text == formboard_dxf(network, A4, GOOD)


def test_the_paper_is_the_same_twice_has_its_fonts_and_says_what_is_not_for_build() -> None:
    """Bytes alike on repetition, every font inside, and the stamp on every sheet where an error stands."""
    network = network_of(DESIGNS[0].read_text(encoding="utf-8"))
    pdf = formboard_pdf(network, ERROR, "abc", A4)
    assert pdf == formboard_pdf(network, ERROR, "abc", A4)
    assert all(fonts(pdf).values())
    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        assert "NOT RELEASED" in page.extract_text()
    assert "NOT RELEASED" in formboard_dxf(network, A4, ERROR)
