"""What each test sheet cannot show, as rows: the class of fault, what it leads to, why, and which sheet shows it."""

from harnessgen.bench.proof import Proofs
from harnessgen.bench.setup.step import Missed, Procedure
from harnessgen.bench.undetected import sheet_name
from harnessgen.measures.frozen import frozen
from harnessgen.schedules.tables.table import Column, Table, number_column

_MOST_SUBJECTS = 60


@frozen
class MissedRow:
    """What the sheet named `sheet` misses, for one reason; of its subjects at most `most` are named."""

    sheet: str
    missed: Missed
    most: int


_COLUMNS: tuple[Column[MissedRow], ...] = (
    Column("fault", "fault", lambda row: row.missed.kind),
    Column("leads_to", "leads to", lambda row: row.missed.leads_to),
    number_column("count", "faults", "", lambda row: row.missed.count),
    Column("of", "of", lambda row: _subjects(row.missed, row.most)),
    Column("why", "why these steps do not show it", lambda row: row.missed.reason),
    Column("shown_on", "shown by", lambda row: row.missed.shown_on or "no sheet"),
)
_OF_ALL: tuple[Column[MissedRow], ...] = (Column("sheet", "sheet", lambda row: row.sheet), *_COLUMNS)


def missed_table(procedure: Procedure) -> Table[MissedRow]:
    """What one procedure does not show; without rows where it shows all that it is asked for."""
    rows = tuple(MissedRow("", each, _MOST_SUBJECTS) for each in procedure.missed)
    notes = ("What is found by none of these steps can still be there when all of them come out.",)
    return Table("missed", "What these steps cannot show", _COLUMNS, rows, notes if rows else ())


def every_missed_table(proofs: Proofs) -> Table[MissedRow]:
    """The same of every sheet, every subject named."""
    rows = tuple(
        MissedRow(sheet_name(proofs.network, proof), each, len(each.subjects))
        for proof in proofs.proofs
        for each in proof.procedure.missed
    )
    return Table("missed", "What each sheet cannot show", _OF_ALL, rows)


def _subjects(missed: Missed, most: int) -> str:
    """Names of the wires, connectors and devices; a long list on a sheet ends with how many more there are."""
    if missed.is_whole and len(missed.subjects) > most:
        return "every one"
    more = len(missed.subjects) - most
    return ", ".join(missed.subjects[:most]) + (f" and {more} more, in missed.csv" if more > 0 else "")
