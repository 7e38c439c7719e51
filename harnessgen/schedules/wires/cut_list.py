"""The cut list: one row for each wire to cut, in the order in which a person cuts them."""

from collections.abc import Mapping
from dataclasses import replace

from harnessgen.bench.setup.connector_half import Half, contact_in, contact_words, halves, seal_in
from harnessgen.evidence.publication import Standing
from harnessgen.lengths.wire_length import WireLength, has_way
from harnessgen.measures.designator import natural_key
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import HarnessSection, Network
from harnessgen.network.splices import leaves_towards
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.physics.physics import Physics
from harnessgen.schedules.tables.length_text import in_inches, inches_up
from harnessgen.schedules.tables.table import Align, Column, Medium, Table, in_unit, number_column, tick_column
from harnessgen.schedules.wires.crimp_force import CrimpForce, crimp_force
from harnessgen.schedules.wires.slide_on import covering_words, slide_on_words
from harnessgen.source.kind import names_in


@frozen
class CutEnd:
    """One end of a wire to cut: where it goes, what is crimped on, how far to strip, its seal and its label.

    `side` is the point of the route towards which it leaves a splice: the side of the barrel. `slide_on` is what has to
    be on the wire before this end is finished. `pull` is what its crimp has to stand; None where nothing is crimped, or
    no table holds the size.
    """

    place: str
    what: str
    terminal: str
    strip_mm: float
    seal: str
    label: str
    side: str = ""
    slide_on: str = ""
    pull: CrimpForce | None = None

    @property
    def words(self) -> str:
        """Where it goes, a splice with the side of its barrel: `splice S1, side of b1`."""
        return f"{self.what}, side of {self.side}" if self.side else self.what


@frozen
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
    has_way: bool = True
    """False where both ends lie at one point of the route, and no slack or cut says how far apart they are."""

    @property
    def pull(self) -> CrimpForce | None:
        """What each of its crimps has to stand; None where nothing is crimped, or no table holds the size."""
        return self.end_1.pull or self.end_2.pull


def cut_rows(network: Network, physics: Physics, section: HarnessSection) -> tuple[CutRow, ...]:
    """Wires of one section, those from the same spool together, the longest of them first."""
    held = halves(network)
    own = (wire for wire in network.wires if wire.section == section.letter)
    wires = sorted(own, key=lambda wire: _cutting_order(wire, physics.lengths[wire.mark]))
    slides = covering_words(network, section)
    return tuple(_row(network, held, section, wire, physics.lengths[wire.mark], slides) for wire in wires)


def _cutting_order(
    wire: Wire, length: WireLength
) -> tuple[str, str, float, str, float, tuple[tuple[int, int, str], ...]]:
    spool = (wire.family.name, wire.size.system, wire.figures.area_mm2.value, str(wire.colour))
    return (*spool, -length.cut_mm, natural_key(wire.mark))


_Slides = Mapping[tuple[str, str], tuple[str, ...]]


def _row(
    network: Network,
    held: Mapping[str, Half],
    section: HarnessSection,
    wire: Wire,
    length: WireLength,
    slides: _Slides,
) -> CutRow:
    ends = _end(network, held, wire, wire.a, slides), _end(network, held, wire, wire.b, slides)
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
        has_way=has_way(wire, length),
    )


def _end(network: Network, held: Mapping[str, Half], wire: Wire, end: WireEnd, slides: _Slides) -> CutEnd:
    plain = CutEnd(
        end.node, "", "", 0.0, "", f"{wire.mark} {end.node}", slide_on=slide_on_words(network, wire, end, slides)
    )
    pull = crimp_force(wire.size)
    if end.kind is EndKind.SPLICE:
        part, side = network.splice_part(end.designator), leaves_towards(network, wire, end.node)
        what, strip_mm = f"splice {end.node}", part.strip_mm.value
        return replace(plain, what=what, terminal=part.name, strip_mm=strip_mm, side=side, pull=pull)
    if end.kind is EndKind.CAVITY:
        half = held[end.designator]
        contact, seal = contact_in(network, half, end.terminal), seal_in(network, half, end.terminal)
        noun = "half" if half.is_disconnect else "connector"
        what, sealed = f"{noun} {end.designator} cavity {end.terminal}", seal.name if seal else ""
        strip_mm = contact.strip_mm.value
        words = contact_words(network, half, end.terminal)
        return replace(plain, what=what, terminal=words, strip_mm=strip_mm, seal=sealed, pull=pull)
    what = f"{end.designator} terminal {end.terminal}" if end.terminal else end.designator
    landed = network.contact_at(end)
    if landed is None:
        return replace(plain, what=what)
    return replace(plain, what=what, terminal=landed.name, strip_mm=landed.strip_mm.value, pull=pull)


_LONG = Medium.CSV | Medium.PAGE
"""The list with a row for each wire; on paper each end of a wire has a row."""

OF_WIRE: tuple[Column[CutRow], ...] = (
    Column("section", "section", lambda row: row.section, on=Medium.CSV),
    tick_column("cut_done", "cut", on=Medium.PAPER, is_of_item=True),
    Column("mark", "wire", lambda row: row.mark, is_of_item=True),
    Column("circuit", "circuit", lambda row: row.circuit, is_of_item=True),
    Column("colour", "colour", lambda row: row.colour, is_of_item=True),
    Column("colour_words", "colour in words", lambda row: row.colour_words, on=_LONG),
    Column("size", "size", lambda row: row.size, is_of_item=True),
    Column("family", "wire family", lambda row: row.family, paper_heading="family", is_of_item=True),
    Column("cut_mm", "cut", lambda row: row.cut_mm, "mm", Align.RIGHT, is_of_item=True),
    Column("cut_in", "cut", lambda row: inches_up(row.cut_mm), "in", is_of_item=True, is_inches=True),
    number_column("needed_mm", "needed", "mm", lambda row: row.needed_mm, on=_LONG),
    number_column("pull_n", "pull", "N", lambda row: row.pull.force_n if row.pull else None, on=_LONG),
    Column("pull_by", "pull by", lambda row: str(row.pull.source) if row.pull else "", on=Medium.CSV),
)
"""What a cut list says of a wire."""

OF_END: tuple[Column[CutEnd], ...] = (
    Column("end", "end", lambda end: end.words),
    Column("terminal", "terminal", lambda end: end.terminal),
    Column("strip_mm", "strip", lambda end: end.strip_mm, "mm", Align.RIGHT, is_zero_blank_on_paper=True),
    number_column("pull_n", "pull", "N", lambda end: end.pull.force_n if end.pull else None, on=Medium.PAPER),
    Column("seal", "seal", lambda end: end.seal),
    Column("slide_on", "slide on first", lambda end: end.slide_on),
    Column("label", "label", lambda end: end.label),
    tick_column("end_done", "end", on=Medium.PAPER),
)
"""What it says of each end."""


def _numbered(column: Column[CutEnd], number: int) -> Column[CutEnd]:
    """The column of the first or second end, where one row holds both: `strip_1_mm`, headed `strip 1`."""
    unit = f"_{column.unit.lower()}" if column.unit else ""
    return replace(column, key=f"{column.key.removesuffix(unit)}_{number}{unit}", heading=f"{column.heading} {number}")


_COLUMNS: tuple[Column[CutRow], ...] = (
    *OF_WIRE,
    *(_numbered(each, 1).of(lambda row: row.end_1) for each in OF_END),
    *(_numbered(each, 2).of(lambda row: row.end_2) for each in OF_END),
    tick_column(on=Medium.PAGE),
)


def cut_table(rows: tuple[CutRow, ...], section: HarnessSection, length_unit: str) -> Table[CutRow]:
    """The cut list of a section; in a design in inches or feet a column in inches stands beside the millimetres."""
    has_inches = in_inches(length_unit)
    columns, notes = in_unit(_COLUMNS, has_inches=has_inches), cut_notes(rows, has_inches=has_inches)
    return Table("cut-list", f"Cut list {section.number}", columns, rows, notes)


def cut_notes(rows: tuple[CutRow, ...], *, has_inches: bool) -> tuple[str, ...]:
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
    if has_inches:
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
        "Slide on first: seals, sleeves of splices, and closed coverings that do not pass the finished end beside"
        " the other wires; before which housings are filled see the order of assembly."
    )
    return tuple(notes)


def has_crimp(row: CutRow) -> bool:
    """True where a terminal or a splice is crimped to one of the ends."""
    return bool(row.end_1.terminal or row.end_2.terminal)
