"""The cut list: one row for each wire to cut, in the order in which a person cuts them."""

from collections.abc import Mapping
from dataclasses import dataclass

from harnessgen.bench.half import Half, contact_in, halves, seal_in
from harnessgen.measures.designator import natural_key
from harnessgen.network.network import HarnessSection, Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.physics.physics import Physics
from harnessgen.physics.wire_length import WireLength
from harnessgen.schedules.length_text import inches_up
from harnessgen.schedules.table import Column, Table, number_column, tick_column


@dataclass(frozen=True, slots=True)
class CutEnd:
    """One end of a wire to cut: where it goes, what is crimped on, how far to strip, its seal and its label."""

    place: str
    what: str
    terminal: str
    strip_mm: float
    seal: str
    label: str


@dataclass(frozen=True, slots=True)
class CutRow:
    """One wire to cut. `is_given` says that the design itself gives the cut length."""

    section: str
    mark: str
    circuit: str
    colour: str
    colour_words: str
    size: str
    family: str
    cut_mm: float
    needed_mm: float
    is_given: bool
    end_1: CutEnd
    end_2: CutEnd


def cut_rows(network: Network, physics: Physics, section: HarnessSection) -> tuple[CutRow, ...]:
    """Wires of one section, those from the same spool together, the longest of them first."""
    held = halves(network)
    own = (wire for wire in network.wires if wire.section == section.letter)
    wires = sorted(own, key=lambda wire: _cutting_order(wire, physics.lengths[wire.mark]))
    return tuple(_row(network, held, section, wire, physics.lengths[wire.mark]) for wire in wires)


def _cutting_order(
    wire: Wire, length: WireLength
) -> tuple[str, str, float, str, float, tuple[tuple[int, int, str], ...]]:
    spool = (wire.family.name, wire.size.system, wire.figures.area_mm2.value, str(wire.colour))
    return (*spool, -length.cut_mm, natural_key(wire.mark))


def _row(network: Network, held: Mapping[str, Half], section: HarnessSection, wire: Wire, length: WireLength) -> CutRow:
    return CutRow(
        section=section.number,
        mark=wire.mark,
        circuit=wire.circuit,
        colour=str(wire.colour),
        colour_words=wire.colour.words,
        size=str(wire.size),
        family=wire.family.name,
        cut_mm=length.cut_mm,
        needed_mm=length.needed_mm,
        is_given=length.given_mm is not None,
        end_1=_end(network, held, wire, wire.a),
        end_2=_end(network, held, wire, wire.b),
    )


def _end(network: Network, held: Mapping[str, Half], wire: Wire, end: WireEnd) -> CutEnd:
    label = f"{wire.mark} {end.node}"
    if end.kind is EndKind.SPLICE:
        part = network.splice_part(end.designator)
        return CutEnd(end.node, f"splice {end.node}", part.name, part.strip_mm.value, "", label)
    if end.kind is EndKind.CAVITY:
        half = held[end.designator]
        contact, seal = contact_in(network, half, end.terminal), seal_in(network, half, end.terminal)
        noun = "half" if half.is_disconnect else "connector"
        what = f"{noun} {end.designator} cavity {end.terminal}"
        return CutEnd(end.node, what, contact.name, contact.strip_mm.value, seal.name if seal else "", label)
    landed = network.contact_at(end)
    name, strip = (landed.name, landed.strip_mm.value) if landed is not None else ("", 0.0)
    what = f"{end.designator} terminal {end.terminal}" if end.terminal else end.designator
    return CutEnd(end.node, what, name, strip, "", label)


COLUMNS = (
    Column("section", "section", is_in_title=True),
    Column("mark", "wire"),
    Column("circuit", "circuit"),
    Column("colour", "colour"),
    Column("colour_words", "colour in words"),
    Column("size", "size"),
    Column("family", "wire family"),
    number_column("cut_mm", "cut", "mm"),
    number_column("needed_mm", "needed", "mm"),
    Column("end_1", "end 1"),
    Column("terminal_1", "terminal 1"),
    number_column("strip_1_mm", "strip 1", "mm"),
    Column("seal_1", "seal 1"),
    Column("label_1", "label 1"),
    Column("end_2", "end 2"),
    Column("terminal_2", "terminal 2"),
    number_column("strip_2_mm", "strip 2", "mm"),
    Column("seal_2", "seal 2"),
    Column("label_2", "label 2"),
    tick_column(),
)
INCHES = Column("cut_in", "cut", "in")


def cut_table(rows: tuple[CutRow, ...], section: HarnessSection, length_unit: str) -> Table:
    """The cut list of a section; in a design in inches or feet a column in inches stands beside the millimetres."""
    at = next(index for index, column in enumerate(COLUMNS) if column.key == "cut_mm") + 1
    in_inches = length_unit in ("in", "ft")
    columns = (*COLUMNS[:at], INCHES, *COLUMNS[at:]) if in_inches else COLUMNS
    cells = []
    for row in rows:
        own = _cells(row)
        cells.append((*own[:at], inches_up(row.cut_mm), *own[at:]) if in_inches else own)
    notes = [
        "Cut is the length to cut; needed is the most likely length by the route, with what both ends take.",
        "A wire's label goes on each end: its mark and where that end goes.",
    ]
    if in_inches:
        notes.append("Inches are the millimetres rounded up to the next sixteenth.")
    given = ", ".join(row.mark for row in rows if row.is_given)
    if given:
        notes.append(f"The design itself gives the cut length of {given}.")
    return Table("cut-list", f"Cut list {section.number}", columns, tuple(cells), tuple(notes))


def _cells(row: CutRow) -> tuple[str | float | None, ...]:
    head = (row.section, row.mark, row.circuit, row.colour, row.colour_words, row.size, row.family)
    return (*head, row.cut_mm, row.needed_mm, *_end_cells(row.end_1), *_end_cells(row.end_2), None)


def _end_cells(end: CutEnd) -> tuple[str | float, ...]:
    return (end.what, end.terminal, end.strip_mm, end.seal, end.label)
