"""A circuit that one sheet cannot hold, shared out: which strands stand on which sheet.

Strands that share a small joint stay together, so that a bank keeps its feed, its loads and its return on one sheet.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations, pairwise

from harnessgen.drawings.circuit_arrange import Format
from harnessgen.drawings.circuit_blocks import Blocks
from harnessgen.drawings.circuit_graph import CircuitGraph, Junction, JunctionKind
from harnessgen.drawings.circuit_layers import layered
from harnessgen.drawings.circuit_order import MOST_BOXES, box_count
from harnessgen.drawings.circuit_references import Share, joint_ends, trunk_of
from harnessgen.network.electrical import ElementKind
from harnessgen.sheets.sheet import usable_area

_PART = 0.92
"""Part of a sheet that a share is reckoned to fill, since placing needs somewhat more than the reckoning says."""
_MOST_TIED = 40
_CUT_ROOM_MM = 30.0
_STUB_SHARE = 7.0
"""Width in modules that a reference to another sheet is reckoned to take."""
_STRANDS_A_SHEET = 8
"""Strands of one joint that another sheet is reckoned to hold."""


def shares(blocks: Blocks, graph: CircuitGraph, whole: Format, refused: Sequence[Share]) -> list[Share]:
    """All strands shared out over sheets of the format `whole`; no share holds all of one that was `refused`."""
    return _Sharing(blocks, graph, whole, refused).shared()


class _Sharing:
    def __init__(self, blocks: Blocks, graph: CircuitGraph, whole: Format, refused: Sequence[Share]) -> None:
        self.graph = graph
        self.module_mm = whole.module_mm
        area = usable_area(whole.paper)
        self.width_mm, self.height_mm = _PART * area.width_mm, area.height_mm
        self.refused = [frozenset(share) for share in refused]
        self.blocks = [blocks.of(graph, strand, self.module_mm) for strand in graph.strands]
        ends = joint_ends(graph)
        self.at = {name: [*above, *below] for name, (above, below) in ends.items()}
        self.trunk = {name: trunk_of(graph, name, *sides) for name, sides in ends.items()}

    def shared(self) -> list[Share]:
        filled: list[Share] = []
        for group in sorted(self._merged(self._units())):
            for index, held in enumerate(filled):
                if self._fits(both := tuple(sorted(held + group))):
                    filled[index] = both
                    break
            else:
                filled.append(group)
        return sorted(filled)

    def _units(self) -> list[Share]:
        """Strands between the same two joints together, as far as they fit; the others alone."""
        found: dict[tuple[str, str], list[int]] = {}
        units: list[Share] = []
        for place, strand in enumerate(self.graph.strands):
            if strand.upper in self.at and strand.lower in self.at:
                found.setdefault((strand.upper, strand.lower), []).append(place)
            else:
                units.append((place,))
        for unit in found.values():
            units.extend(self._chunks(tuple(unit)))
        return sorted(units)

    def _chunks(self, unit: Share) -> list[Share]:
        if len(unit) < 2 or self._fits(unit):
            return [unit]
        half = (len(unit) + 1) // 2
        return self._chunks(unit[:half]) + self._chunks(unit[half:])

    def _merged(self, units: list[Share]) -> list[Share]:
        """Join the two groups that belong together most and fit one sheet, as long as there are such."""
        groups = dict(enumerate(units))
        apart: set[tuple[int, int]] = set()
        fresh = len(units)
        while True:
            ties = self._ties(groups)
            open_ = [(-weight, pair) for pair, weight in ties.items() if pair not in apart]
            for _, (one, other) in sorted(open_):
                both = tuple(sorted(groups[one] + groups[other]))
                if self._fits(both):
                    del groups[one], groups[other]
                    groups[fresh] = both
                    fresh += 1
                    break
                apart.add((one, other))
            else:
                return list(groups.values())

    def _ties(self, groups: Mapping[int, Share]) -> dict[tuple[int, int], float]:
        """How strongly two groups belong together: small joints that they share count most."""
        group_of = {place: name for name, group in groups.items() for place in group}
        ties: dict[tuple[int, int], float] = {}
        for places in self.at.values():
            inside = Counter(group_of[place] for place in places)
            names = sorted(inside)
            # In a joint of very many strands neighbours alone are tied, or the pairs would be too many.
            for pair in combinations(names, 2) if len(names) <= _MOST_TIED else pairwise(names):
                ties[pair] = ties.get(pair, 0.0) + max(inside[pair[0]], inside[pair[1]]) / (len(places) - 1)
        return ties

    def _fits(self, group: Share) -> bool:
        """A quick reckoning of width, height and boxes, without placing anything."""
        if any(held.issubset(group) for held in self.refused):
            return False
        layers = layered(self.graph, [self.graph.strands[at] for at in group], [self.blocks[at] for at in group])
        if box_count(layers) > _PART * MOST_BOXES:
            return False
        stubs = self._stubs(set(group))
        width: dict[int, float] = {}
        height: dict[int, float] = {}
        for column in layers.columns:
            for gap in range(column.top, column.bottom):
                held = [block for block, at in zip(column.blocks, column.gaps, strict=True) if at == gap]
                boxes = [block.box for block in held]
                left, right = max([0.7, *(-box.x0 for box in boxes)]), max([0.7, *(box.x1 for box in boxes)])
                width[gap] = width.get(gap, 0.0) + left + right + 1.6
                tall = sum(max(block.length_mm, block.box.height_mm) + 2.5 for block in held)
                height[gap] = max(height.get(gap, 0.0), tall)
        wide_mm = max(width.values(), default=0.0) + stubs * _STUB_SHARE * self.module_mm
        return wide_mm <= self.width_mm and sum(height.values()) + 6.0 * len(height) <= self.height_mm

    def _stubs(self, own: set[int]) -> int:
        """How many references its joints are likely to need, if it holds their trunks."""
        count = 0
        for name, places in self.at.items():
            inside = own.intersection(places)
            trunk = self.trunk[name]
            is_home = trunk in own if trunk is not None else 2 * len(inside) >= len(places)
            if inside and is_home and len(inside) < len(places):
                count += 1 + (len(places) - len(inside) - 1) // _STRANDS_A_SHEET
        return count


def cut_to_fit(blocks: Blocks, graph: CircuitGraph, whole: Format) -> CircuitGraph:
    """The circuit with each strand that is higher than a sheet cut at wires, which are then drawn on both sheets."""
    height_mm = usable_area(whole.paper).height_mm - _CUT_ROOM_MM
    while True:
        for place, strand in enumerate(graph.strands):
            held = blocks.of(graph, strand, whole.module_mm)
            is_high = sum(block.depth_mm + block.rise_mm + 2.0 for block in held) > height_mm
            following = _cut(graph, place) if is_high else None
            if following is not None:
                graph = following
                break
        else:
            return graph


def _cut(graph: CircuitGraph, place: int) -> CircuitGraph | None:
    """The circuit with one strand cut in two at a wire near its middle; None if it has no such wire."""
    strand = graph.strands[place]
    inner = [at for at, piece in enumerate(strand.pieces[1:-1], 1) if piece.element.kind is ElementKind.WIRE]
    if not inner:
        return None
    at = min(inner, key=lambda each: abs(each - len(strand.pieces) / 2))
    name = f"{strand.pieces[at].element.name} cut"
    upper = replace(strand, lower=name, pieces=strand.pieces[: at + 1])
    lower = replace(strand, upper=name, pieces=strand.pieces[at:])
    return CircuitGraph(
        {**graph.junctions, name: Junction(name, JunctionKind.CUT)},
        (*graph.strands[:place], upper, lower, *graph.strands[place + 1 :]),
        {**graph.feed_side, name: graph.feed_side[strand.pieces[at].upper]},
    )
