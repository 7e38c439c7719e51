"""The cut list: one row for each wire to cut, in the order in which a person cuts them."""

from collections.abc import Mapping

from harnessgen.bench.half import Half, contact_in, halves, seal_in
from harnessgen.evidence.publication import Standing
from harnessgen.measures.designator import natural_key
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import HarnessSection, Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.physics.physics import Physics
from harnessgen.physics.wire_length import WireLength
from harnessgen.schedules.crimp_force import CrimpForce, crimp_force
from harnessgen.schedules.length_text import inches_up
from harnessgen.schedules.slide_on import slide_on_words
from harnessgen.schedules.splice_schedule import leaves_towards
from harnessgen.schedules.table import Column, Table, number_column, tick_column
from harnessgen.source.kind import names_in


@frozen
class CutEnd:
    """One end of a wire to cut: where it goes, what is crimped on, how far to strip, its seal and its label.

    `side` is the point of the route towards which it leaves a splice: the side of the barrel. `slide_on` is what has to
    be on the wire before this end is finished.
    """

    place: str
    what: str
    terminal: str
    strip_mm: float
    seal: str
    label: str
    side: str = ""
    slide_on: str = ""

    @property
    def words(self) -> str:
        """Where it goes, a splice with the side of its barrel: `splice S1, side of b1`."""
        return f"{self.what}, side of {self.side}" if self.side else self.what


@frozen
class CutRow:
    """One wire to cut. `is_given` says that the design itself gives the cut length.

    `pull` is what each of its crimps has to stand; None where nothing is crimped, or no table holds the size.
    """

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
    pull: CrimpForce | None = None
    has_way: bool = True
    """False where both ends lie at one point of the route, and no slack or cut says how far apart they are."""


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
    ends = _end(network, held, wire, wire.a), _end(network, held, wire, wire.b)
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
        end_1=ends[0],
        end_2=ends[1],
        pull=crimp_force(wire.size) if any(end.terminal for end in ends) else None,
        has_way=any(leg.length_mm for leg in wire.way) or bool(wire.slack_mm.value) or length.given_mm is not None,
    )


def _end(network: Network, held: Mapping[str, Half], wire: Wire, end: WireEnd) -> CutEnd:
    label, slide_on = f"{wire.mark} {end.node}", slide_on_words(network, wire, end)
    if end.kind is EndKind.SPLICE:
        part, side = network.splice_part(end.designator), leaves_towards(network, wire, end.node)
        return CutEnd(end.node, f"splice {end.node}", part.name, part.strip_mm.value, "", label, side, slide_on)
    if end.kind is EndKind.CAVITY:
        half = held[end.designator]
        contact, seal = contact_in(network, half, end.terminal), seal_in(network, half, end.terminal)
        noun = "half" if half.is_disconnect else "connector"
        what = f"{noun} {end.designator} cavity {end.terminal}"
        strip_mm, sealed = contact.strip_mm.value, seal.name if seal else ""
        return CutEnd(end.node, what, contact.name, strip_mm, sealed, label, "", slide_on)
    landed = network.contact_at(end)
    name, strip = (landed.name, landed.strip_mm.value) if landed is not None else ("", 0.0)
    what = f"{end.designator} terminal {end.terminal}" if end.terminal else end.designator
    return CutEnd(end.node, what, name, strip, "", label, "", slide_on)


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
    number_column("pull_n", "pull", "N"),
    Column("pull_by", "pull by", is_in_title=True),
    Column("end_1", "end 1"),
    Column("terminal_1", "terminal 1"),
    number_column("strip_1_mm", "strip 1", "mm"),
    Column("seal_1", "seal 1"),
    Column("slide_on_1", "slide on first 1"),
    Column("label_1", "label 1"),
    Column("end_2", "end 2"),
    Column("terminal_2", "terminal 2"),
    number_column("strip_2_mm", "strip 2", "mm"),
    Column("seal_2", "seal 2"),
    Column("slide_on_2", "slide on first 2"),
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
    return Table("cut-list", f"Cut list {section.number}", columns, tuple(cells), cut_notes(rows, in_inches=in_inches))


def cut_notes(rows: tuple[CutRow, ...], *, in_inches: bool) -> tuple[str, ...]:
    """What the columns of a cut list mean, and where its crimp forces come from."""
    notes = [
        "Cut is the length to cut; needed is the most likely length by the route, with what both ends take.",
        "A wire's label goes on each end: its mark and where that end goes.",
    ]
    lost = [row.mark for row in rows if not row.has_way]
    if lost:
        notes.append(
            f"Do not cut {names_in(lost)} by this list: both ends lie at one point of the route, and nothing says"
            " how far apart they are. Measure the way, and give it as slack, or as points of the route of their own."
        )
    if in_inches:
        notes.append("Inches are the millimetres rounded up to the next sixteenth.")
    given = ", ".join(row.mark for row in rows if row.is_given)
    if given:
        notes.append(f"The design itself gives the cut length of {given}.")
    sources = "; ".join(dict.fromkeys(str(row.pull.source) for row in rows if row.pull))
    if sources:
        notes.append(f"Pull is the least force that a sample crimp on the wire has to stand. {sources}.")
        notes.append("No force is interpolated: a size between two rows of a table takes the lower one.")
    if any(row.pull and row.pull.source.standing is Standing.FROM_MEMORY for row in rows):
        notes.append("Forces from memory are not confirmed: look them up before a crimp is judged by them.")
    missing = ", ".join(dict.fromkeys(row.size for row in rows if row.pull is None and has_crimp(row)))
    if missing:
        notes.append(f"The tables of crimp forces do not hold {missing}: ask the maker of the terminal.")
    notes.append(
        "Slide on first: seals, sleeves of splices, closed coverings of the route; for the rest see the covering list."
    )
    return tuple(notes)


def has_crimp(row: CutRow) -> bool:
    """True where a terminal or a splice is crimped to one of the ends."""
    return bool(row.end_1.terminal or row.end_2.terminal)


def _cells(row: CutRow) -> tuple[str | float | None, ...]:
    head = (row.section, row.mark, row.circuit, row.colour, row.colour_words, row.size, row.family)
    pull: tuple[float | None, str] = (row.pull.force_n, str(row.pull.source)) if row.pull else (None, "")
    return (*head, row.cut_mm, row.needed_mm, *pull, *_end_cells(row.end_1), *_end_cells(row.end_2), None)


def _end_cells(end: CutEnd) -> tuple[str | float, ...]:
    return (end.words, end.terminal, end.strip_mm, end.seal, end.slide_on, end.label)
