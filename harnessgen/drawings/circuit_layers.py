"""Layers: how far down each junction of a circuit lies, and through which gaps between layers each strand runs.

Layer 0 is that of the supplies, the last one that of the grounds. A strand runs through the gaps from its upper layer
to its lower one; gap 0 lies between layers 0 and 1.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from harnessgen.drawings.circuit_blocks import Block
from harnessgen.drawings.circuit_graph import SHARED_KINDS, CircuitGraph, JunctionKind, Strand

_INNER = (JunctionKind.SUPPLY, *SHARED_KINDS)


@dataclass(frozen=True, slots=True)
class Joint:
    """A junction that joins strands on this sheet: places of the strands that come down to it and that leave it."""

    name: str
    kind: JunctionKind
    layer: int
    above: tuple[int, ...]
    below: tuple[int, ...]

    @property
    def strands(self) -> tuple[int, ...]:
        """All its strands."""
        return (*self.above, *self.below)


@dataclass(frozen=True, slots=True)
class Column:
    """A strand with its blocks: it runs from layer `top` to layer `bottom`, and `gaps` says where each block stands.

    `upper` and `lower` are names of joints, or empty where the strand just ends.
    """

    strand: Strand
    blocks: tuple[Block, ...]
    top: int
    bottom: int
    gaps: tuple[int, ...]
    upper: str
    lower: str


@dataclass(frozen=True, slots=True)
class Layers:
    """Columns by place, joints by name, and the number of the lowest layer."""

    columns: tuple[Column, ...]
    joints: Mapping[str, Joint]
    last: int


def layered(graph: CircuitGraph, strands: Sequence[Strand], blocks: Sequence[tuple[Block, ...]]) -> Layers:
    """Layers of the given strands of a circuit; `blocks` holds those of each strand."""
    ends = [_joint_names(graph, strand) for strand in strands]
    names = list(dict.fromkeys(name for pair in ends for name in pair if name))
    layer = _layers_of(graph, names, ends)
    last = max([0, *layer.values()]) + 1
    _sink_returns(graph, names, ends, layer, last)
    spans = [_span(graph, strand, pair, layer, last) for strand, pair in zip(strands, ends, strict=True)]
    gaps = _spread(blocks, spans)
    columns = tuple(
        Column(strand, own, *span, places, *pair)
        for strand, own, span, places, pair in zip(strands, blocks, spans, gaps, ends, strict=True)
    )
    joints = {
        name: Joint(
            name,
            graph.junctions[name].kind,
            layer[name],
            tuple(place for place, pair in enumerate(ends) if pair[1] == name),
            tuple(place for place, pair in enumerate(ends) if pair[0] == name),
        )
        for name in names
    }
    return Layers(columns, joints, last)


def _joint_names(graph: CircuitGraph, strand: Strand) -> tuple[str, str]:
    upper, lower = graph.junctions[strand.upper].kind, graph.junctions[strand.lower].kind
    has_upper = upper in _INNER and strand.from_sheet is None
    has_lower = lower in _INNER and lower is not JunctionKind.SUPPLY and strand.to_sheet is None
    return (strand.upper if has_upper else "", strand.lower if has_lower else "")


def _layers_of(graph: CircuitGraph, names: Sequence[str], ends: Sequence[tuple[str, str]]) -> dict[str, int]:
    """The longest way down to each joint, supplies at 0."""
    layer = {name: 0 if graph.junctions[name].kind is JunctionKind.SUPPLY else 1 for name in names}
    pairs = [pair for pair in ends if pair[0] and pair[1]]
    # Strands lead down a fixed order of the nodes, so as many rounds as joints always suffice.
    for _ in names:
        moved = False
        for upper, lower in pairs:
            if layer[lower] <= layer[upper]:
                layer[lower], moved = layer[upper] + 1, True
        if not moved:
            break
    return layer


def _sink_returns(
    graph: CircuitGraph, names: Sequence[str], ends: Sequence[tuple[str, str]], layer: dict[str, int], last: int
) -> None:
    """Joints on the return side lie as low as they can, near drivers and grounds."""
    for name in sorted(names, key=lambda each: -layer[each]):
        if graph.feed_side[name] or graph.junctions[name].kind is JunctionKind.SUPPLY:
            continue
        below = [layer[pair[1]] if pair[1] else last for pair in ends if pair[0] == name]
        if below:
            layer[name] = max(layer[name], min(below) - 1)


def _span(
    graph: CircuitGraph, strand: Strand, ends: tuple[str, str], layer: Mapping[str, int], last: int
) -> tuple[int, int]:
    upper, lower = ends
    if lower:
        bottom = layer[lower]
    elif strand.to_sheet is None and graph.junctions[strand.lower].kind is JunctionKind.GROUND:
        bottom = last
    else:
        bottom = layer[upper] + 1 if upper else last
    if upper:
        return layer[upper], bottom
    # A feed begins at the top of the sheet, a stub beside the joint that it belongs to.
    is_top = graph.feed_side[strand.upper] and not strand.is_stub
    return (0 if is_top else bottom - 1), bottom


def _spread(blocks: Sequence[tuple[Block, ...]], spans: Sequence[tuple[int, int]]) -> list[tuple[int, ...]]:
    """A gap for each block of each strand: loads beside loads, the others where they need the least height."""
    need: dict[int, float] = {}
    loads: dict[int, int] = {}
    gaps: list[tuple[int, ...]] = [()] * len(blocks)
    order = sorted(range(len(blocks)), key=lambda place: (spans[place][1] - spans[place][0], place))
    for place in order:
        top, bottom = spans[place]
        own = _best_gaps(blocks[place], range(top, bottom), need, loads)
        gaps[place] = own
        for gap in range(top, bottom):
            held = [block for block, at in zip(blocks[place], own, strict=True) if at == gap]
            need[gap] = max(need.get(gap, 0.0), sum(map(_height_mm, held)))
            loads[gap] = loads.get(gap, 0) + sum("loads" in block.rows for block in held)
    return gaps


def _height_mm(block: Block) -> float:
    """Height that a block needs on its column, with the conductor shown above it."""
    return max(block.length_mm, block.box.height_mm) + 2.5


def _best_gaps(
    blocks: tuple[Block, ...], gaps: Iterable[int], need: Mapping[int, float], loads: Mapping[int, int]
) -> tuple[int, ...]:
    """Gaps in falling order of the blocks that cost the least height beyond what each gap needs anyway."""
    choices = list(gaps)
    if len(choices) == 1:
        return (choices[0],) * len(blocks)
    most_loads = max((loads.get(gap, 0) for gap in choices), default=0)
    best: dict[int, tuple[float, tuple[int, ...]]] = {0: (0.0, ())}
    for gap in choices:
        following: dict[int, tuple[float, tuple[int, ...]]] = {}
        for done, (cost, places) in best.items():
            height_mm = 0.0
            for more in range(len(blocks) - done + 1):
                if more:
                    block = blocks[done + more - 1]
                    height_mm += _height_mm(block)
                    cost += 20.0 if "loads" in block.rows and most_loads and not loads.get(gap) else 0.0
                    cost += 500.0 if block.role == "ground" and gap != choices[-1] else 0.0
                    cost += 500.0 if block.role == "reference" and done + more == 1 and gap != choices[0] else 0.0
                total = cost + max(0.0, height_mm - need.get(gap, 0.0))
                reached = done + more
                if reached not in following or total < following[reached][0] - 1e-9:
                    following[reached] = (total, (*places, *(gap,) * more))
        best = following
    return best[len(blocks)][1]
