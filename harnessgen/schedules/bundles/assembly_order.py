"""What has to be on before something else is finished: the constraints that any order of building has to keep."""

import math
from collections.abc import Iterable, Iterator

from harnessgen.lengths.bundles.grommets import all_slides
from harnessgen.lengths.bundles.slide_order import SlideOn
from harnessgen.measures.designator import natural_key
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import HarnessSection, Network
from harnessgen.schedules.tables.table import Column, Medium, Table, number_column
from harnessgen.schedules.wires.slide_on import sleeve_side

ANY_TIME = "any time: it passes all that is finished"


@frozen
class OrderRow:
    """One constraint: `thing` goes on from `side` before `before` is done; `before` is empty where it may any time.

    `needed_mm` is what the largest thing there takes (infinite: not known), `inside_mm` what the covering has.
    """

    section: str
    thing: str
    place: str
    side: str
    before: str
    nodes: tuple[str, ...]
    largest: str
    needed_mm: float | None
    inside_mm: float | None


def order_rows(network: Network, section: HarnessSection) -> tuple[OrderRow, ...]:
    """Constraints of a section: closed coverings and grommets in the order of its route, then sleeves of splices."""
    coverings = (_covering_row(section, each) for each in all_slides(network, section))
    return (*coverings, *_sleeves(network, section))


def _covering_row(section: HarnessSection, slide: SlideOn) -> OrderRow:
    largest = slide.largest
    return OrderRow(
        section.number,
        slide.thing,
        slide.stretch,
        slide.side,
        before_words(slide),
        tuple(each.node for each in slide.blocked),
        f"{largest.part} at {largest.node}" if largest is not None else "",
        largest.needed_mm if largest is not None else None,
        slide.inside_mm,
    )


def before_words(slide: SlideOn) -> str:
    """What it has to be on before, in words: `21C, 31C are crimped at C21; C21 is filled`; empty where nothing is."""
    parts: list[str] = []
    crimped = [end for each in slide.ends for end in each.ends]
    marks = sorted({mark for mark, _ in crimped}, key=natural_key)
    if marks:
        places = ", ".join(dict.fromkeys(node.partition("/")[0] for _, node in crimped))
        parts.append(f"{', '.join(marks)} {'is' if len(marks) == 1 else 'are'} crimped at {places}")
    done = {node.partition("/")[0] for _, node in crimped}
    housings = [each.node for each in slide.housings if each.node not in done]
    if housings:
        parts.append(f"{', '.join(housings)} {'is' if len(housings) == 1 else 'are'} filled")
    return "; ".join(parts)


def _sleeves(network: Network, section: HarnessSection) -> Iterator[OrderRow]:
    for name in sorted(network.design.splices, key=natural_key):
        wires = network.wires_at.get(name, ())
        side = sleeve_side(network, name)
        if side is not None and wires and wires[0].section == section.letter:
            yield OrderRow(
                section.number, f"{network.splice_part(name).sleeve} of {name}", name, side,
                f"{name} is crimped", (name,), "", None, None,
            )  # fmt: skip


_COLUMNS: tuple[Column[OrderRow], ...] = (
    Column("section", "section", lambda row: row.section, on=Medium.CSV),
    Column("thing", "goes on", lambda row: row.thing),
    Column("place", "over", lambda row: row.place),
    Column("side", "from the side of", lambda row: row.side),
    Column("before", "before", lambda row: row.before or ANY_TIME),
    Column("largest", "largest to pass", lambda row: row.largest),
    number_column("needed_mm", "needs inside", "mm", lambda row: _known_mm(row.needed_mm)),
    number_column("inside_mm", "has inside", "mm", lambda row: row.inside_mm),
    Column("nodes", "things", lambda row: ", ".join(row.nodes), on=Medium.CSV),
)


def _known_mm(needed_mm: float | None) -> float | None:
    return None if needed_mm is None or math.isinf(needed_mm) else needed_mm


def order_table(rows: Iterable[OrderRow], section: HarnessSection) -> Table[OrderRow]:
    """The constraints of a section."""
    notes = (
        "Goes on, over which stretch or splice, and from which of its sides: the one on which least is in the way.",
        "A thing passes beside the other wires of the stretch; of heat-shrink the inside is that as supplied. Where the"
        " size of a thing is not known, nothing passes it. Sizes of the packaged parts are common practice, no source.",
        "Seals go on before the contact of their wire is crimped: see the cut list.",
    )
    return Table("assembly-order", f"Order of assembly {section.number}", _COLUMNS, tuple(rows), notes)
