"""Layers: how far down each junction of a circuit lies, and through which gaps between layers each strand runs.

Layer 0 is that of the supplies, the last one that of the grounds. A strand runs through the gaps from its upper layer
to its lower one; gap 0 lies between layers 0 and 1.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from harnessgen.drawings.circuit.elements.blocks import CircuitBlock
from harnessgen.drawings.circuit.elements.graph import SHARED_KINDS, CircuitGraph, JunctionKind, Strand

_INNER = (JunctionKind.SUPPLY, *SHARED_KINDS)

_SHOWN_MM = 2.5
"""Conductor reckoned above each block."""
_NEVER_MM = 500.0
_AWAY_FROM_LOADS_MM = 20.0


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
class StrandColumn:
    """A strand with its blocks: it runs from layer `top` to layer `bottom`, and `gaps` says where each block stands.

    `upper` and `lower` are names of joints, or empty where the strand just ends.
    """

    strand: Strand
    blocks: tuple[CircuitBlock, ...]
    top: int
    bottom: int
    gaps: tuple[int, ...]
    upper: str
    lower: str


@dataclass(frozen=True, slots=True)
class Layers:
    """Columns by place, joints by name, and the number of the lowest layer."""

    columns: tuple[StrandColumn, ...]
    joints: Mapping[str, Joint]
    last: int


def layered(graph: CircuitGraph, strands: Sequence[Strand], blocks: Sequence[tuple[CircuitBlock, ...]]) -> Layers:
    """Layers of the given strands of a circuit; `blocks` holds those of each strand."""
    ends = [_joint_names(graph, strand) for strand in strands]
    names = list(dict.fromkeys(name for pair in ends for name in pair if name))
    layer = _layers_of(graph, names, ends)
    last = max([0, *layer.values()]) + 1
    _sink_returns(graph, names, ends, layer, last)
    spans = [_span(graph, strand, pair, layer, last) for strand, pair in zip(strands, ends, strict=True)]
    gaps = _spread(blocks, spans)
    columns = tuple(
        StrandColumn(strand, own, *span, places, *pair)
        for strand, own, span, places, pair in zip(strands, blocks, spans, gaps, ends, strict=True)
    )
    sides: dict[str, tuple[list[int], list[int]]] = {name: ([], []) for name in names}
    for place, pair in enumerate(ends):
        for end, name in enumerate(pair):
            if name:
                sides[name][1 - end].append(place)
    joints = {
        name: Joint(name, graph.junctions[name].kind, layer[name], tuple(above), tuple(below))
        for name, (above, below) in sides.items()
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


def _spread(blocks: Sequence[tuple[CircuitBlock, ...]], spans: Sequence[tuple[int, int]]) -> list[tuple[int, ...]]:
    """A gap for each block of each strand: loads beside loads, the others where they need the least height."""
    need: dict[int, float] = {}
    loads: dict[int, int] = {}
    gaps: list[tuple[int, ...]] = [()] * len(blocks)
    order = sorted(range(len(blocks)), key=lambda place: (spans[place][1] - spans[place][0], place))
    for place in order:
        heights = [block.height_mm + _SHOWN_MM for block in blocks[place]]
        gaps[place] = _best_gaps(blocks[place], heights, range(*spans[place]), need, loads)
        held: dict[int, float] = {}
        for block, gap, height_mm in zip(blocks[place], gaps[place], heights, strict=True):
            held[gap] = held.get(gap, 0.0) + height_mm
            loads[gap] = loads.get(gap, 0) + ("loads" in block.rows)
        need |= {gap: max(need.get(gap, 0.0), height_mm) for gap, height_mm in held.items()}
    return gaps


def _best_gaps(
    blocks: tuple[CircuitBlock, ...],
    heights: Sequence[float],
    gaps: range,
    need: Mapping[int, float],
    loads: Mapping[int, int],
) -> tuple[int, ...]:
    """Gaps in falling order of the blocks that cost the least height beyond what each gap needs anyway."""
    if len(gaps) == 1 or not blocks:
        return (gaps[0],) * len(blocks)
    has_loads = any(loads.get(gap) for gap in gaps)
    best: dict[int, tuple[float, tuple[int, ...]]] = {0: (0.0, ())}
    for gap in gaps:
        free_mm = need.get(gap, 0.0)
        lacks_loads = has_loads and not loads.get(gap)
        misplaced = [_misplaced(block, at, gap, gaps, lacks_loads) for at, block in enumerate(blocks)]
        following: dict[int, tuple[float, tuple[int, ...]]] = {}
        for done, (cost, places) in best.items():
            height_mm = 0.0
            for reached in range(done, len(blocks) + 1):
                if reached > done:
                    height_mm += heights[reached - 1]
                    cost += misplaced[reached - 1]
                total = cost + (height_mm - free_mm) if height_mm > free_mm else cost
                if reached not in following or total < following[reached][0] - 1e-9:
                    following[reached] = (total, (*places, *(gap,) * (reached - done)))
        best = following
    return best[len(blocks)][1]


def _misplaced(block: CircuitBlock, at: int, gap: int, gaps: range, is_without_loads: bool) -> float:
    """What it costs, in millimetres of height, that a block stands in a gap where its like do not."""
    if block.role == "ground":
        return _NEVER_MM if gap != gaps[-1] else 0.0
    if block.role == "reference":
        return _NEVER_MM if at == 0 and gap != gaps[0] else 0.0
    return _AWAY_FROM_LOADS_MM if is_without_loads and "loads" in block.rows else 0.0
