"""The cavity chart: every cavity of every connector half, wired, plugged or empty."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from harnessgen.bench.setup.connector_half import Half, contact_words, halves, seal_in
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import HarnessSection, Network
from harnessgen.network.wires import Wire
from harnessgen.schedules.tables.table import Column, Medium, Table, tick_column

PLUG = "cavity plug"
EMPTY = "empty"
FREE = "free, as the vehicle has it"
OCCUPIED = "vehicle's own wire"


@frozen
class CavityRow:
    """One cavity; of two wires in one cavity each has a row. `fill` is the seal, the plug, or the word for nothing."""

    section: str
    connector: str
    contacts: str
    cavity: str
    mark: str
    circuit: str
    colour: str
    size: str
    terminal: str
    fill: str
    other_end: str


def cavity_rows(network: Network, section: HarnessSection) -> tuple[CavityRow, ...]:
    """Cavities of the connectors of a section, in the order of their faces."""
    rows: list[CavityRow] = []
    for half in halves(network).values():
        if half.section == section.letter:
            for cavity in half.part.cavities:
                wires = network.wires_at.get(f"{half.designator}/{cavity}", [])
                rows += [_wired(network, section, half, cavity, wire) for wire in wires] or [
                    _free(network, section, half, cavity)
                ]
    return tuple(rows)


def _wired(network: Network, section: HarnessSection, half: Half, cavity: str, wire: Wire) -> CavityRow:
    node = f"{half.designator}/{cavity}"
    seal = seal_in(network, half, cavity)
    contact = contact_words(network, half, cavity)
    wired = (wire.mark, wire.circuit, str(wire.colour), str(wire.size), contact, seal.name if seal else "")
    return CavityRow(section.number, half.designator, half.contacts, cavity, *wired, str(wire.other(node)))


def _free(network: Network, section: HarnessSection, half: Half, cavity: str) -> CavityRow:
    fill = EMPTY if seal_in(network, half, cavity) is None else PLUG
    node = f"{half.designator}/{cavity}"
    if node in network.occupied:
        marks = ", ".join(each.mark for each in network.given_at.get(node, ()))
        return CavityRow(section.number, half.designator, half.contacts, cavity, marks, "", "", "", "", OCCUPIED, "")
    if half.designator in network.design.vehicle.connectors:
        fill = FREE
    return CavityRow(section.number, half.designator, half.contacts, cavity, "", "", "", "", "", fill, "")


_COLUMNS: tuple[Column[CavityRow], ...] = (
    Column("section", "section", lambda row: row.section, on=Medium.CSV),
    Column("connector", "connector", lambda row: row.connector),
    Column("contacts", "contacts", lambda row: row.contacts),
    Column("cavity", "cavity", lambda row: row.cavity),
    Column("mark", "wire", lambda row: row.mark),
    Column("circuit", "circuit", lambda row: row.circuit),
    Column("colour", "colour", lambda row: row.colour),
    Column("size", "size", lambda row: row.size),
    Column("terminal", "terminal", lambda row: row.terminal),
    Column("fill", "seal or plug", lambda row: row.fill),
    Column("other_end", "other end", lambda row: row.other_end),
    tick_column(),
)


def cavity_table(network: Network, rows: tuple[CavityRow, ...], section: HarnessSection) -> Table[CavityRow]:
    """The cavity charts of a section; unused cavities side by side with the same fill share a row: `3 to 13`."""
    notes = tuple(_mates(network, section))
    return Table("cavity-chart", f"Cavity charts {section.number}", _COLUMNS, tuple(_gathered(rows)), notes)


def _gathered(rows: tuple[CavityRow, ...]) -> Iterator[CavityRow]:
    """The rows, of a run of unused cavities one for all of them."""
    for _, run in groupby(enumerate(rows), key=lambda pair: _run_key(*pair)):
        own = [row for _, row in run]
        first, last = own[0].cavity, own[-1].cavity
        joint = " and " if len(own) == 2 else " to "
        yield own[0] if len(own) == 1 else replace(own[0], cavity=f"{first}{joint}{last}")


def _run_key(index: int, row: CavityRow) -> tuple[str, str, int]:
    return (row.connector, row.fill, index if row.mark else -1)


def _mates(network: Network, section: HarnessSection) -> list[str]:
    own = [half for half in halves(network).values() if half.section == section.letter]
    return [
        f"{half.designator}: {half.part.title}, {half.contacts}" + (f", to {half.mate}" if half.mate else "")
        for half in own
    ]
