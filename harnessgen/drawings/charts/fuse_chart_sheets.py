"""Sheets with a chart for each fuse: its opening times against what its wires stand, four to a sheet."""

from harnessgen.design.records.device import Fuse
from harnessgen.drawings.charts.fuse_chart import chart_marks
from harnessgen.physics.physics import Physics
from harnessgen.rules.protection.guards import guards
from harnessgen.sheets.box import Box
from harnessgen.sheets.marks import Mark, TextMark
from harnessgen.sheets.sheet import PAPERS, Paper, Sheet, usable_area
from harnessgen.sheets.title_block import TitleBlock

_COLUMNS, _ROWS = 2, 2
_NOTE_MM = 5.0
_NOTE = (
    "Thick: latest opening, thin: earliest; dotted: beyond the published range, by the same I2t. "
    "Dashed: the wire, until its insulation is at its limit. Ring: the least margin in time."
)


def protection_sheets(physics: Physics, paper: Paper = PAPERS["A4 landscape"]) -> tuple[Sheet, ...]:
    """The charts of all fuses with opening times, in the order of the design; none where there is no such fuse."""
    listed = guards(physics)
    harness = physics.network.design.harness
    title, number = (harness.title, harness.number) if harness is not None else ("", "")
    revision, date = (harness.revision, harness.date) if harness is not None else ("", "")
    each = _COLUMNS * _ROWS
    groups = [listed[start : start + each] for start in range(0, len(listed), each)]
    sheets: list[Sheet] = []
    for at, group in enumerate(groups, 1):
        block = TitleBlock(f"{title}: fuses and their wires", number, revision, date, at, len(groups))
        marks = [
            mark
            for guard, cell in zip(group, _cells(usable_area(paper)), strict=False)
            for mark in chart_marks(guard, cell)
        ]
        sheets.append(Sheet(paper, block, (*marks, _note(usable_area(paper)))))
    return tuple(sheets)


def unjudged_fuses(physics: Physics) -> list[str]:
    """Fuses without a chart, in the order of the design."""
    judged = {guard.protects.fuse.name for guard in guards(physics)}
    devices = physics.network.design.devices.values()
    return [each.name for each in devices if isinstance(each, Fuse) and each.name not in judged]


def _cells(area: Box) -> list[Box]:
    width_mm, height_mm = area.width_mm / _COLUMNS, (area.height_mm - _NOTE_MM) / _ROWS
    return [
        Box(
            area.x0 + column * width_mm,
            area.y0 + row * height_mm,
            area.x0 + (column + 1) * width_mm,
            area.y0 + (row + 1) * height_mm,
        )
        for row in range(_ROWS)
        for column in range(_COLUMNS)
    ]


def _note(area: Box) -> Mark:
    return TextMark(_NOTE, area.x0 + 3.0, area.y1 - 1.2, 2.4)
