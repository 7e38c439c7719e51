"""A table as marks: a head on a light ground, ruled rows, columns as wide as their widest text."""

from collections.abc import Sequence
from dataclasses import dataclass

from harnessgen.sheets.box import Box
from harnessgen.sheets.lettering import text_width_mm
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polyline, Rectangle, TextMark

HEAD_FILL = (236, 236, 236)
_PAD_EM = 0.5
_ROW_EM = 1.8
_BASELINE_EM = 1.25


@dataclass(frozen=True, slots=True)
class PlacedTable:
    """A placed table: its marks and the box that holds them."""

    marks: tuple[Mark, ...]
    box: Box


def column_widths_mm(head: Sequence[str], rows: Sequence[Sequence[str]], size_mm: float) -> tuple[float, ...]:
    """Width of each column in millimetres: its widest text, the bold head included, with air on both sides."""
    pad_mm = 2 * _PAD_EM * size_mm
    return tuple(
        pad_mm + max([text_width_mm(name, size_mm, bold=True), *(text_width_mm(row[at], size_mm) for row in rows)])
        for at, name in enumerate(head)
    )


def table(
    x: float, y: float, head: Sequence[str], rows: Sequence[Sequence[str]], subject: str, size_mm: float = 2.2
) -> PlacedTable:
    """A table with its upper left corner at (x, y); `subject` names it and must differ from table to table.

    `rows` hold one text for each name in `head`.

    Raises:
        ValueError: a row has more or fewer texts than the head, or the table has no column or no subject.
    """
    if not head or not subject:
        raise ValueError("a table needs a column and a subject")
    if any(len(row) != len(head) for row in rows):
        raise ValueError(f"a row of table {subject} does not have {len(head)} texts")
    widths_mm = column_widths_mm(head, rows, size_mm)
    row_mm = _ROW_EM * size_mm
    right, bottom = x + sum(widths_mm), y + row_mm * (len(rows) + 1)
    marks: list[Mark] = [
        Rectangle(Box(x, y, right, y + row_mm), 0, fill=HEAD_FILL, kind=MarkKind.TABLE_SHADE, subject=subject),
        Rectangle(Box(x, y, right, bottom), 0.25, kind=MarkKind.TABLE_RULE, subject=subject),
    ]
    for index in range(1, len(rows) + 1):
        level = y + row_mm * index
        marks.append(Polyline(((x, level), (right, level)), 0.18, kind=MarkKind.TABLE_RULE, subject=subject))
    for index, texts in enumerate((head, *rows)):
        at = x + _PAD_EM * size_mm
        for text, width_mm in zip(texts, widths_mm, strict=True):
            if text:
                baseline = y + row_mm * index + _BASELINE_EM * size_mm
                kind = MarkKind.TABLE_TEXT
                marks.append(TextMark(text, at, baseline, size_mm, bold=index == 0, kind=kind, subject=subject))
            at += width_mm
    return PlacedTable(tuple(marks), Box(x, y, right, bottom).inflate(0.125))
