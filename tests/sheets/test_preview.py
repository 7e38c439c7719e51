"""Previews: what a second reader of our SVG puts on the raster is where the marks say it is."""

import io
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageDraw, ImageFont

from harnessgen.sheets.box import Box
from harnessgen.sheets.lettering import font_bytes, text_width_mm
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Arc, Circle, Conductor, Hatch, Mark, Polygon, Polyline, Rectangle, TextMark
from harnessgen.sheets.preview import PreviewUnavailable, png_bytes
from harnessgen.sheets.svg_writer import svg_text
from tests.outside.fakes import fake_library

DOTS_PER_MM = 20
WORDS = ["INJ1", "Ångström ÄÖÜ", "ÉÈÊ Ő Ž ď", "21A RD/YE 0.75", "±5 °C → 12.0 Ω", "jgpqy|", "Jfj", "ΰ Ϋ"]


def ink(marks: tuple[Mark, ...], width_mm: float, height_mm: float) -> Box:
    """The box of all that is not white in the picture of `marks`, in millimetres."""
    picture = Image.open(io.BytesIO(png_bytes(svg_text(marks, width_mm, height_mm, "x"), DOTS_PER_MM))).convert("L")
    assert picture.size == (round(width_mm * DOTS_PER_MM), round(height_mm * DOTS_PER_MM))
    dark = ImageChops.invert(picture).point(lambda value: 255 if value > 40 else 0)
    bounds = dark.getbbox()
    assert bounds is not None
    return Box(*(edge / DOTS_PER_MM for edge in bounds))


def test_a_line_of_100_mm_is_100_mm_long() -> None:
    """At 20 dots a millimetre a line of 100 mm covers 2000 dots, and its thickness of 0.5 mm ten."""
    box = ink((Polyline(((10, 10), (110, 10)), 0.5, kind=MarkKind.GAUGE),), 120, 20)
    assert box.width_mm == pytest.approx(100, abs=1.5 / DOTS_PER_MM)
    assert box.height_mm == pytest.approx(0.5, abs=1.5 / DOTS_PER_MM)
    assert box.x0 == pytest.approx(10, abs=1.5 / DOTS_PER_MM)


@pytest.mark.parametrize(
    "mark",
    [
        Polyline(((10, 10), (30, 12), (15, 30)), 0.8, kind=MarkKind.LEADER),
        Arc(20, 20, 8, -90, 180, 0.5, kind=MarkKind.SYMBOL),
        Arc(20, 20, 8, 30, -200, 0.5, kind=MarkKind.SYMBOL),
        Circle(20, 20, 8, 0.5, fill=(0, 0, 0), kind=MarkKind.SPLICE),
        Rectangle(Box(10, 12, 30, 25), 0.7, corner_mm=2, kind=MarkKind.FACE),
        Polygon(((10, 10), (30, 14), (12, 30)), 0.7, kind=MarkKind.DIMENSION),
        Conductor(((10, 10), (10, 30), (30, 30)), "YE", "GN"),
        Hatch(((10, 10), (30, 14), (12, 30)), 1.5, 45, 0.25, 0.25),
    ],
    ids=lambda mark: type(mark).__name__,
)
def test_ink_fills_its_box_and_stays_inside(mark: Mark) -> None:
    """The picture of each class of mark reaches to its box on all sides and not beyond, within two dots."""
    drawn = ink((mark,), 40, 40)
    for side in ("x0", "y0", "x1", "y1"):
        # Rounded joints and slanting ends do not quite reach the corner of a box that is built from whole strokes.
        assert getattr(drawn, side) == pytest.approx(getattr(mark.box, side), abs=0.4)
    assert mark.box.inflate(2 / DOTS_PER_MM).contains(drawn)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("text", WORDS)
def test_lettering_in_the_packaged_font_stays_in_its_box(text: str, bold: bool) -> None:
    """Drawn by a typesetter of its own with the packaged face, no ink of a text leaves the stated box."""
    size_dots = 200
    face = ImageFont.truetype(io.BytesIO(font_bytes(bold)), size_dots, layout_engine=ImageFont.Layout.BASIC)
    canvas = Image.new("L", (4000, 600))
    ImageDraw.Draw(canvas).text((500, 300), text, fill=255, font=face, anchor="ls")
    bounds = canvas.getbbox()
    assert bounds is not None
    # The typesetter rounds each advance to whole dots, at most half a dot for each character.
    rounding = 1 + len(text) / 2
    stated = TextMark(text, 500, 300, size_dots, bold=bold).box
    assert stated.inflate(rounding).contains(Box(*bounds))
    assert face.getlength(text) == pytest.approx(text_width_mm(text, size_dots, bold), abs=rounding)


def has_our_font() -> bool:
    """Whether the reader finds DejaVu Sans on this computer: its M is as wide as ours."""
    cairocffi = pytest.importorskip("cairocffi")
    context = cairocffi.Context(cairocffi.ImageSurface(cairocffi.FORMAT_A8, 10, 10))
    context.select_font_face("DejaVu Sans")
    context.set_font_size(1000)
    return bool(abs(context.text_extents("M")[4] - text_width_mm("M", 1000)) < 2)


@pytest.mark.parametrize("rotation", [0, 90, -90])
@pytest.mark.parametrize("text", WORDS)
def test_lettering_on_the_sheet_stays_in_its_box(text: str, rotation: int) -> None:
    """On a drawn sheet, level or turned, centred on its anchor, no ink of a text leaves the stated box."""
    if not has_our_font():
        pytest.skip("DejaVu Sans is not installed, so that the reader of the SVG draws with another font")
    mark = TextMark(text, 30, 30, 4, "middle", rotation=rotation)  # type: ignore[arg-type]
    drawn = ink((mark,), 60, 60)
    # Two dots for the smoothing of edges, and the reader rounds each advance to whole dots.
    assert mark.box.inflate((2 + len(text) / 2) / DOTS_PER_MM).contains(drawn)
    assert drawn.centre == pytest.approx(mark.box.centre, abs=0.8)


@pytest.mark.parametrize("raised", ["ImportError", "OSError"])
def test_without_the_library_only_previews_are_missing(tmp_path: Path, raised: str) -> None:
    """Where the binding or the system's library cannot be loaded the documented exception says so."""
    with (
        fake_library(tmp_path, "cairosvg", f"raise {raised}('not here')"),
        pytest.raises(PreviewUnavailable, match=r"the cairo library is not installed; install it with .*apt"),
    ):
        png_bytes(svg_text((), 10, 10, "x"))
