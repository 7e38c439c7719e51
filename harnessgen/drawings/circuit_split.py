"""A circuit that one sheet cannot hold, shared out: which strands stand on which sheet, with references both ways.

Strands that share a small joint stay together, so that a bank keeps its feed, its loads and its return on one sheet.
Each joint is drawn once, on the sheet that holds most of its strands; supplies and grounds are drawn on every sheet.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, groupby

from harnessgen.drawings.circuit_arrange import Format, all_blocks
from harnessgen.drawings.circuit_graph import SHARED_KINDS, CircuitGraph, Junction, JunctionKind, Piece, Reference, Strand
from harnessgen.drawings.circuit_layers import layered
from harnessgen.drawings.circuit_order import MOST_BOXES, box_count
from harnessgen.measures.designator import natural_key
from harnessgen.network.electrical import ElementKind
from harnessgen.network.network import Network
from harnessgen.sheets.sheet import usable_area

_STUB_SHARE = 7.0
"""Width in modules that a reference to another sheet is reckoned to take."""
_MOST_SINGLE_STUBS = 2
"""Up to so many wires that leave a joint for one sheet are drawn one by one, more in one flag."""


@dataclass(frozen=True, slots=True)
class Share:
    """Strands of one sheet by their places in the circuit."""

    strands: tuple[int, ...]


def shares(network: Network, graph: CircuitGraph, whole: Format, part: float) -> list[Share]:
    """All strands shared out so that each share takes about `part` of the width and height of a sheet at most."""
    return _Sharing(network, graph, whole, part).shared(tuple(range(len(graph.strands))))


def halved(network: Network, graph: CircuitGraph, whole: Format, share: Share) -> list[Share]:
    """A share in two or more smaller ones; itself if it is a single strand."""
    if len(share.strands) < 2:
        return [share]
    for part in (0.65, 0.5, 0.38, 0.28, 0.2):
        parts = _Sharing(network, graph, whole, part).shared(share.strands)
        if len(parts) > 1:
            return parts
    half = len(share.strands) // 2
    return [Share(share.strands[:half]), Share(share.strands[half:])]


class _Sharing:
    def __init__(self, network: Network, graph: CircuitGraph, whole: Format, part: float) -> None:
        self.network = network
        self.graph = graph
        self.module_mm = whole.module_mm
        area = usable_area(whole.paper)
        self.width_mm, self.height_mm = part * area.width_mm, min(1.0, part * 1.15) * area.height_mm
        self.boxes = MOST_BOXES * min(1.0, part * 1.1)
        self.blocks = all_blocks(network, graph, graph.strands, self.module_mm)
        self.at: dict[str, list[int]] = {}
        for place, strand in enumerate(graph.strands):
            for name in dict.fromkeys((strand.upper, strand.lower)):
                if graph.junctions[name].kind in SHARED_KINDS:
                    self.at.setdefault(name, []).append(place)

    def shared(self, places: tuple[int, ...]) -> list[Share]:
        groups = self._merged(self._units(places))
        filled: list[tuple[int, ...]] = []
        for group in sorted(groups):
            for index, held in enumerate(filled):
                if self._fits(both := tuple(sorted(held + group))):
                    filled[index] = both
                    break
            else:
                filled.append(group)
        return [Share(group) for group in sorted(filled)]

    def _units(self, places: tuple[int, ...]) -> list[tuple[int, ...]]:
        """Strands between the same two joints together, as far as they fit; the others alone."""
        found: dict[tuple[str, str], list[int]] = {}
        units: list[tuple[int, ...]] = []
        for place in places:
            strand = self.graph.strands[place]
            if strand.upper in self.at and strand.lower in self.at:
                found.setdefault((strand.upper, strand.lower), []).append(place)
            else:
                units.append((place,))
        for unit in found.values():
            units.extend(self._chunks(tuple(unit)))
        return sorted(units)

    def _chunks(self, unit: tuple[int, ...]) -> list[tuple[int, ...]]:
        if len(unit) < 2 or self._fits(unit):
            return [unit]
        half = (len(unit) + 1) // 2
        return self._chunks(unit[:half]) + self._chunks(unit[half:])

    def _merged(self, units: list[tuple[int, ...]]) -> list[tuple[int, ...]]:
        """Join the two groups that belong together most and fit one sheet, as long as there are such."""
        groups = dict(enumerate(units))
        refused: set[tuple[int, int]] = set()
        fresh = len(units)
        while True:
            ties = self._ties(groups)
            open_ = [(-weight, pair) for pair, weight in ties.items() if pair not in refused]
            for _, (one, other) in sorted(open_):
                both = tuple(sorted(groups[one] + groups[other]))
                if self._fits(both):
                    del groups[one], groups[other]
                    groups[fresh] = both
                    fresh += 1
                    break
                refused.add((one, other))
            else:
                return list(groups.values())

    def _ties(self, groups: Mapping[int, tuple[int, ...]]) -> dict[tuple[int, int], float]:
        """How strongly two groups belong together: small joints that they share count most."""
        group_of = {place: name for name, group in groups.items() for place in group}
        ties: dict[tuple[int, int], float] = {}
        for places in self.at.values():
            inside = sorted({group_of[place] for place in places if place in group_of})
            for pair in combinations(inside, 2):
                ties[pair] = ties.get(pair, 0.0) + 1.0 / (len(places) - 1)
        return ties

    def _fits(self, group: tuple[int, ...]) -> bool:
        """A quick reckoning of width, height and boxes, without placing anything."""
        layers = layered(self.graph, [self.graph.strands[at] for at in group], [self.blocks[at] for at in group])
        if box_count(layers) > self.boxes:
            return False
        own = set(group)
        stubs = sum(
            not own.issuperset(places) for places in self.at.values() if own.intersection(places)
        )
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


def sheet_strands(graph: CircuitGraph, shared: Sequence[Share]) -> list[tuple[Strand, ...]]:
    """The strands of each sheet as they are drawn there: own ones, and stubs of those that leave its joints."""
    sheet_of = {place: number for number, share in enumerate(shared, 1) for place in share.strands}
    home = _homes(graph, sheet_of)
    drawn: list[list[Strand]] = [[] for _ in shared]
    for place, number in sorted(sheet_of.items()):
        strand = graph.strands[place]
        upper, lower = home.get(strand.upper, number), home.get(strand.lower, number)
        drawn[number - 1].append(
            replace(
                strand,
                from_sheet=Reference(upper, joint_reference(strand.upper)) if upper != number else strand.from_sheet,
                to_sheet=Reference(lower, joint_reference(strand.lower)) if lower != number else strand.to_sheet,
            )
        )
    for name, number in home.items():
        drawn[number - 1].extend(_stubs(graph, name, number, sheet_of))
    return [tuple(strands) for strands in drawn]


def _homes(graph: CircuitGraph, sheet_of: Mapping[int, int]) -> dict[str, int]:
    """Number of the sheet that draws each joint: the one with most of its strands, the first of equals."""
    counts: dict[str, dict[int, int]] = {}
    for place, number in sorted(sheet_of.items()):
        strand = graph.strands[place]
        for name in (strand.upper, strand.lower):
            if graph.junctions[name].kind in SHARED_KINDS:
                held = counts.setdefault(name, {})
                held[number] = held.get(number, 0) + 1
    return {name: max(sorted(held), key=lambda number: held[number]) for name, held in counts.items()}


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


def cut_strand(graph: CircuitGraph, place: int) -> CircuitGraph | None:
    """The circuit with one strand cut in two at a wire near its middle, which is drawn in both; None if it has none."""
    strand = graph.strands[place]
    wires = [at for at, piece in enumerate(strand.pieces) if piece.element.kind is ElementKind.WIRE]
    inner = [at for at in wires if 0 < at < len(strand.pieces) - 1]
    if not inner:
        return None
    at = min(inner, key=lambda each: abs(each - len(strand.pieces) / 2))
    mark = strand.pieces[at].element.name
    name = f"{mark} cut"
    upper = replace(strand, lower=name, pieces=strand.pieces[: at + 1])
    lower = replace(strand, upper=name, pieces=strand.pieces[at:])
    strands = (*graph.strands[:place], upper, lower, *graph.strands[place + 1 :])
    junctions = {**graph.junctions, name: Junction(name, JunctionKind.CUT)}
    feed_side = {**graph.feed_side, name: graph.feed_side[strand.pieces[at].upper]}
    return CircuitGraph(junctions, strands, feed_side)
