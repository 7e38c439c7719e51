"""The covering list: each covered stretch with the piece of covering to cut for it, longer by what it will lose."""

import math

from harnessgen.design.limits.table import limit
from harnessgen.lengths.bundles.slide_order import SlideOn, slides_on
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import HarnessSection, Network
from harnessgen.network.route import Leg
from harnessgen.parts.covering import CoveringPart
from harnessgen.schedules.bundles.assembly_order import before_words
from harnessgen.schedules.tables.length_text import in_inches, inches_text, inches_up
from harnessgen.schedules.tables.table import Column, Medium, Table, in_unit, number_column, tick_column


@frozen
class CoveringRow:
    """One piece of covering. `covers_mm` is the finished length; `loses` the share of the cut piece that it loses."""

    section: str
    stretch: str
    covering: str
    title: str
    covers_mm: float
    loses: float
    why: str
    cut_mm: float
    goes_on: str


def covering_rows(network: Network, section: HarnessSection) -> tuple[CoveringRow, ...]:
    """Coverings of a section in the order of its route, one piece for each stretch, splices on it or not."""
    legs = {(leg.from_point, leg.to_point): leg for leg in section.legs if leg.stretch.covering}
    step_mm = limit("cutting-step", network.design.limits).value.value
    slides = {each.stretch: each for each in slides_on(network, section)}
    return tuple(_row(network, section, leg, step_mm, slides.get(leg.name)) for leg in legs.values())


def _row(network: Network, section: HarnessSection, leg: Leg, step_mm: float, slide: SlideOn | None) -> CoveringRow:
    part = network.parts.coverings[leg.stretch.covering]
    covers_mm = covered_mm(leg)
    loses = part.shortening.value
    # The share is of the piece that is cut, so the piece is divided by what stays of it.
    cut_mm = max(math.ceil(covers_mm / (1.0 - loses) / step_mm - 1e-9), 1) * step_mm
    before = before_words(slide) if slide is not None else ""
    goes_on = f"from {slide.side}, before {before}" if slide is not None and before else ""
    return CoveringRow(section.number, leg.name, part.name, part.title, covers_mm, loses, _why(part), cut_mm, goes_on)


def covered_mm(leg: Leg) -> float:
    """Length of the finished bundle of a leg's whole stretch: as built where the design says it, else by the route."""
    stretch = leg.stretch
    if stretch.built_mm is not None:
        return stretch.built_mm.value
    extra_mm = stretch.slack_mm.value + stretch.drip_loop_mm.value + stretch.movement_mm.value
    return stretch.length_mm.value + extra_mm


def _why(part: CoveringPart) -> str:
    """What a covering loses in length as it goes on, in words."""
    share = part.shortening.value
    return f"{plain_number(100 * share, 1)} %" if share else "none"


_COLUMNS: tuple[Column[CoveringRow], ...] = (
    Column("section", "section", lambda row: row.section, on=Medium.CSV),
    Column("stretch", "stretch", lambda row: row.stretch),
    Column("covering", "covering", lambda row: row.covering),
    Column("title", "what it is", lambda row: row.title),
    number_column("covers_mm", "finished", "mm", lambda row: row.covers_mm),
    Column("covers_in", "finished", lambda row: inches_text(row.covers_mm), "in", is_inches=True),
    Column("loses", "lost in length", lambda row: row.why),
    number_column("cut_mm", "cut", "mm", lambda row: row.cut_mm),
    Column("cut_in", "cut", lambda row: inches_up(row.cut_mm), "in", is_inches=True),
    Column("goes_on", "slide on", lambda row: row.goes_on),
    tick_column(),
)


def covering_table(network: Network, rows: tuple[CoveringRow, ...], section: HarnessSection) -> Table[CoveringRow]:
    """The covering list of a section; in a design in inches or feet inches stand beside the millimetres."""
    columns = in_unit(_COLUMNS, has_inches=in_inches(network.design.units.length))
    return Table("covering-list", f"Covering list {section.number}", columns, rows, _notes(network, rows, section))


def _notes(network: Network, rows: tuple[CoveringRow, ...], section: HarnessSection) -> tuple[str, ...]:
    notes = ["Finished is the length of the stretch with its slack, loops and movement; cut is rounded up to the step."]
    losing = dict.fromkeys(row.covering for row in rows if row.loses)
    notes += [f"What {name} loses of the cut piece: {network.parts.coverings[name].publication}." for name in losing]
    if any(row.goes_on for row in rows):
        notes.append(
            "Slide on: closed coverings that do not pass what is finished beyond them; see the order of assembly."
        )
    if any(leg.stretch.tape for leg in section.legs):
        notes.append("Tape stands in the list of clips, tape and grommets.")
    return tuple(notes)
