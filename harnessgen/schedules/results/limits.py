"""The limits that applied: every limit of the table, with the value that was used and where it comes from."""

from harnessgen.design.limits.table import CHOICES, DEFAULT_LIMITS, Limit, chosen, limit
from harnessgen.measures.designator import natural_key
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import plain_number, tolerance_text
from harnessgen.network.network import Network
from harnessgen.schedules.tables.table import Column, Table


@frozen
class LimitRow:
    """One limit as it applied: to the whole harness, or to the circuits that set their own."""

    name: str
    value: str
    unit: str
    applies_to: str
    source: str


def limit_rows(network: Network) -> tuple[LimitRow, ...]:
    """Limits in the order of the table; a circuit's own follow the one that they replace."""
    whole = network.design.limits
    by_circuit = {wire.circuit: wire.limits for wire in network.wires if wire.limits is not None}
    rows: list[LimitRow] = []
    for name in DEFAULT_LIMITS:
        general = limit(name, whole)
        rows.append(_row(general, "whole harness"))
        for circuit in sorted(by_circuit, key=natural_key):
            own = limit(name, by_circuit[circuit], whole)
            if own != general:
                rows.append(_row(own, f"circuit {circuit}"))
    for name in CHOICES:
        word, source = chosen(name, whole)
        rows.append(LimitRow(name, word, "", "whole harness", str(source)))
        for circuit in sorted(by_circuit, key=natural_key):
            own_word, own_source = chosen(name, by_circuit[circuit], whole)
            if own_source != source:
                rows.append(LimitRow(name, own_word, "", f"circuit {circuit}", str(own_source)))
    return tuple(rows)


def _row(applied: Limit, applies_to: str) -> LimitRow:
    value, tolerance = plain_number(applied.value.value), tolerance_text(applied.value)
    # A tolerance is written as a quantity of value nought.
    text = tolerance if tolerance and value == "0" else f"{value} {tolerance}".rstrip()
    unit = "" if applied.unit == "1" else applied.unit
    return LimitRow(applied.name, text, unit, applies_to, str(applied.source))


_COLUMNS: tuple[Column[LimitRow], ...] = (
    Column("limit", "limit", lambda row: row.name),
    Column("value", "value", lambda row: row.value),
    Column("unit", "unit", lambda row: row.unit),
    Column("applies_to", "applies to", lambda row: row.applies_to),
    Column("source", "source", lambda row: row.source),
)


def limits_table(rows: tuple[LimitRow, ...]) -> Table[LimitRow]:
    """The table of the limits that applied."""
    return Table("limits", "Limits that applied", _COLUMNS, rows)
