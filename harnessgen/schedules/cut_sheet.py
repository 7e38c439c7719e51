"""The cut list as it lies on the bench: a row for each end of each wire, with boxes for the cut and each end."""

from harnessgen.network.network import HarnessSection
from harnessgen.schedules.cut_list import CutEnd, CutRow, cut_notes
from harnessgen.schedules.length_text import inches_up
from harnessgen.schedules.table import Align, Cell, Column, Table, number_column, tick_column

_INCHES = Column("cut_in", "cut", "in", is_of_item=True)


def cut_sheet_table(rows: tuple[CutRow, ...], section: HarnessSection, length_unit: str) -> Table:
    """The cut list of a section for paper; in a design in inches or feet inches stand beside the millimetres."""
    in_inches = length_unit in ("in", "ft")
    columns = (
        tick_column("cut_done", "cut", is_of_item=True),
        Column("mark", "wire", is_of_item=True),
        Column("circuit", "circuit", is_of_item=True),
        Column("colour", "colour", is_of_item=True),
        Column("size", "size", is_of_item=True),
        Column("family", "family", is_of_item=True),
        Column("cut_mm", "cut", "mm", Align.RIGHT, is_of_item=True),
        *([_INCHES] if in_inches else []),
        Column("end", "end"),
        Column("terminal", "terminal"),
        number_column("strip_mm", "strip", "mm"),
        number_column("pull_n", "pull", "N"),
        Column("seal", "seal"),
        Column("slide_on", "slide on first"),
        Column("label", "label"),
        tick_column("end_done", "end"),
    )
    cells: list[tuple[Cell, ...]] = []
    for row in rows:
        inches = (inches_up(row.cut_mm),) if in_inches else ()
        of_wire = (None, row.mark, row.circuit, row.colour, row.size, row.family, row.cut_mm, *inches)
        cells.append((*of_wire, *_end(row, row.end_1)))
        cells.append((*(None for _ in of_wire), *_end(row, row.end_2)))
    # The first note is of the needed length, which a bench has no use for.
    notes = (
        "Cut is the length to cut; tick a wire when it is cut, and an end when it is finished.",
        *cut_notes(rows, in_inches=in_inches)[1:],
    )
    return Table("cut-sheet", f"Cut list {section.number}", columns, tuple(cells), notes, item_rows=2)


def _end(row: CutRow, end: CutEnd) -> tuple[Cell, ...]:
    pull = row.pull.force_n if row.pull and end.terminal else None
    strip = end.strip_mm if end.terminal else None
    return (end.words, end.terminal, strip, pull, end.seal, end.slide_on, end.label, None)
