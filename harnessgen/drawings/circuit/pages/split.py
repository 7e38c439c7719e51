"""A circuit that one sheet cannot hold, shared out: which strands stand on which sheet.

Strands that share a small joint stay together, so that a bank keeps its feed, its loads and its return on one sheet.
"""

from dataclasses import dataclass, replace
from math import inf

from harnessgen.drawings.circuit.elements.blocks import Blocks
from harnessgen.drawings.circuit.elements.graph import CircuitGraph, Junction, JunctionKind
from harnessgen.drawings.circuit.pages.arrange import Format
from harnessgen.drawings.circuit.pages.references import MOST_FLAGS, Share, joint_ends, trunk_of
from harnessgen.drawings.circuit.pages.ties import Ties
from harnessgen.drawings.circuit.placement.columns import least_width_mm
from harnessgen.drawings.circuit.placement.layers import layered
from harnessgen.drawings.circuit.placement.order import MOST_BOXES, box_count
from harnessgen.network.network import Network

_PART = 0.92
"""Part of a sheet that a share is reckoned to fill, since placing needs somewhat more than the reckoning says."""
_OVER = 1.03
"""Part of the height of a sheet that a share may be reckoned to need, since placing may find a lower way."""
_CUT_ROOM_MM = 30.0
_NARROWER = 0.94
"""Part of the width of a share that turned out too large that it may have afterwards."""
_TIGHTER = 0.8
_ROOMY = 0.5
"""A sheet that fills less than this part of its width may be given more when others are shared out again."""
_HOPELESS = 1.5
_SHOWN_MM = 2.5
_JOINT_MM = 6.0
"""Height reckoned for the conductor above each block, and for a level of joints."""
_STUB_SHARE = 7.0
"""Width in modules that a reference to another sheet is reckoned to take."""
_FIRST_CROWD = 0.5
"""Part of the other sheets that a joint is reckoned to need a reference to, at first."""
_MORE = 1.5
"""By how much more references are reckoned where a sheet turned out too large."""


@dataclass(frozen=True, slots=True)
class TooWide:
    """A share that turned out too large for a sheet, and the width (mm) that it was reckoned to have."""

    share: frozenset[int]
    width_mm: float


class Sharing:
    """Shares out the strands of one circuit over sheets of one format, again and again as shares turn out too large."""

    def __init__(self, blocks: Blocks, graph: CircuitGraph, whole: Format) -> None:
        self.graph = graph
        self.module_mm = whole.module_mm
        area = whole.area
        self.width_mm, self.height_mm = _PART * area.width_mm, _OVER * area.height_mm
        self.refused: list[TooWide] = []
        self.known: dict[Share, tuple[float, float]] = {}
        self.crowd: dict[str, float] = {}
        """Part of the other sheets that a joint is reckoned to refer to, where a sheet turned out too large."""
        self.blocks = [blocks.of(graph, strand, self.module_mm) for strand in graph.strands]
        ends = joint_ends(graph)
        self.at = {name: [*above, *below] for name, (above, below) in ends.items()}
        self.joints_of: list[list[int]] = [[] for _ in graph.strands]
        """Numbers of the joints that each strand comes to."""
        self.joints = list(self.at.items())
        for number, (_, places) in enumerate(self.joints):
            for place in dict.fromkeys(places):
                self.joints_of[place].append(number)
        self.cables = _cable_strands(blocks.network, graph)
        self.trunk = {name: trunk_of(graph, name, *sides) for name, sides in ends.items()}
        all_mm = self._reckon(tuple(range(len(self.blocks))))[1]
        self.sheets = max(2.0, all_mm / self.width_mm)
        self.kept: list[Share] = []
        self.loose: set[int] = set(range(len(self.blocks)))
        """Strands that have no sheet, or whose sheet turned out too large."""

    def refuse(self, share: Share) -> None:
        """Make what holds half of `share` or more narrower, and reckon with more references at its joints."""
        width_mm, _ = self._reckoned(share)
        self.loose |= set(share)
        self.kept.remove(share)
        self.refused.append(TooWide(frozenset(share), width_mm))
        for name in self._crossed(set(share)):
            self.crowd[name] = _MORE * self.crowd.get(name, _FIRST_CROWD)

    def tighten(self) -> None:
        """Make all shares smaller, for when refusing single ones does not come to an end."""
        self.width_mm *= _TIGHTER
        self.kept, self.loose = [], set(range(len(self.blocks)))

    def shared(self) -> list[Share]:
        """All strands, those of one sheet together, in the order of the design.

        Sheets that were not refused stay as they are, but for those that have much room left.
        """
        if self.loose:
            roomy = [each for each in self.kept if self._reckoned(each)[0] < _ROOMY * self.width_mm]
            full = [each for each in self.kept if each not in roomy]
            self.kept = sorted(full + self._filled([*roomy, *self._merged(self._units())]))
            self.loose = set()
        return list(self.kept)

    def _filled(self, groups: list[Share]) -> list[Share]:
        """Groups put together as long as they fit one sheet, whether or not they belong together."""
        filled: list[Share] = []
        for group in sorted(groups):
            width_mm = self._reckoned(group)[0]
            for index, held in enumerate(filled):
                # Two that are both nearly full need no closer look.
                if self._reckoned(held)[0] + width_mm > _HOPELESS * self.width_mm:
                    continue
                if self._fits(both := tuple(sorted(held + group))):
                    filled[index] = both
                    break
            else:
                filled.append(group)
        return filled

    def _units(self) -> list[Share]:
        """Strands between the same two joints together, as far as they fit; the others alone."""
        found: dict[tuple[str, str], list[int]] = {}
        units: list[Share] = []
        for place in sorted(self.loose):
            strand = self.graph.strands[place]
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
        ties = Ties({**self.at, **self.cables}, groups)
        while (pair := ties.strongest()) is not None:
            one, other = pair
            both = tuple(sorted(groups[one] + groups[other]))
            if self._fits(both):
                fresh = ties.join(one, other)
                del groups[one], groups[other]
                groups[fresh] = both
        return list(groups.values())

    def _fits(self, group: Share) -> bool:
        """Whether a group is likely to fit a sheet, without placing anything."""
        most_mm = self.width_mm
        for each in self.refused:
            if 2 * len(each.share.intersection(group)) >= len(each.share):
                most_mm = min(most_mm, _NARROWER * each.width_mm)
        width_mm, height_mm = self._reckoned(group)
        return width_mm <= most_mm and height_mm <= self.height_mm

    def _reckoned(self, group: Share) -> tuple[float, float]:
        """Width and height of a group, without placing anything; endless where it has too many boxes."""
        if group not in self.known:
            boxes, width_mm, height_mm = self._reckon(group)
            self.known[group] = (width_mm, height_mm) if boxes <= _PART * MOST_BOXES else (inf, inf)
        width_mm, height_mm = self.known[group]
        return width_mm + self._stubs_mm(set(group)), height_mm

    def _reckon(self, group: Share) -> tuple[int, float, float]:
        """Boxes, width and height of a group without its references."""
        layers = layered(self.graph, [self.graph.strands[at] for at in group], [self.blocks[at] for at in group])
        heights = [0.0] * layers.last
        for column in layers.columns:
            own: dict[int, float] = {}
            for block, gap in zip(column.blocks, column.gaps, strict=True):
                own[gap] = own.get(gap, 0.0) + block.height_mm + _SHOWN_MM
            for gap, height_mm in own.items():
                heights[gap] = max(heights[gap], height_mm)
        return box_count(layers), least_width_mm(layers), sum(heights) + _JOINT_MM * len(heights)

    def _stubs_mm(self, own: set[int]) -> float:
        """Width that the references at its joints are likely to need."""
        count = 0.0
        for name, outside in self._crossed(own).items():
            flags = min(float(outside), self.sheets - 1)
            count += (flags if flags <= MOST_FLAGS else 1.0) * self.crowd.get(name, _FIRST_CROWD)
        return count * _STUB_SHARE * self.module_mm

    def _crossed(self, own: set[int]) -> dict[str, int]:
        """Joints that a group draws and that have strands elsewhere, with the number of these."""
        found: dict[str, int] = {}
        for number in sorted({number for place in own for number in self.joints_of[place]}):
            name, places = self.joints[number]
            inside = len(own.intersection(places))
            trunk = self.trunk[name]
            is_home = trunk in own if trunk is not None else 2 * inside >= len(places)
            if inside and is_home and inside < len(places):
                found[name] = len(places) - inside
        return found


def _cable_strands(network: Network, graph: CircuitGraph) -> dict[str, list[int]]:
    """Strands that hold a wire of the same cable, its drain too, by the cable; they are best read on one sheet."""
    found: dict[str, list[int]] = {}
    for name, cable in network.design.cables.items():
        circuits = {*cable.circuits, *((cable.shield.circuit,) if cable.shield is not None else ())}
        places = [
            place
            for place, strand in enumerate(graph.strands)
            if any(each.element.wire is not None and each.element.wire.circuit in circuits for each in strand.pieces)
        ]
        if len(places) > 1:
            found[f"cable {name}"] = places
    return found


def cut_to_fit(blocks: Blocks, graph: CircuitGraph, whole: Format) -> CircuitGraph:
    """The circuit with each strand that is higher than a sheet cut at wires, which are then drawn on both sheets."""
    height_mm = whole.area.height_mm - _CUT_ROOM_MM
    place = 0
    while place < len(graph.strands):
        held = blocks.of(graph, graph.strands[place], whole.module_mm)
        is_high = sum(block.depth_mm + block.rise_mm + 2.0 for block in held) > height_mm
        following = _cut(graph, place) if is_high else None
        if following is None:
            place += 1
        else:
            # The upper part may be too high still.
            graph = following
    return graph


def _cut(graph: CircuitGraph, place: int) -> CircuitGraph | None:
    """The circuit with one strand cut in two at a wire near its middle; None if it has no such wire."""
    strand = graph.strands[place]
    inner = [at for at, piece in enumerate(strand.pieces[1:-1], 1) if piece.element.kind.is_wire]
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
