"""What each test sheet cannot show, as rows: the class of fault, what it leads to, why, and which sheet shows it."""

from collections.abc import Iterator

from harnessgen.bench.missed import sheet_name
from harnessgen.bench.proof import Proofs
from harnessgen.bench.step import Missed, Procedure
from harnessgen.schedules.table import Cell, Column, Table, number_column

_MOST_SUBJECTS = 60
_COLUMNS = (
    Column("fault", "fault"),
    Column("leads_to", "leads to"),
    number_column("count", "faults", ""),
    Column("of", "of"),
    Column("why", "why these steps do not show it"),
    Column("shown_on", "shown by"),
)
_SHEET = (Column("sheet", "sheet"), *_COLUMNS)


def missed_table(procedure: Procedure) -> Table:
    """What one procedure does not show; without rows where it shows all that it is asked for."""
    rows = tuple(_row(each, _MOST_SUBJECTS) for each in procedure.missed)
    notes = ("What is found by none of these steps can still be there when all of them come out.",)
    return Table("missed", "What these steps cannot show", _COLUMNS, rows, notes if rows else ())


def every_missed_table(proofs: Proofs) -> Table:
    """The same of every sheet, every subject named."""
    return Table("missed", "What each sheet cannot show", _SHEET, tuple(_rows(proofs)))


def _rows(proofs: Proofs) -> Iterator[tuple[Cell, ...]]:
    for proof in proofs.proofs:
        name = sheet_name(proofs.network, proof)
        yield from ((name, *_row(each, len(each.subjects))) for each in proof.procedure.missed)


def _row(missed: Missed, most: int) -> tuple[Cell, ...]:
    return (
        missed.kind,
        missed.leads_to,
        missed.count,
        _subjects(missed, most),
        missed.reason,
        missed.shown_on or "no sheet",
    )


def _subjects(missed: Missed, most: int) -> str:
    """Names of the wires, connectors and devices; a long list on a sheet ends with how many more there are."""
    if missed.is_whole and len(missed.subjects) > most:
        return "every one"
    more = len(missed.subjects) - most
    return ", ".join(missed.subjects[:most]) + (f" and {more} more, in missed.csv" if more > 0 else "")
