"""The circuit drawing: current flows from the supplies at the top of the sheet to the grounds at the bottom."""

from harnessgen.drawings.circuit_arrange import Arranged, Format, arranged
from harnessgen.drawings.circuit_graph import CircuitGraph, circuit_graph
from harnessgen.drawings.circuit_order import PlacementUnavailable
from harnessgen.drawings.circuit_split import Share, halved, shares, sheet_strands
from harnessgen.network.network import Network
from harnessgen.sheets.sheet import PAPERS, Sheet
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
_FIRST_PART = 0.9
_MOST_SHEETS = 400


def circuit_sheets(network: Network, status: str = "", status_detail: str = "") -> tuple[Sheet, ...]:
    """The circuit drawing of a network: one sheet if A4 or A3 holds it, else several with references both ways.

    `status` and `status_detail` are stamped on each sheet.

    Raises:
        PlacementUnavailable: Graphviz, which gives the order of the columns, is not installed or failed.
    """
    graph = circuit_graph(network)
    whole = arranged(network, graph, graph.strands, FORMATS)
    drawn = [whole] if whole is not None else _on_several(network, graph)
    title = network.design.harness
    blocks = (
        TitleBlock(
            f"Circuit: {title.title}" if title else "Circuit",
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
    return tuple(Sheet(each.format.paper, block, each.marks) for each, block in zip(drawn, blocks, strict=True))


def _on_several(network: Network, graph: CircuitGraph) -> list[Arranged]:
    shared = shares(network, graph, _LARGEST[-1], _FIRST_PART)
    while True:
        strands = sheet_strands(graph, shared)
        drawn = [arranged(network, graph, each, _LARGEST) for each in strands]
        if all(drawn):
            return [each for each in drawn if each is not None]
        following: list[Share] = []
        for share, each in zip(shared, drawn, strict=True):
            following += [share] if each is not None else halved(network, graph, _LARGEST[-1], share)
        if len(following) == len(shared):
            raise PlacementUnavailable("stuck")
        shared = sorted(following, key=lambda share: share.strands)
