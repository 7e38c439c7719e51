"""A circuit that one sheet cannot hold, shared out: which strands stand on which sheet, with references both ways.

Strands that share a small joint stay together, so that a bank keeps its feed, its loads and its return on one sheet.
Each joint is drawn once, on the sheet that holds most of its strands; supplies and grounds are drawn on every sheet.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations, groupby, pairwise

from harnessgen.drawings.circuit_arrange import Format
from harnessgen.drawings.circuit_blocks import Blocks
from harnessgen.drawings.circuit_graph import (
    SHARED_KINDS,
    CircuitGraph,
    Junction,
    JunctionKind,
    Piece,
    Reference,
    Strand,
)
from harnessgen.drawings.circuit_layers import layered
from harnessgen.drawings.circuit_order import MOST_BOXES, box_count
from harnessgen.measures.designator import natural_key
from harnessgen.network.electrical import ElementKind
from harnessgen.sheets.sheet import usable_area

_PART = 0.92
"""Part of a sheet that a share is reckoned to fill, since placing needs somewhat more than the reckoning says."""
_MOST_TIED = 40
_CUT_ROOM_MM = 30.0
_STUB_SHARE = 7.0
"""Width in modules that a reference to another sheet is reckoned to take."""
_MOST_SINGLE_STUBS = 2
"""Up to so many wires that leave a joint for one sheet are drawn one by one, more in one flag."""


Share = tuple[int, ...]
"""Strands of one sheet, by their places in the circuit."""


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
        self.at: dict[str, list[int]] = {}
        for place, strand in enumerate(graph.strands):
            for name in dict.fromkeys((strand.upper, strand.lower)):
                if graph.junctions[name].kind in SHARED_KINDS:
                    self.at.setdefault(name, []).append(place)

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
        """How many references its joints are likely to need: one for each four strands that are elsewhere."""
        count = 0
        for places in self.at.values():
            inside = sum(place in own for place in places)
            if inside and inside < len(places):
                count += 1 + (len(places) - inside - 1) // 4
        return count


def sheet_strands(graph: CircuitGraph, shared: Sequence[Share]) -> list[tuple[Strand, ...]]:
    """The strands of each sheet as they are drawn there: own ones, and stubs of those that leave its joints."""
    sheet_of = {place: number for number, share in enumerate(shared, 1) for place in share}
    home = _homes(graph, sheet_of)
    drawn: list[list[Strand]] = [[] for _ in shared]
    for place, number in sorted(sheet_of.items()):
        strand = graph.strands[place]
        from_sheet, to_sheet = (home.get(name, number) for name in (strand.upper, strand.lower))
        if graph.junctions[strand.upper].kind is JunctionKind.CUT:
            from_sheet = sheet_of[place - 1]
        if graph.junctions[strand.lower].kind is JunctionKind.CUT:
            to_sheet = sheet_of[place + 1]
        drawn[number - 1].append(
            replace(
                strand,
                from_sheet=_beyond(graph, strand.upper, from_sheet, number),
                to_sheet=_beyond(graph, strand.lower, to_sheet, number),
            )
        )
    for name, number in home.items():
        drawn[number - 1].extend(_stubs(graph, name, number, sheet_of))
    return [tuple(strands) for strands in drawn]


def _beyond(graph: CircuitGraph, name: str, sheet: int, own: int) -> Reference | None:
    """The reference at an end that is drawn on another sheet, or that is a cut."""
    is_cut = graph.junctions[name].kind is JunctionKind.CUT
    return Reference(sheet, "" if is_cut else joint_reference(name)) if sheet != own or is_cut else None


def _homes(graph: CircuitGraph, sheet_of: Mapping[int, int]) -> dict[str, int]:
    """Number of the sheet that draws each joint: that of its trunk, else that of most of its strands.

    The trunk is the connector before a pin that several circuits share, or the only strand on one side of a joint.
    """
    ends: dict[str, tuple[list[int], list[int]]] = {}
    for place, strand in enumerate(graph.strands):
        for side, name in enumerate((strand.lower, strand.upper)):
            if graph.junctions[name].kind in SHARED_KINDS:
                ends.setdefault(name, ([], []))[side].append(place)
    homes: dict[str, int] = {}
    for name, (above, below) in ends.items():
        trunk = next((side[0] for side in sorted((above, below), key=len) if len(side) == 1), None)
        trunk = next((place for place in (*above, *below) if _is_connector(graph, place, name)), trunk)
        counts = Counter(sheet_of[place] for place in (*above, *below))
        homes[name] = sheet_of[trunk] if trunk is not None else max(sorted(counts), key=lambda each: counts[each])
    return homes


def _is_connector(graph: CircuitGraph, place: int, name: str) -> bool:
    """Whether a strand begins or ends, at the junction `name`, with the contact of a connector."""
    strand = graph.strands[place]
    piece = strand.pieces[0] if strand.upper == name else strand.pieces[-1]
    return piece.element.kind is ElementKind.CONTACT


def joint_reference(name: str) -> str:
    """How a joint is named from another sheet."""
    return name.removesuffix(" mate")


def _stubs(graph: CircuitGraph, name: str, number: int, sheet_of: Mapping[int, int]) -> list[Strand]:
    """Short strands at a joint for those of its strands that are drawn on other sheets."""
    leaving = [
        (sheet_of[place], strand.upper == name, place)
        for place, strand in enumerate(graph.strands)
        if name in (strand.upper, strand.lower) and sheet_of.get(place, number) != number
    ]
    stubs: list[Strand] = []
    for (sheet, is_below), group in groupby(sorted(leaving), key=lambda each: each[:2]):
        places = [place for _, _, place in group]
        if len(places) <= _MOST_SINGLE_STUBS:
            stubs += [_stub(graph.strands[place], sheet, is_below=is_below) for place in places]
        else:
            named = in_short([_near_name(graph.strands[place], is_below=is_below) for place in places])
            stubs.append(_flag(graph.strands[places[0]], Reference(sheet, named), (), is_below=is_below))
    return stubs


def _near_piece(strand: Strand, *, is_below: bool) -> Piece:
    return strand.pieces[0] if is_below else strand.pieces[-1]


def _near_name(strand: Strand, *, is_below: bool) -> str:
    piece = _near_piece(strand, is_below=is_below)
    return piece.element.device.name if piece.element.device is not None else piece.element.name


def _stub(strand: Strand, sheet: int, *, is_below: bool) -> Strand:
    piece = _near_piece(strand, is_below=is_below)
    if piece.element.kind is not ElementKind.WIRE:
        named = _near_name(strand, is_below=is_below)
        return _flag(strand, Reference(sheet, named), (), is_below=is_below)
    pieces = strand.pieces[1:] if is_below else strand.pieces[-2::-1]
    named = next((each.element.device.name for each in pieces if each.element.device is not None), "")
    return _flag(strand, Reference(sheet, named), (piece,), is_below=is_below)


def _flag(strand: Strand, reference: Reference, pieces: tuple[Piece, ...], *, is_below: bool) -> Strand:
    if is_below:
        return Strand(strand.upper, strand.lower, pieces, to_sheet=reference)
    return Strand(strand.upper, strand.lower, pieces, from_sheet=reference)


def in_short(names: Sequence[str]) -> str:
    """Names in one line, those of a circuit's wires from first to last: `12B to 12M, 13A, Q3`."""
    stems: dict[str, list[str]] = {}
    for name in sorted(dict.fromkeys(names), key=natural_key):
        stem = name.rstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
        stems.setdefault(stem if stem and stem != name and stem[-1].isdigit() else name, []).append(name)
    parts = []
    for held in stems.values():
        parts += [f"{held[0]} to {held[-1]}"] if len(held) > 2 else held
    return ", ".join(parts)


def cut_to_fit(blocks: Blocks, graph: CircuitGraph, whole: Format) -> CircuitGraph:
    """The circuit with each strand that is higher than a sheet cut at wires, which are then drawn on both sheets."""
    height_mm = usable_area(whole.paper).height_mm - _CUT_ROOM_MM
    while True:
        for place, strand in enumerate(graph.strands):
            if (
                sum(block.depth_mm + block.rise_mm + 2.0 for block in blocks.of(graph, strand, whole.module_mm))
                > height_mm
            ):
                following = _cut(graph, place)
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
