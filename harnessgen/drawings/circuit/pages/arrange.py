"""One sheet of the circuit drawing: the first format in which some strands fit, and their marks on it."""

from collections.abc import Sequence
from dataclasses import dataclass

from harnessgen.drawings.circuit.elements.blocks import Blocks
from harnessgen.drawings.circuit.elements.graph import CircuitGraph, Strand
from harnessgen.drawings.circuit.pages.index import RULER_MM, ruler
from harnessgen.drawings.circuit.pages.marks import Placed, painted, supply_words_mm
from harnessgen.drawings.circuit.placement.columns import (
    BAR_END_MM,
    SupplyBar,
    column_places,
    least_width_mm,
    supply_bars,
)
from harnessgen.drawings.circuit.placement.joints import JointWords, joint_forms, joint_words
from harnessgen.drawings.circuit.placement.layers import Layers, layered
from harnessgen.drawings.circuit.placement.levels import Plan, levels
from harnessgen.drawings.circuit.placement.order import MOST_BOXES, Orders, box_count, column_order
from harnessgen.network.electrical import ElementKind
from harnessgen.sheets.box import Box
from harnessgen.sheets.marks import Mark, TextMark, box_of
from harnessgen.sheets.sheet import Paper, usable_area

_NOTE_MM = 2.2
_NOTE_ROOM_MM = 5.0
_MOST_STRETCH = 1.3
_SIDE_MM = 4.0
_TOP_SHARE = 0.3
"""Part of the height left over that stays above the drawing."""


@dataclass(frozen=True, slots=True)
class Format:
    """A paper, and the module (mm) that symbols and texts are drawn in; one of several sheets has numbered paths."""

    paper: Paper
    module_mm: float
    has_paths: bool = False

    @property
    def area(self) -> Box:
        """The area that the circuit may use."""
        area = usable_area(self.paper)
        return Box(area.x0, area.y0 + (RULER_MM if self.has_paths else 0.0), area.x1, area.y1)


@dataclass(frozen=True, slots=True)
class Arranged:
    """The marks of one sheet in the format that they fit."""

    format: Format
    marks: tuple[Mark, ...]


@dataclass(slots=True)
class _Draft:
    """Columns with their places in one module; `width_mm` is what they need."""

    layers: Layers
    places: list[float]
    bars: tuple[SupplyBar, ...]
    words: dict[str, JointWords]
    names_mm: dict[str, float]
    width_mm: float


def to_order(
    blocks: Blocks, graph: CircuitGraph, strands: Sequence[Strand], formats: Sequence[Format]
) -> Layers | None:
    """The layers whose order `arranged` asks for, or None where it asks for none."""
    widest_mm = max(usable_area(each.paper).width_mm for each in formats)
    for module_mm in dict.fromkeys(each.module_mm for each in formats):
        layers = layered(graph, strands, [blocks.of(graph, strand, module_mm) for strand in strands])
        if box_count(layers) > MOST_BOXES:
            return None
        if least_width_mm(layers) <= widest_mm:
            return layers
    return None


def arranged(
    blocks: Blocks, graph: CircuitGraph, strands: Sequence[Strand], formats: Sequence[Format], orders: Orders
) -> Arranged | None:
    """Strands on one sheet in the first of `formats` that holds them, or None if none does.

    Raises:
        PlacementUnavailable: Graphviz is not installed, or failed.
    """
    drafts: dict[float, _Draft | None] = {}
    order: tuple[int, ...] = ()
    widest_mm = max(usable_area(each.paper).width_mm for each in formats)
    for each in formats:
        module_mm = each.module_mm
        if module_mm not in drafts:
            layers = layered(graph, strands, [blocks.of(graph, strand, module_mm) for strand in strands])
            if box_count(layers) > MOST_BOXES:
                return None
            drafts[module_mm] = None
            if least_width_mm(layers) <= widest_mm:
                # The order follows from joints and layers alone, so it is the same in every module.
                order = order or column_order(layers, orders)
                draft = _draft(blocks, graph, layers, order, module_mm, evenly=True)
                if draft.width_mm > widest_mm:
                    draft = _draft(blocks, graph, layers, order, module_mm, evenly=False)
                drafts[module_mm] = draft
        kept = drafts[module_mm]
        marks = _fitted(blocks, graph, kept, each, _note(blocks, strands)) if kept is not None else None
        if marks is not None:
            return Arranged(each, marks)
    return None


def _draft(
    blocks: Blocks, graph: CircuitGraph, layers: Layers, order: Sequence[int], module_mm: float, *, evenly: bool
) -> _Draft:
    network = blocks.network
    words = {
        name: joint_words(network, graph, joint, blocks.readings, blocks.references)
        for name, joint in layers.joints.items()
    }
    names_mm = {name: each.width_mm(module_mm) for name, each in words.items()}
    bars = supply_bars(
        layers, order, lambda name, is_first: supply_words_mm(network, graph, name, module_mm, is_first=is_first)
    )
    places = column_places(layers, order, bars, names_mm, module_mm, evenly=evenly)
    rights = [
        max([0.7, *(block.box.x1 for block in column.blocks)]) + x
        for x, column in zip(places, layers.columns, strict=True)
    ]
    rights += [places[bar.columns[0]] - BAR_END_MM + bar.text_mm for bar in bars]
    rights += [form.at + names_mm[name] for name, form in joint_forms(layers, places).items()]
    return _Draft(layers, places, bars, words, names_mm, max(rights, default=0.0))


def _fitted(blocks: Blocks, graph: CircuitGraph, draft: _Draft, each: Format, words: str) -> tuple[Mark, ...] | None:
    area = each.area
    if draft.width_mm > area.width_mm:
        return None
    # Distances only grow, so what was clear stays clear and what was in line stays in line.
    stretch = max(1.0, min(_MOST_STRETCH, (area.width_mm - 2 * _SIDE_MM) / draft.width_mm))
    places = [round(x * stretch, 3) for x in draft.places]
    forms = joint_forms(draft.layers, places)
    plan = Plan(graph, draft.layers, places, forms, draft.names_mm, each.module_mm)
    over_mm = 2.2 * each.module_mm
    found = levels(plan, area.height_mm - over_mm - _NOTE_ROOM_MM)
    if found is None:
        return None
    marks = painted(
        Placed(blocks.network, graph, draft.layers, places, forms, draft.words, draft.bars, found, each.module_mm)
    )
    if not marks:
        return ()
    box = box_of(marks)
    dx_mm = area.x0 + (area.width_mm - box.width_mm) / 2 - box.x0
    spare_mm = area.height_mm - _NOTE_ROOM_MM - box.height_mm
    dy_mm = area.y0 + 0.5 + max(0.0, _TOP_SHARE * (spare_mm - 1.0)) - box.y0
    note = TextMark(words, area.x0 + 1.0, area.y1 - 1.0, _NOTE_MM)
    paths = ruler(usable_area(each.paper)) if each.has_paths else ()
    return (*(mark.shift(dx_mm, dy_mm) for mark in marks), *paths, note)


def _note(blocks: Blocks, strands: Sequence[Strand]) -> str:
    """How to read the texts on a sheet with these strands, in one line: nothing that does not occur on it."""
    elements = [piece.element for strand in strands for piece in strand.pieces]
    note = "on each conductor: mark, colour, size in mm2"
    if any(element.wire is not None and element.wire.size.system != "mm2" for element in elements):
        note += " unless it says AWG"
    if any(element.kind is ElementKind.VEHICLE_WIRE for element in elements):
        note += "; dashed, with mark and size: the vehicle's own"
    if any(element.kind is ElementKind.MATING for element in elements):
        note += "; at a disconnect: s socket half, p pin half"
    if blocks.readings is not None:
        note += (
            f"; below it the current in the state {blocks.readings.state}, calculated, and the volts across each load"
        )
    return note
