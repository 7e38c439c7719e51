"""The formboard as DXF in millimetres, for a plotter or a router: all sections one under the other, layers by meaning.

DXF is the drawing interchange format whose reference its maker publishes; written in its R2010 form with ezdxf.
"""

import re
from io import StringIO
from typing import TYPE_CHECKING

from harnessgen.drawings.formboard.marks import SectionBoard, section_board_at_size
from harnessgen.drawings.formboard.sheets import CHECK_MM, section_name
from harnessgen.network.network import Network
from harnessgen.schedules.results.status import Status
from harnessgen.sheets.box import Point
from harnessgen.sheets.lettering import CAP_HEIGHT_EM, drawn_text
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Circle, Mark, Polyline, TextMark, box_of
from harnessgen.sheets.sheet import Paper

if TYPE_CHECKING:
    from ezdxf.layouts.layout import Modelspace

LAYERS = {
    MarkKind.BUNDLE: "STRETCHES",
    MarkKind.BREAKOUT: "PEGS",
    MarkKind.SPLICE: "SPLICES",
    MarkKind.CLIP: "CLIPS",
    MarkKind.TAPE: "TAPE",
    MarkKind.GROMMET: "GROMMETS",
    MarkKind.FACE: "CONNECTORS",
    MarkKind.DIMENSION_TEXT: "LENGTHS",
    MarkKind.LABEL: "NAMES",
    MarkKind.LEADER: "NAMES",
    MarkKind.GAUGE: "CHECK",
    MarkKind.TITLE_TEXT: "NAMES",
}
"""Layer of each kind of mark."""
_BETWEEN_MM = 120.0
_TITLE_MM = 8.0


def formboard_dxf(network: Network, papers: tuple[Paper, ...], status: Status) -> str:
    """All sections at 1:1; y upwards, as DXF has it. The same design gives the same text.

    Raises:
        ValueError: no section has a stretch.
    """
    import ezdxf
    from ezdxf import units
    from ezdxf.filemanagement import new

    # Without this the file carries the clock and a random number.
    ezdxf.options.write_fixed_meta_data_for_testing = True  # type: ignore[attr-defined]
    document = new("R2010", units=units.MM)
    for name in dict.fromkeys(LAYERS.values()):
        document.layers.add(name)
    space = document.modelspace()
    low_mm, is_empty = 0.0, True
    for section in network.sections.sections:
        if not section.legs:
            continue
        board = section_board_at_size(network, section.letter, papers)
        box = box_of(board.marks)
        title = section_name(network, section) + f", {status.banner or status.release_words}"
        dy_mm = low_mm - box.y0
        _write(space, TextMark(title, box.x0, -20.0 + low_mm, _TITLE_MM, kind=MarkKind.TITLE_TEXT))
        for mark in (*board.marks, *_check_lines(board)):
            _write(space, mark.shift(0.0, dy_mm))
        low_mm, is_empty = low_mm + box.height_mm + _BETWEEN_MM, False
    if is_empty:
        raise ValueError("no section has a stretch to lay on a board")
    # The library adds its classes in the order of a set, which changes from run to run; added before, they are sorted.
    document.classes.add_required_classes(document.dxfversion)
    document.classes.classes = dict(sorted(document.classes.classes.items()))
    written = StringIO()
    document.write(written)
    return written.getvalue()


def _check_lines(board: SectionBoard) -> tuple[Mark, ...]:
    """A level and an upright line of exactly 100 mm, left of the board."""
    box = box_of(board.marks)
    x, y = box.x0 - CHECK_MM - 30.0, box.y0 + CHECK_MM
    lines: tuple[tuple[Point, Point], ...] = (((x, y), (x + CHECK_MM, y)), ((x, y), (x, y - CHECK_MM)))
    return tuple(Polyline(line, kind=MarkKind.GAUGE, subject="check line") for line in lines)


def _write(space: "Modelspace", mark: Mark) -> None:
    layer = {"layer": LAYERS[mark.kind]}
    match mark:
        case Polyline(points=points) if len(points) == 2:
            space.add_line(_up(points[0]), _up(points[1]), dxfattribs=layer)
        case Polyline(points=points):
            space.add_lwpolyline([_up(point) for point in points], dxfattribs=layer)
        case Circle(cx=cx, cy=cy, radius_mm=radius_mm):
            space.add_circle(_up((cx, cy)), radius_mm, dxfattribs=layer)
        case TextMark():
            _write_text(space, mark, layer)
        case _:
            raise TypeError(f"no way to write a {type(mark).__name__} as DXF")


def _write_text(space: "Modelspace", mark: TextMark, layer: dict[str, str]) -> None:
    from ezdxf.enums import TextEntityAlignment

    align = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }[mark.anchor]
    # DXF measures a text by its capitals.
    written = space.add_text(
        text_in_dxf(drawn_text(mark.text)),
        height=mark.size_mm * CAP_HEIGHT_EM,
        rotation=-mark.rotation,
        dxfattribs=layer,
    )
    written.set_placement(_up((mark.x, mark.y)), align=align)


def text_in_dxf(text: str) -> str:
    """`text` so that a reader of DXF draws it letter by letter.

    The DXF reference gives a TEXT its own codes: `%%d` and the like draw signs or lines, `%%%` is one per cent sign; a
    caret begins a control character, and is itself `^` with a blank; `\\U+0041` and `\\M+1` with digits are letters.
    """
    text = re.sub(r"\\(?=[UM]\+)", r"\\U+005C", text)
    return re.sub("%{2,}", lambda match: "%%%" * len(match[0]), text).replace("^", "^ ")


def _up(point: Point) -> Point:
    return point[0], -point[1]
