"""Frame, title block and status stamp as marks, in a strip along the foot of the sheet that no drawing enters."""

from dataclasses import dataclass

from harnessgen.sheets.box import Box
from harnessgen.sheets.lettering import ASCENT_EM, DESCENT_EM, drawn_text, fit_text, wrap_text
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polyline, Rectangle, TextMark

MARGIN_MM = 8.0
"""From the edge of the paper to the frame."""
STRIP_MM = 20.0
"""Height of the strip at the foot of the frame that holds title block and stamp."""
BLOCK_MM = 124.0
_LEFT_MM = 72.0
_PAD_MM = 2.0
_LEAST_MM = 2.0

_COLOURS = "colours IEC 60757"
CAUTION = "check with local codes and a licensed practitioner"


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What a title block says; `status` is stamped large beside it, with `status_detail` under it, and may be empty.

    `lengths` is the unit of the lengths on the sheet, empty where it has none; `design` is the short hash of the
    design that it was made from, `release` says what the design is released for.
    """

    title: str
    number: str
    revision: str
    date: str
    sheet: int
    sheets: int
    status: str = ""
    status_detail: str = ""
    lengths: str = "mm"
    design: str = ""
    release: str = ""


def frame_marks(frame: Box, block: TitleBlock) -> tuple[Mark, ...]:
    """The frame, the title block in its lower right corner and, left of it, the stamp if there is a status."""
    corner = Box(frame.x1 - BLOCK_MM, frame.y1 - STRIP_MM, frame.x1, frame.y1)
    outline = Rectangle(frame, 0.5, kind=MarkKind.FRAME)
    return (outline, *_rules(corner), *_left_cell(corner, block), *_right_cells(corner, block), *_stamp(frame, block))


def _rules(area: Box) -> tuple[Mark, ...]:
    split, middle = area.x0 + _LEFT_MM, (area.y0 + area.y1) / 2
    third_mm = (area.x1 - split) / 3
    lines = (
        (((area.x0, area.y1), (area.x0, area.y0), (area.x1, area.y0)), 0.4),
        (((split, area.y0), (split, area.y1)), 0.3),
        (((split, middle), (area.x1, middle)), 0.3),
        (((split + 0.75 * third_mm, middle), (split + 0.75 * third_mm, area.y1)), 0.3),
        (((split + 2 * third_mm, middle), (split + 2 * third_mm, area.y1)), 0.3),
    )
    return tuple(Polyline(points, width_mm, kind=MarkKind.TITLE_RULE) for points, width_mm in lines)


def _line(text: str, x: float, y: float, width_mm: float, size_mm: float, bold: bool = False) -> TextMark:
    shown, fitted_mm = fit_text(text, width_mm, size_mm, _LEAST_MM, bold)
    return TextMark(shown, x, y, fitted_mm, bold=bold, kind=MarkKind.TITLE_TEXT)


def _left_cell(area: Box, block: TitleBlock) -> tuple[Mark, ...]:
    x, width_mm = area.x0 + _PAD_MM, _LEFT_MM - 2 * _PAD_MM
    units = f"all lengths {block.lengths}, {_COLOURS}" if block.lengths else _COLOURS
    return (
        *_title(block.title, x, area.y0, width_mm),
        _line(units, x, area.y0 + 11.4, width_mm, 2.4),
        _line(block.release, x, area.y0 + 15.0, width_mm, 2.4),
        _line(CAUTION, x, area.y0 + 18.6, width_mm, 2.4),
    )


def _title(title: str, x: float, y: float, width_mm: float) -> tuple[Mark, ...]:
    """The title on one line, or, where that would make it small, on two."""
    shown, size_mm = fit_text(title, width_mm, 4.0, 2.9, bold=True)
    if shown == drawn_text(title):
        return (TextMark(shown, x, y + 6.6, size_mm, bold=True, kind=MarkKind.TITLE_TEXT),)
    first, *others = wrap_text(title, width_mm, 2.9, bold=True)
    lines = [fit_text(line, width_mm, 2.9, _LEAST_MM, bold=True) for line in (first, " ".join(others)) if line]
    size_mm = min(fitted_mm for _, fitted_mm in lines)
    return tuple(
        TextMark(line, x, y + 4.0 * (index + 1), size_mm, bold=True, kind=MarkKind.TITLE_TEXT)
        for index, (line, _) in enumerate(lines)
    )


def _right_cells(area: Box, block: TitleBlock) -> tuple[Mark, ...]:
    split, middle = area.x0 + _LEFT_MM, (area.y0 + area.y1) / 2
    third_mm = (area.x1 - split) / 3
    cells = (
        ("number", block.number, split, area.y0, 3 * third_mm),
        ("revision", block.revision, split, middle, 0.75 * third_mm),
        ("date", block.date, split + 0.75 * third_mm, middle, 1.25 * third_mm),
        ("sheet", f"{block.sheet} of {block.sheets}", split + 2 * third_mm, middle, third_mm),
    )
    texts: list[Mark] = []
    for name, value, x, y, wide_mm in cells:
        room_mm = wide_mm - 2 * _PAD_MM + 0.6
        texts.append(_line(name, x + _PAD_MM, y + 3.4, room_mm, 2.0))
        texts.append(_line(value, x + _PAD_MM, y + 8.0, room_mm, 3.2, bold=True))
    if block.design:
        shown, size_mm = fit_text(f"design {block.design}", 3 * third_mm - 16.0, 2.0, _LEAST_MM)
        x = area.x1 - _PAD_MM
        texts.append(TextMark(shown, x, area.y0 + 3.4, size_mm, "end", kind=MarkKind.TITLE_TEXT))
    return tuple(texts)


def stamp_area(frame: Box) -> Box:
    """Where the status stamp stands: the strip left of the title block, with air around it."""
    return Box(frame.x0, frame.y1 - STRIP_MM, frame.x1 - BLOCK_MM, frame.y1).inflate(-2.0)


def _stamp(frame: Box, block: TitleBlock) -> tuple[Mark, ...]:
    if not block.status:
        return ()
    area = stamp_area(frame)
    room = area.inflate(-2.2)
    detail, detail_mm = fit_text(block.status_detail, room.width_mm - 1.0, 2.8, _LEAST_MM)
    high_mm = room.height_mm - (detail_mm + 0.4 if detail else 0.0)
    status, size_mm = fit_text(block.status, room.width_mm - 1.0, high_mm, 3.0, bold=True)
    x = area.centre[0]
    marks: list[Mark] = [
        Rectangle(area, 1.0, kind=MarkKind.STATUS),
        Rectangle(area.inflate(-1.3), 0.3, kind=MarkKind.STATUS),
        TextMark(
            status,
            x,
            room.y0 + (high_mm + (ASCENT_EM - DESCENT_EM) * size_mm) / 2,
            size_mm,
            "middle",
            bold=True,
            kind=MarkKind.STATUS_TEXT,
        ),
    ]
    if detail:
        baseline = room.y1 - DESCENT_EM * detail_mm
        marks.append(TextMark(detail, x, baseline, detail_mm, "middle", kind=MarkKind.STATUS_TEXT))
    return tuple(marks)
