"""The circuit drawing: current flows from the supplies at the top of the sheet to the grounds at the bottom."""

from collections.abc import Sequence

from harnessgen.drawings.circuit_arrange import Arranged, Format, arranged
from harnessgen.drawings.circuit_blocks import Blocks
from harnessgen.drawings.circuit_graph import CircuitGraph, Strand, circuit_graph
from harnessgen.drawings.circuit_order import PlacementUnavailable
from harnessgen.drawings.circuit_readings import Readings
from harnessgen.drawings.circuit_references import sheet_strands
from harnessgen.drawings.circuit_split import Sharing, cut_to_fit
from harnessgen.network.network import Network
from harnessgen.sheets.sheet import PAPERS, Paper, Sheet
from harnessgen.sheets.title_block import TitleBlock

__all__ = ["FORMATS", "PlacementUnavailable", "circuit_sheets"]

_MODULES_MM = (2.5, 2.2)
"""Modules that are tried: the smaller one makes the smallest text 2.0 mm."""
FORMATS = tuple(
    Format(PAPERS[name], module_mm)
    for name in ("A4 landscape", "A4 portrait", "A3 landscape")
    for module_mm in _MODULES_MM
)
"""Formats of a drawing on one sheet, the most wanted first."""
_LARGEST = tuple(each for each in FORMATS if each.paper.name == "A3 landscape")
"""Formats of a drawing on several sheets."""
_PATIENT_ATTEMPTS = 20
_OVERSIZE = tuple(
    Format(Paper(name, width_mm, height_mm), _MODULES_MM[-1])
    for name, width_mm, height_mm in (
        ("A2 landscape", 594.0, 420.0),
        ("A1 landscape", 841.0, 594.0),
        ("A0 landscape", 1189.0, 841.0),
    )
)
"""Formats for what cannot be divided: a joint of very many strands. Sizes by ISO 216."""


def circuit_sheets(
    network: Network, status: str = "", status_detail: str = "", readings: Readings | None = None
) -> tuple[Sheet, ...]:
    """The circuit drawing of a network: one sheet if A4 or A3 holds it, else several with references both ways.

    A network without wires and devices has no sheet.

    `status` and `status_detail` are stamped on each sheet. With `readings` each conductor carries its current, and each
    load the volts across it, in that state.

    Raises:
        PlacementUnavailable: Graphviz, which gives the order of the columns, is not installed or failed.
    """
    graph = circuit_graph(network)
    if not graph.strands:
        return ()
    blocks = Blocks(network, readings)
    whole = arranged(blocks, graph, graph.strands, FORMATS)
    drawn = [whole] if whole is not None else _on_several(blocks, graph)
    title = network.design.harness
    subject = f"Circuit in the state {readings.state}" if readings is not None else "Circuit"
    titles = (
        TitleBlock(
            f"{subject}: {title.title}" if title else subject,
            title.number if title else "",
            title.revision if title else "",
            title.date if title else "",
            number,
            len(drawn),
            status,
            status_detail,
        )
        for number in range(1, len(drawn) + 1)
    )
    return tuple(Sheet(each.format.paper, block, each.marks) for each, block in zip(drawn, titles, strict=True))


def _on_several(blocks: Blocks, graph: CircuitGraph) -> list[Arranged]:
    """The circuit on several sheets: shared out by a coarse reckoning, and again without what turned out too large."""
    graph = cut_to_fit(blocks, graph, _LARGEST[-1])
    sharing = Sharing(blocks, graph, _LARGEST[-1])
    done: dict[tuple[object, ...], Arranged | None] = {}
    attempts = 0
    while True:
        attempts += 1
        if attempts > _PATIENT_ATTEMPTS:
            sharing.tighten()
        shared = sharing.shared()
        sheets = sheet_strands(graph, shared)
        drawn: list[Arranged] = []
        for share, strands in zip(shared, sheets, strict=True):
            key = _key(strands)
            if key not in done:
                done[key] = arranged(blocks, graph, strands, _LARGEST if len(share) > 1 else (*_LARGEST, *_OVERSIZE))
            found = done[key]
            if found is not None:
                drawn.append(found)
            elif len(share) > 1:
                sharing.refuse(share)
            else:
                raise PlacementUnavailable(f"no circuit drawing: {strands[0].pieces[0].element.name} fits no sheet")
        if len(drawn) == len(sheets):
            return drawn


def _key(strands: Sequence[Strand]) -> tuple[object, ...]:
    """What a sheet holds, in a form that can be compared cheaply."""
    return tuple(
        (each.upper, each.lower, each.from_sheet, each.to_sheet, tuple(piece.element.name for piece in each.pieces))
        for each in strands
    )
