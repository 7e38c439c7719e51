"""The circuit drawing: current flows from the supplies at the top of the sheet to the grounds at the bottom."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from harnessgen.drawings.circuit.elements.blocks import Blocks
from harnessgen.drawings.circuit.elements.graph import CircuitGraph, SheetReference, Strand, circuit_graph
from harnessgen.drawings.circuit.elements.readings import Readings
from harnessgen.drawings.circuit.pages.arrange import Arranged, Format, arranged, to_order
from harnessgen.drawings.circuit.pages.index import index_pages
from harnessgen.drawings.circuit.pages.references import Share, sheet_strands
from harnessgen.drawings.circuit.pages.split import Sharing, cut_to_fit
from harnessgen.drawings.circuit.placement.order import Orders, PlacementUnavailable
from harnessgen.network.network import Network
from harnessgen.sheets.sheet import STATIONERY, Sheet, Stationery
from harnessgen.sheets.title_block import TitleBlock

__all__ = ["PlacementUnavailable", "circuit_sheets"]

_MODULES_MM = (3.4, 3.0, 2.7, 2.5, 2.2)
"""Modules that are tried, the largest that a paper has room for first: the smallest makes the least text 2.0 mm."""
_SHARED_MODULES_MM = (3.0, 2.2)
"""The same for one of several sheets, which are shared out until the smallest fits."""
_PATIENT_ATTEMPTS = 60
_FIGURE = re.compile("[0-9]")


@dataclass(frozen=True, slots=True)
class _Formats:
    """Formats on one stationery, the most wanted first: of a lone sheet, of one of several, of what is indivisible."""

    lone: tuple[Format, ...]
    shared: tuple[Format, ...]
    oversize: tuple[Format, ...]

    def of(self, share: Share) -> tuple[Format, ...]:
        """Formats for a share of several: larger ones only where it cannot be made smaller."""
        return self.shared if len(share) > 1 else (*self.shared, *self.oversize)


def _formats_on(stationery: Stationery) -> _Formats:
    """The formats that a circuit drawing is tried in on the papers of a shop."""
    small, *larger = stationery.drawings
    return _Formats(
        tuple(
            Format(paper, module_mm) for paper in (small, stationery.procedure, *larger) for module_mm in _MODULES_MM
        ),
        tuple(
            Format(paper, module_mm, has_paths=True)
            for paper in stationery.drawings
            for module_mm in _SHARED_MODULES_MM
        ),
        tuple(Format(paper, _MODULES_MM[-1], has_paths=True) for paper in stationery.oversize),
    )


def circuit_sheets(
    network: Network,
    status: str = "",
    status_detail: str = "",
    readings: Readings | None = None,
    stationery: Stationery = STATIONERY["a4"],
) -> tuple[Sheet, ...]:
    """The circuit drawing of a network: one sheet if a paper of the shop holds it, else several with an index.

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
    formats = _formats_on(stationery)
    orders = Orders()
    whole = arranged(blocks, graph, graph.strands, formats.lone, orders)
    drawn = [whole] if whole is not None else _on_several(blocks, graph, formats, orders)
    papers = [(each.format.paper, each.marks) for each in drawn]
    index_on = stationery.drawings[0]
    index = [(index_on, marks) for marks in index_pages(network, papers, index_on)] if len(papers) > 1 else []
    title = network.design.harness
    subject = f"Circuit in the state {readings.state}" if readings is not None else "Circuit"
    sheets: list[Sheet] = []
    for number, (paper, marks) in enumerate((*papers, *index), 1):
        said = f"{subject}, index" if number > len(papers) else subject
        block = TitleBlock(
            f"{said}: {title.title}" if title else said,
            f"{title.number}, circuit" if title and title.number else "",
            title.revision if title else "",
            title.date if title else "",
            number,
            len(papers) + len(index),
            status,
            status_detail,
            lengths="",
        )
        sheets.append(Sheet(paper, block, marks))
    return tuple(sheets)


def _on_several(blocks: Blocks, graph: CircuitGraph, formats: _Formats, orders: Orders) -> list[Arranged]:
    """The circuit on several sheets: shared out by a coarse reckoning, and again what turned out too large.

    Whether a sheet fits does not hang on the numbers of the sheets that it refers to, since all figures are equally
    wide; so while sheets are shared out again, and their numbers move, each is tried but once.
    """
    graph = cut_to_fit(blocks, graph, formats.shared[-1])
    sharing = Sharing(blocks, graph, formats.shared[-1])
    fits: dict[tuple[object, ...], bool] = {}
    attempts = 0
    while True:
        attempts += 1
        if attempts > _PATIENT_ATTEMPTS:
            sharing.tighten()
        shared = sharing.shared()
        sheets = sheet_strands(graph, shared)
        drawn: dict[int, Arranged | None] = {}
        keys = [_key(strands) for strands in sheets]
        untried = [at for at, key in enumerate(keys) if key not in fits]
        asked = (to_order(blocks, graph, sheets[at], formats.of(shared[at])) for at in untried)
        orders.ask(layers for layers in asked if layers is not None)
        for at in untried:
            drawn[at] = arranged(blocks, graph, sheets[at], formats.of(shared[at]), orders)
            fits[keys[at]] = drawn[at] is not None
        for share, strands, key in zip(shared, sheets, keys, strict=True):
            if not fits[key]:
                _refuse(sharing, share, strands)
        if sharing.loose:
            continue
        for at, (share, strands) in enumerate(zip(shared, sheets, strict=True)):
            found = drawn[at] = drawn.get(at) or arranged(blocks, graph, strands, formats.of(share), orders)
            if found is None:
                fits[keys[at]] = False
                _refuse(sharing, share, strands)
        if not sharing.loose:
            return [each for _, each in sorted(drawn.items(), key=lambda item: item[0]) if each is not None]


def _refuse(sharing: Sharing, share: Share, strands: Sequence[Strand]) -> None:
    if len(share) == 1:
        raise PlacementUnavailable(f"no circuit drawing: {strands[0].pieces[0].element.name} fits no sheet")
    sharing.refuse(share)


def _key(strands: Sequence[Strand]) -> tuple[object, ...]:
    """What a sheet holds but for the numbers of other sheets, in a form that can be compared cheaply."""
    return tuple(
        (
            each.upper,
            each.lower,
            *map(_shape, (each.from_sheet, each.to_sheet)),
            *(piece.element.name for piece in each.pieces),
        )
        for each in strands
    )


def _shape(reference: SheetReference | None) -> tuple[str, str] | None:
    return (_FIGURE.sub("0", reference.sheet), reference.named) if reference is not None else None
