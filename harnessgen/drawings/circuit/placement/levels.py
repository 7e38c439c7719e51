"""How far down each block and each joint of a circuit stands, so that nothing meets and like things stand in rows."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations, pairwise, permutations

from harnessgen.drawings.circuit.elements.body_symbol import HALF_WIDTH
from harnessgen.drawings.circuit.elements.graph import CircuitGraph
from harnessgen.drawings.circuit.placement.joints import JointForm, Shape
from harnessgen.drawings.circuit.placement.layers import Layers, StrandColumn
from harnessgen.drawings.circuit.placement.rows import RowBounds, Rows

_BAND_MM = 2.2
"""Air between a block and a level run that crosses its column."""
_PAD_MM = 0.8
_DOT_MM = 1.2
_RUN_MM = 2.5
_LEAST_SHOWN_MM, _MOST_SHOWN_MM = 1.7, 12.0
"""How much of a conductor is seen between two things, at least and at most."""
_SAME_MM = 0.02
_ROWS_FIRST = ("bank ", "grounds", "references", "contact ", "loads", "disconnect ", "fuse", "driver", "leg ")
_SHARES = {"fuse": 0.0, "make contact": 0.0, "load": 0.5, "relay coil": 0.5, "driver": 1.0, "ground": 1.0, "wire": 0.5}
"""Where in its slack a block stands, 0 high and 1 low."""


@dataclass(frozen=True, slots=True)
class Levels:
    """Level of each joint by name, of each block by column and place in it, and the lowest level that is reached."""

    joints: Mapping[str, float]
    blocks: tuple[tuple[float, ...], ...]
    height_mm: float


@dataclass(frozen=True, slots=True)
class Plan:
    """What is known before levels: places of columns, forms of joints, and the room of the words beside each joint."""

    graph: CircuitGraph
    layers: Layers
    places: Sequence[float]
    forms: Mapping[str, JointForm]
    names_mm: Mapping[str, float]
    module_mm: float

    @property
    def name_mm(self) -> float:
        """Height of the words above a joint."""
        return 1.75 * self.module_mm

    def depth_mm(self, name: str) -> float:
        """How far a joint reaches down from its level."""
        form = self.forms.get(name)
        return form.depth_mm(self.module_mm) if form is not None else 0.0

    def span(self, name: str) -> tuple[float, float]:
        """What a joint takes up from left to right, its words included."""
        form = self.forms.get(name)
        if form is None:
            xs = [self.places[place] for place in self.layers.joints[name].strands]
            return min(xs) - 5.0, max(xs) + 5.0
        half_mm = HALF_WIDTH * self.module_mm if form.shape is Shape.BODY else 0.0
        right = max(form.right + 2.0, form.at + half_mm, form.at + self.names_mm.get(name, 0.0))
        return min(form.left - 2.0, form.at - half_mm), right

    def reach(self, place: int) -> tuple[float, float]:
        """What a column takes up from left to right over its whole length."""
        boxes = [block.box for block in self.layers.columns[place].blocks]
        left, right = min([-0.7, *(box.x0 for box in boxes)]), max([0.7, *(box.x1 for box in boxes)])
        return self.places[place] + left - _PAD_MM, self.places[place] + right + _PAD_MM


def levels(plan: Plan, available_mm: float) -> Levels | None:
    """Levels of all that is drawn, or None where it needs more than `available_mm` of height.

    The conductors between things are drawn as long as the height allows, so that the white space is even.
    """
    scheme = _Scheme(plan)
    rows = Rows(scheme.bounds)
    top = [(scheme.joints[name], 0.0) for name, joint in plan.layers.joints.items() if joint.layer == 0]
    for group in (top, *_row_groups(scheme)):
        rows.align(group)
    shown_mm, most = _LEAST_SHOWN_MM, _MOST_SHOWN_MM
    if rows.height_mm(rows.earliest(shown_mm)) > available_mm + 1e-6:
        return None
    for _ in range(8):
        middle = (shown_mm + most) / 2
        if rows.height_mm(rows.earliest(middle)) > available_mm:
            most = middle
        else:
            shown_mm = middle
    early = rows.earliest(shown_mm)
    height_mm = rows.height_mm(early)
    settled = rows.earliest(shown_mm, _wanted(scheme, rows, early, rows.latest(shown_mm, height_mm)))
    _centre_labels(scheme, rows, settled, shown_mm)
    return Levels(
        {name: settled[thing] for name, thing in scheme.joints.items()},
        tuple(tuple(settled[thing] for thing in own) for own in scheme.blocks),
        height_mm,
    )


@dataclass(slots=True)
class _Scheme:
    """All things of one drawing, numbered, with their bounds."""

    plan: Plan
    bounds: RowBounds = field(default_factory=RowBounds)
    joints: dict[str, int] = field(default_factory=dict)
    blocks: list[list[int]] = field(default_factory=list)

    def __post_init__(self) -> None:
        layers = self.plan.layers
        for name in layers.joints:
            self.joints[name] = self.bounds.thing(0.0, 1.0 + self.plan.depth_mm(name))
        for column in layers.columns:
            self.blocks.append([self.bounds.thing(block.rise_mm, block.depth_mm) for block in column.blocks])
        spans = {name: self.plan.span(name) for name in layers.joints}
        reaches = [self.plan.reach(place) for place in range(len(layers.columns))]
        for place, column in enumerate(layers.columns):
            self._along(place, column)
        self._joints_apart(spans)
        for name, span in spans.items():
            for place, column in enumerate(layers.columns):
                if name not in (column.upper, column.lower) and _overlap(span, reaches[place]):
                    self._clear_of_run(name, place, column)
        for place, following in permutations(range(len(layers.columns)), 2):
            if _overlap(reaches[place], reaches[following]):
                self._clear_of_column(place, following)
                self._clear_of_blocks(place, following)

    def _along(self, place: int, column: StrandColumn) -> None:
        """Bounds down one column, from joint to joint."""
        own, below = self.blocks[place], self.bounds.below
        start, end = self.joints.get(column.upper), self.joints.get(column.lower)
        for (upper, first), (lower, second) in pairwise(zip(column.blocks, own, strict=True)):
            below(first, second, upper.depth_mm + lower.rise_mm, 1)
        over_mm = max(_DOT_MM, self._name_over(place, column.lower))
        if not own:
            if start is not None and end is not None:
                below(start, end, self.plan.depth_mm(column.upper) + over_mm, 2)
            return
        if start is not None:
            below(
                start,
                own[0],
                self.plan.depth_mm(column.upper) + _DOT_MM + self._name_under(column.upper) + column.blocks[0].rise_mm,
                1,
            )
        if end is not None:
            below(own[-1], end, column.blocks[-1].depth_mm + over_mm, 1)

    def _name_over(self, place: int, name: str) -> float:
        """Height of a joint's words where they stand over the end of this column."""
        form = self.plan.forms.get(name)
        is_over = form is not None and not form.named_below and abs(form.at - self.plan.places[place]) < _SAME_MM
        return self.plan.name_mm if is_over and self.plan.names_mm.get(name) else 0.0

    def _name_under(self, name: str) -> float:
        """Height of a joint's words where they stand below it."""
        form = self.plan.forms.get(name)
        return self.plan.name_mm if form is not None and form.named_below and self.plan.names_mm.get(name) else 0.0

    def _joints_apart(self, spans: Mapping[str, tuple[float, float]]) -> None:
        """Level runs over one stretch of the sheet stand one below the other, those of one layer with few crossings."""
        joints = self.plan.layers.joints
        pairs = [pair for pair in combinations(joints, 2) if _overlap(spans[pair[0]], spans[pair[1]])]
        # One number for each joint, so that no three of a layer can each want to be above the next.
        lift = dict.fromkeys(joints, 0)
        for one, other in pairs:
            if joints[one].layer == joints[other].layer:
                gain = self._crossings(one, other) - self._crossings(other, one)
                lift[one] += gain
                lift[other] -= gain
        seat = {name: (joint.layer, lift[name], index) for index, (name, joint) in enumerate(joints.items())}
        for pair in pairs:
            upper, lower = sorted(pair, key=lambda name: seat[name])
            by_mm = self.plan.depth_mm(upper) + _RUN_MM + self.plan.name_mm + self._name_under(upper)
            self.bounds.below(self.joints[upper], self.joints[lower], by_mm)

    def _crossings(self, upper: str, lower: str) -> int:
        """Crossings of two joints of one layer if `upper` stands higher."""
        places, joints = self.plan.places, self.plan.layers.joints
        first, second = self.plan.forms.get(upper), self.plan.forms.get(lower)
        count = 0
        if first is not None:
            count += sum(first.left < places[place] < first.right for place in joints[lower].above)
        if second is not None:
            count += sum(second.left < places[place] < second.right for place in joints[upper].below)
        return count

    def _clear_of_run(self, name: str, place: int, column: StrandColumn) -> None:
        """Blocks keep clear of a level run that crosses their column or comes near their texts."""
        layer, run = self.plan.layers.joints[name].layer, self.joints[name]
        above = [index for index, gap in enumerate(column.gaps) if gap < layer]
        below = [index for index, gap in enumerate(column.gaps) if gap >= layer]
        if above:
            depth_mm = column.blocks[above[-1]].depth_mm + _BAND_MM + self.plan.name_mm
            self.bounds.below(self.blocks[place][above[-1]], run, depth_mm)
        if below:
            named_mm = self._name_under(name) + self.plan.depth_mm(name)
            self.bounds.below(run, self.blocks[place][below[0]], _BAND_MM + named_mm + column.blocks[below[0]].rise_mm)

    def _clear_of_column(self, place: int, other: int) -> None:
        """What stands in one column keeps clear of another column that only begins further down."""
        column, following = self.plan.layers.columns[place], self.plan.layers.columns[other]
        if column.bottom <= following.top:
            self._one_after_other(place, other)
            return
        begins, ends = self._top_of(other), self._bottom_of(place)
        above = [index for index, gap in enumerate(column.gaps) if gap < following.top]
        if begins is not None and above:
            self.bounds.below(self.blocks[place][above[-1]], begins, column.blocks[above[-1]].depth_mm + _PAD_MM)
        below = [index for index, gap in enumerate(following.gaps) if gap >= column.bottom]
        if ends is not None and below:
            at = self.blocks[other][below[0]]
            self.bounds.below(ends[0], at, ends[1] + _PAD_MM + following.blocks[below[0]].rise_mm)

    def _clear_of_blocks(self, place: int, other: int) -> None:
        """Blocks of two columns that would meet keep the order of their gaps."""
        column, following = self.plan.layers.columns[place], self.plan.layers.columns[other]
        x, next_x = self.plan.places[place], self.plan.places[other]
        for index, (block, gap) in enumerate(zip(column.blocks, column.gaps, strict=True)):
            for at, (lower, lower_gap) in enumerate(zip(following.blocks, following.gaps, strict=True)):
                span = x + block.box.x0 - _PAD_MM, x + block.box.x1 + _PAD_MM
                if gap < lower_gap and _overlap(span, (next_x + lower.box.x0, next_x + lower.box.x1)):
                    upper_thing, lower_thing = self.blocks[place][index], self.blocks[other][at]
                    self.bounds.below(upper_thing, lower_thing, block.depth_mm + _PAD_MM + lower.rise_mm)
                    break

    def _one_after_other(self, place: int, other: int) -> None:
        column, following = self.plan.layers.columns[place], self.plan.layers.columns[other]
        begins, ends = self._top_of(other), self._bottom_of(place)
        if begins is None or ends is None or ends[0] == begins:
            return
        if column.bottom < following.top or not (column.lower and following.upper):
            self.bounds.below(ends[0], begins, ends[1])
            return
        # Of two joints of one layer either may stand higher; their conductors are apart, so only blocks give way.
        if column.blocks:
            self.bounds.below(self.blocks[place][-1], begins, column.blocks[-1].depth_mm + _PAD_MM)
        if following.blocks:
            self.bounds.below(ends[0], self.blocks[other][0], _PAD_MM + following.blocks[0].rise_mm)

    def _top_of(self, place: int) -> int | None:
        column = self.plan.layers.columns[place]
        if column.upper:
            return self.joints[column.upper]
        return self.blocks[place][0] if column.blocks else None

    def _bottom_of(self, place: int) -> tuple[int, float] | None:
        """The lowest thing of a column, and how far it reaches below its level."""
        column = self.plan.layers.columns[place]
        if column.lower:
            return self.joints[column.lower], self.plan.depth_mm(column.lower)
        if column.blocks:
            return self.blocks[place][-1], column.blocks[-1].depth_mm + _PAD_MM
        return (self.joints[column.upper], 2.0 + self.plan.depth_mm(column.upper)) if column.upper else None


def _overlap(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[0] < other[1] and other[0] < one[1]


def _row_groups(scheme: _Scheme) -> Iterator[list[tuple[int, float]]]:
    """Blocks that would stand in one row, the most wanted rows first; one block of each column."""
    groups: dict[tuple[int, str, int], dict[int, tuple[int, float]]] = {}
    for place, column in enumerate(scheme.plan.layers.columns):
        for index, block in enumerate(column.blocks):
            for row in block.rows:
                rank = next((at for at, stem in enumerate(_ROWS_FIRST) if row.startswith(stem)), len(_ROWS_FIRST))
                gap = -1 if row.startswith("bank ") else column.gaps[index]
                held = groups.setdefault((rank, row, gap), {})
                held.setdefault(place, (scheme.blocks[place][index], block.anchor_mm))
    for key in sorted(groups):
        yield list(groups[key].values())


def _wanted(scheme: _Scheme, rows: Rows, early: Sequence[float], late: Sequence[float]) -> dict[int, float]:
    """Level of each row between its earliest and latest: feeds high, loads in the middle, returns low."""
    feed_side = scheme.plan.graph.feed_side
    share: dict[int, list[float]] = {}
    for name, thing in scheme.joints.items():
        share.setdefault(rows.row[thing], []).append(0.0 if feed_side[name] else 1.0)
    for column, own in zip(scheme.plan.layers.columns, scheme.blocks, strict=True):
        side = 0.0 if feed_side[column.strand.upper] else 1.0
        for block, thing in zip(column.blocks, own, strict=True):
            share.setdefault(rows.row[thing], []).append(_SHARES.get(block.role, side))
    wanted: dict[int, float] = {}
    for thing, row in enumerate(rows.row):
        part = sum(share[row]) / len(share[row])
        wanted[row] = early[thing] + part * max(0.0, late[thing] - early[thing]) + rows.above[thing]
    return wanted


def _centre_labels(scheme: _Scheme, rows: Rows, level: list[float], shown_mm: float) -> None:
    """Labels stand in the middle of the conductor that they have to themselves, those of one row together."""
    over: dict[int, list[tuple[int, float]]] = {}
    under: dict[int, list[tuple[int, float]]] = {}
    for bound in scheme.bounds.held:
        by_mm = bound.fixed_mm + bound.shown * shown_mm
        over.setdefault(bound.lower, []).append((bound.upper, by_mm))
        under.setdefault(bound.upper, []).append((bound.lower, by_mm))
    labels: dict[int, list[int]] = {}
    for column, own in zip(scheme.plan.layers.columns, scheme.blocks, strict=True):
        for block, thing in zip(column.blocks, own, strict=True):
            if block.wire is not None or block.given is not None:
                labels.setdefault(rows.row[thing], []).append(thing)
    for things in labels.values():
        if all(over.get(thing) and under.get(thing) for thing in things):
            high = max(level[other] + by_mm - level[thing] for thing in things for other, by_mm in over[thing])
            low = min(level[other] - by_mm - level[thing] for thing in things for other, by_mm in under[thing])
            for thing in things:
                level[thing] += (high + low) / 2
