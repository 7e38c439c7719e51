"""The splice schedule: each joint, where it sits, and the wires in it by the side that they leave it on."""

from harnessgen.measures.designator import natural_key
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import HarnessSection, Network
from harnessgen.network.splices import leaves_towards
from harnessgen.network.vehicle_wires import VehicleWire
from harnessgen.schedules.tables.length_text import length_with_unit
from harnessgen.schedules.tables.table import Column, Medium, Table, number_column, tick_column


@frozen
class SpliceRow:
    """One wire in a splice. `leaves_towards` is the point of the route that it sets out for."""

    section: str
    splice: str
    place: str
    part: str
    mark: str
    circuit: str
    colour: str
    size: str
    strip_mm: float
    leaves_towards: str
    other_end: str


def splice_rows(network: Network, section: HarnessSection) -> tuple[SpliceRow, ...]:
    """Splices of a section in the order of their numbers, each with its wires by the side that they leave on."""
    rows: list[SpliceRow] = []
    for name in sorted(network.design.splices, key=natural_key):
        wires = [wire for wire in network.wires_at.get(name, ()) if wire.section == section.letter]
        part = network.splice_part(name)
        found = [
            SpliceRow(
                section.number,
                name,
                splice_place(network, name),
                part.name,
                wire.mark,
                wire.circuit,
                str(wire.colour),
                str(wire.size),
                part.strip_mm.value,
                leaves_towards(network, wire, name),
                str(wire.other(name)),
            )
            for wire in wires
        ]
        rows += [_of_vehicle(network, section, name, each) for each in network.given_at.get(name, ()) if wires]
        rows += sorted(found, key=lambda row: (natural_key(row.leaves_towards), natural_key(row.mark)))
    return tuple(rows)


def _of_vehicle(network: Network, section: HarnessSection, name: str, wire: VehicleWire) -> SpliceRow:
    """A wire of the vehicle in a tap: it is bared where it lies, and not cut."""
    part = network.splice_part(name)
    words = (wire.mark, wire.circuit.name, "vehicle's own", str(wire.circuit.size))
    other = wire.b if wire.a == name else wire.a
    place = splice_place(network, name)
    return SpliceRow(section.number, name, place, part.name, *words, part.strip_mm.value, "", other)


def splice_place(network: Network, name: str) -> str:
    """Where a splice sits, from its datum: `b1, 40 mm towards lb1`."""
    splice = network.design.splices[name]
    if not splice.toward or not splice.offset_mm.value:
        return splice.at
    offset = length_with_unit(splice.offset_mm.value, network.design.units.length)
    return f"{splice.at}, {offset} towards {splice.toward}"


_COLUMNS: tuple[Column[SpliceRow], ...] = (
    Column("section", "section", lambda row: row.section, on=Medium.CSV),
    Column("splice", "splice", lambda row: row.splice),
    Column("place", "place on the route", lambda row: row.place),
    Column("part", "splice family", lambda row: row.part),
    Column("mark", "wire", lambda row: row.mark),
    Column("circuit", "circuit", lambda row: row.circuit),
    Column("colour", "colour", lambda row: row.colour),
    Column("size", "size", lambda row: row.size),
    number_column("strip_mm", "strip", "mm", lambda row: row.strip_mm),
    Column("leaves_towards", "leaves towards", lambda row: row.leaves_towards),
    Column("other_end", "other end", lambda row: row.other_end),
    tick_column(),
)


def splice_table(rows: tuple[SpliceRow, ...], section: HarnessSection) -> Table[SpliceRow]:
    """The splice schedule of a section."""
    notes = ("Place is measured from the centre of the breakout or point that is named first.",)
    return Table("splice-schedule", f"Splice schedule {section.number}", _COLUMNS, rows, notes)
