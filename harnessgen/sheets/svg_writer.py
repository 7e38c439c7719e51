"""Marks to SVG text: millimetres as user units, a short list of elements, the same bytes for the same marks.

No script, style sheet, pattern, clip path, reference or id: all that a reader sees stands in the element itself. Each
text carries the width that our own lettering gave it (`textLength`), so another font cannot change its place.
Marks of one kind and subject stand in a group with `data-kind` and `data-subject`.
"""

from collections.abc import Iterable
from functools import singledispatch
from itertools import groupby
from math import cos, radians, sin
from xml.sax.saxutils import escape, quoteattr

from harnessgen.measures.quantised import quantised
from harnessgen.sheets.box import Point
from harnessgen.sheets.insulation_colours import EDGE, WHITE, Rgb, insulation_colour
from harnessgen.sheets.lettering import FAMILY, drawn_text, text_width_mm
from harnessgen.sheets.mark_kind import DRAWING_ORDER
from harnessgen.sheets.marks import Arc, Circle, Conductor, Hatch, Mark, Polygon, Polyline, Rectangle, TextMark

_STROKE = frozenset({"fill", "stroke", "stroke-width"})
_LINE = _STROKE | {"stroke-dasharray", "stroke-linejoin"}

ALLOWED: dict[str, frozenset[str]] = {
    "svg": frozenset({"xmlns", "width", "height", "viewBox", "font-family"}),
    "title": frozenset(),
    "g": frozenset({"data-kind", "data-subject"}),
    "path": _LINE | {"d"},
    "polyline": _LINE | {"points"},
    "polygon": _LINE | {"points"},
    "rect": _STROKE | {"x", "y", "width", "height", "rx"},
    "circle": _STROKE | {"cx", "cy", "r"},
    "text": frozenset({"x", "y", "font-size", "font-weight", "textLength", "lengthAdjust", "fill", "transform"}),
}
"""Every element that is written, and the attributes that it may carry; nothing else may appear."""

EDGE_MM = 0.18
"""Dark edge on each side of a conductor."""
STRIPE_SHARE = 0.3
"""Width of a stripe as a share of the conductor."""
STRIPE_DASH_MM = (2.0, 1.2)


def number(value: float) -> str:
    """`value` in millimetres or degrees to a thousandth, without trailing zeros and never as minus nought."""
    shown = f"{quantised(value):.3f}".rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown


def colour(rgb: Rgb | None) -> str:
    """A colour as `#rrggbb`, or `none`."""
    return "none" if rgb is None else "#{:02x}{:02x}{:02x}".format(*rgb)


def _element(name: str, **attributes: str | float) -> str:
    parts = [name]
    for key, value in attributes.items():
        shown = value if isinstance(value, str) else number(value)
        parts.append(f"{key.replace('_', '-')}={quoteattr(shown)}")
    return f"<{' '.join(parts)}/>"


def _points(points: Iterable[Point]) -> str:
    return " ".join(f"{number(x)},{number(y)}" for x, y in points)


def _pen(ink: Rgb, width_mm: float, fill: Rgb | None = None) -> dict[str, str | float]:
    pen: dict[str, str | float] = {"fill": colour(fill)}
    if width_mm > 0:
        pen |= {"stroke": colour(ink), "stroke_width": width_mm}
    return pen


@singledispatch
def _written(mark: Mark) -> str:
    raise TypeError(f"no way to write a {type(mark).__name__} as SVG")


@_written.register
def _(mark: Polyline) -> str:
    pen = _pen(mark.ink, mark.width_mm)
    if mark.dash_mm:
        pen["stroke_dasharray"] = " ".join(map(number, mark.dash_mm))
    if len(mark.points) > 2:
        pen["stroke_linejoin"] = "round"
    return _element("polyline", points=_points(mark.points), **pen)


@_written.register
def _(mark: Arc) -> str:
    pen = _pen(mark.ink, mark.width_mm)
    if abs(mark.sweep_deg) >= 360:
        return _element("circle", cx=mark.cx, cy=mark.cy, r=mark.radius_mm, **pen)
    first, last = radians(mark.start_deg), radians(mark.start_deg + mark.sweep_deg)
    start = f"{number(mark.cx + mark.radius_mm * cos(first))} {number(mark.cy + mark.radius_mm * sin(first))}"
    end = f"{number(mark.cx + mark.radius_mm * cos(last))} {number(mark.cy + mark.radius_mm * sin(last))}"
    flags = f"{int(abs(mark.sweep_deg) > 180)} {int(mark.sweep_deg > 0)}"
    radius = number(mark.radius_mm)
    return _element("path", d=f"M{start}A{radius} {radius} 0 {flags} {end}", **pen)


@_written.register
def _(mark: Circle) -> str:
    pen = _pen(mark.ink, mark.width_mm, mark.fill)
    return _element("circle", cx=mark.cx, cy=mark.cy, r=mark.radius_mm, **pen)


@_written.register
def _(mark: Rectangle) -> str:
    area = mark.area
    corner: dict[str, str | float] = {"rx": mark.corner_mm} if mark.corner_mm > 0 else {}
    pen = _pen(mark.ink, mark.width_mm, mark.fill)
    return _element("rect", x=area.x0, y=area.y0, width=area.width_mm, height=area.height_mm, **corner, **pen)


@_written.register
def _(mark: Polygon) -> str:
    pen = _pen(mark.ink, mark.width_mm, mark.fill)
    if mark.width_mm > 0:
        pen["stroke_linejoin"] = "round"
    return _element("polygon", points=_points(mark.points), **pen)


@_written.register
def _(mark: TextMark) -> str:
    shown = drawn_text(mark.text)
    if not shown:
        return ""
    width_mm = text_width_mm(shown, mark.size_mm, mark.bold)
    # Always from the start of the text, so that a reader that has another font or measures ink cannot move it.
    back_mm = {"start": 0.0, "middle": width_mm / 2, "end": width_mm}[mark.anchor]
    pen: dict[str, str | float] = {"x": mark.x - back_mm, "y": mark.y, "font_size": mark.size_mm}
    if mark.bold:
        pen["font_weight"] = "bold"
    if width_mm > 0:
        pen |= {"textLength": width_mm, "lengthAdjust": "spacingAndGlyphs"}
    if mark.rotation:
        pen["transform"] = f"rotate({mark.rotation} {number(mark.x)} {number(mark.y)})"
    opening = _element("text", **pen, fill=colour(mark.ink))[:-2]
    return f"{opening}>{escape(shown)}</text>"


@_written.register
def _(mark: Conductor) -> str:
    points = _points(mark.points)
    inner_mm = mark.width_mm - 2 * EDGE_MM
    lines = [
        _element("polyline", points=points, **_pen(EDGE, mark.width_mm)),
        _element("polyline", points=points, **_pen(insulation_colour(mark.base), inner_mm)),
    ]
    if mark.stripe:
        pen = _pen(insulation_colour(mark.stripe), mark.width_mm * STRIPE_SHARE)
        dash = " ".join(map(number, STRIPE_DASH_MM))
        lines.append(_element("polyline", points=points, **pen, stroke_dasharray=dash))
    return "".join(lines)


@_written.register
def _(mark: Hatch) -> str:
    strokes = "".join(f"M{number(a[0])} {number(a[1])}L{number(b[0])} {number(b[1])}" for a, b in mark.strokes)
    pen = _pen(mark.ink, mark.edge_mm, mark.fill)
    if mark.edge_mm > 0:
        pen["stroke_linejoin"] = "round"
    area = _element("polygon", points=_points(mark.points), **pen)
    return area + (_element("path", d=strokes, **_pen(mark.ink, mark.width_mm)) if strokes else "")


def svg_text(marks: Iterable[Mark], width_mm: float, height_mm: float, title: str) -> str:
    """A whole SVG document of `width_mm` by `height_mm` with all `marks` on white, the lowest kinds first.

    Raises:
        TypeError: a mark is of a class that this writer does not know.
    """
    size = f'width="{number(width_mm)}mm" height="{number(height_mm)}mm"'
    view = f'viewBox="0 0 {number(width_mm)} {number(height_mm)}"'
    family = quoteattr(f"{FAMILY}, sans-serif")
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {view} font-family={family}>',
        f"<title>{escape(drawn_text(title))}</title>",
        _element("rect", x=0, y=0, width=width_mm, height=height_mm, fill=colour(WHITE)),
    ]
    ordered = sorted(marks, key=lambda mark: DRAWING_ORDER[mark.kind])
    for (kind, subject), group in groupby(ordered, key=lambda mark: (mark.kind, mark.subject)):
        named = f" data-subject={quoteattr(drawn_text(subject))}" if subject else ""
        lines.append(f'<g data-kind="{kind.value}"{named}>{"".join(map(_written, group))}</g>')
    return "\n".join([*lines, "</svg>\n"])
