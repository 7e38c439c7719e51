"""The cut list as it lies on the bench: a row for each end of each wire, with boxes for the cut and each end."""

from harnessgen.measures.frozen import frozen
from harnessgen.network.network import HarnessSection
from harnessgen.schedules.tables.length_text import in_inches
from harnessgen.schedules.tables.table import Column, Table, in_unit
from harnessgen.schedules.wires.cut_list import OF_END, OF_WIRE, CutEnd, CutRow, cut_notes


@frozen
class CutSheetRow:
    """One end of a wire to cut; both ends of a wire follow each other."""

    wire: CutRow
    end: CutEnd


_COLUMNS: tuple[Column[CutSheetRow], ...] = (
    *(each.of(lambda row: row.wire) for each in OF_WIRE),
    *(each.of(lambda row: row.end) for each in OF_END),
)


def cut_sheet_table(rows: tuple[CutRow, ...], section: HarnessSection, length_unit: str) -> Table[CutSheetRow]:
    """The cut list of a section for paper; in a design in inches or feet inches stand beside the millimetres."""
    has_inches = in_inches(length_unit)
    ends = tuple(CutSheetRow(row, end) for row in rows for end in (row.end_1, row.end_2))
    # The first note is of the needed length, which a bench has no use for.
    notes = (
        "Cut is the length to cut; tick a wire when it is cut, and an end when it is finished.",
        *cut_notes(rows, has_inches=has_inches)[1:],
    )
    columns = in_unit(_COLUMNS, has_inches=has_inches)
    return Table("cut-sheet", f"Cut list {section.number}", columns, ends, notes, item_rows=2)
