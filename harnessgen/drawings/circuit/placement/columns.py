"""Where each column stands from left to right, so that no text meets a neighbour and trunks stand over their legs.

The places are the solution of a small linear programme: distances between neighbours are bounds, and what is minimised
is how far a trunk stands off the middle of its legs, then the length of level runs, then the width of the sheet.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

from harnessgen.drawings.circuit.elements.body_symbol import HALF_WIDTH
from harnessgen.drawings.circuit.elements.graph import JunctionKind
from harnessgen.drawings.circuit.placement.layers import Joint, Layers, StrandColumn

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

AIR_MM = 1.6
"""Least air between texts and conductors of neighbouring columns."""
CONDUCTOR_STEP_MM = 3.4
"""Least distance of two conductors that end at one level."""
LEAST_JOG_MM = 4.0
"""Columns of one joint are straight in line or at least this far apart."""
BAR_END_MM = 5.0
"""How far a supply bar reaches beyond its outer conductors."""
_ROUNDING_MM = 0.01
_LEAD_MM = 0.7
"""Least room on either side of a conductor or lead."""


@dataclass(frozen=True, slots=True)
class SupplyBar:
    """One bar of a supply over neighbouring columns, by their places from left to right, and the width of its text."""

    name: str
    columns: tuple[int, ...]
    text_mm: float


@dataclass(slots=True)
class _Programme:
    """Rows of a linear programme over columns (first) and helper variables."""

    count: int
    cost: dict[int, float] = field(default_factory=dict)
    bounds: list[tuple[dict[int, float], float]] = field(default_factory=list)
    """Each: the weighted sum is at most the number."""
    equal: list[tuple[dict[int, float], float]] = field(default_factory=list)

    def variable(self, cost: float) -> int:
        self.cost[self.count] = cost
        self.count += 1
        return self.count - 1

    def apart(self, left: int, right: int, by_mm: float) -> None:
        self.bounds.append(({left: 1.0, right: -1.0}, -by_mm))

    def penalise(self, terms: Mapping[int, float], weight: float) -> None:
        """Add `weight` times the absolute value of the weighted sum to the cost."""
        size = self.variable(weight)
        for sign in (1.0, -1.0):
            self.bounds.append(({**{at: sign * share for at, share in terms.items()}, size: -1.0}, 0.0))

    def solve(self) -> list[float] | None:
        # Imported here: slow to load, and only drawings need it.
        import numpy as np
        from scipy.optimize import linprog

        cost = np.zeros(self.count)
        for at, value in self.cost.items():
            cost[at] = value

        upper, equal = (self._matrix(held) for held in (self.bounds, self.equal))
        found = linprog(
            cost,
            A_ub=upper[0],
            b_ub=upper[1],
            A_eq=equal[0] if self.equal else None,
            b_eq=equal[1] if self.equal else None,
            bounds=(0, None),
            method="highs-ds",
        )
        if found.x is None or not found.success:
            return None
        return [round(float(value), 4) for value in found.x]

    def _matrix(
        self, held: Sequence[tuple[dict[int, float], float]]
    ) -> "tuple[NDArray[np.float64], NDArray[np.float64]]":
        import numpy as np

        matrix = np.zeros((len(held), self.count))
        for row, (terms, _) in enumerate(held):
            for at, share in terms.items():
                matrix[row, at] += share
        return matrix, np.array([limit for _, limit in held], dtype=np.float64)


def supply_bars(layers: Layers, order: Sequence[int], text_mm: Callable[[str, bool], float]) -> tuple[SupplyBar, ...]:
    """Bars of the supplies: one for each run of neighbouring columns. `text_mm(name, is_first)` is its text's width."""
    bars: list[SupplyBar] = []
    run: list[int] = []
    named = ""
    seen: set[str] = set()

    def close() -> None:
        if run:
            bars.append(SupplyBar(named, tuple(run), text_mm(named, named not in seen)))
            seen.add(named)
            run.clear()

    for place in order:
        column = layers.columns[place]
        if column.top > 0:
            continue
        joint = layers.joints.get(column.upper)
        name = joint.name if joint is not None and joint.kind is JunctionKind.SUPPLY else ""
        if name != named:
            close()
            named = name
        if name:
            run.append(place)
    close()
    return tuple(bars)


def column_places(
    layers: Layers,
    order: Sequence[int],
    bars: Sequence[SupplyBar],
    names_mm: Mapping[str, float],
    module_mm: float,
    *,
    evenly: bool = True,
) -> list[float]:
    """Level place of each column, the leftmost text at 0; `names_mm` is the room beside each joint for its name.

    `evenly` sets the legs of a bank equally far apart, which may take more width.
    """
    programme = _Programme(len(layers.columns))
    width = programme.variable(0.02)
    seats = {place: seat for seat, place in enumerate(order)}
    half_mm = {name: HALF_WIDTH * module_mm for name, each in layers.joints.items() if each.kind is JunctionKind.BODY}
    reach = [_reaches(layers, column, names_mm, half_mm) for column in layers.columns]
    for place, own in enumerate(reach):
        left = max(each[0] for each in own.values())
        right = max(each[1] for each in own.values())
        programme.bounds.append(({place: -1.0}, -left))
        programme.bounds.append(({place: 1.0, width: -1.0}, -right))
        programme.cost[place] = 0.0005
    _part_neighbours(layers, order, reach, programme)
    _part_ends(layers, order, names_mm, half_mm, programme)
    _part_bars(layers, order, bars, reach, programme)
    if evenly:
        _space_units(layers, order, programme)
    for joint in layers.joints.values():
        _centre(joint, seats, programme)
    return _without_jogs(layers, seats, programme)


def _reaches(
    layers: Layers, column: StrandColumn, names_mm: Mapping[str, float], half_mm: Mapping[str, float]
) -> dict[int, tuple[float, float]]:
    """How far a column reaches to the left and right in each gap that it runs through, millimetres."""
    found = dict.fromkeys(range(column.top, column.bottom), (_LEAD_MM, _LEAD_MM))
    for block, gap in zip(column.blocks, column.gaps, strict=True):
        if gap in found:
            left, right = found[gap]
            found[gap] = max(left, -block.box.x0), max(right, block.box.x1)
    for name, gap in ((column.lower, column.bottom - 1), (column.upper, column.top)):
        joint = layers.joints.get(name)
        if joint is not None and gap in found:
            least_mm = half_mm.get(name, 0.0)
            found[gap] = max(found[gap][0], least_mm), max(found[gap][1], least_mm, names_mm.get(name, 0.0))
    return found


def least_width_mm(layers: Layers) -> float:
    """Width that the fullest gap needs in any order of the columns, millimetres."""
    widths = dict.fromkeys(range(layers.last), -AIR_MM)
    for column in layers.columns:
        for gap, (left, right) in _reaches(layers, column, {}, {}).items():
            widths[gap] += left + right + AIR_MM
    return max(widths.values(), default=0.0)


def _part_neighbours(
    layers: Layers, order: Sequence[int], reach: Sequence[Mapping[int, tuple[float, float]]], programme: _Programme
) -> None:
    for gap in range(layers.last):
        row = [place for place in order if gap in reach[place]]
        for left, right in pairwise(row):
            programme.apart(left, right, reach[left][gap][1] + reach[right][gap][0] + AIR_MM)


def _part_ends(
    layers: Layers,
    order: Sequence[int],
    names_mm: Mapping[str, float],
    half_mm: Mapping[str, float],
    programme: _Programme,
) -> None:
    """Conductors that meet one layer from above and below stand apart, unless they meet in the same joint."""
    for layer in range(layers.last + 1):
        row = [place for place in order if layers.columns[place].top <= layer <= layers.columns[place].bottom]
        for left, right in combinations(row, 2):
            own, other = (_joint_at(layers.columns[place], layer) for place in (left, right))
            if own and own == other:
                continue
            room_mm = max(names_mm.get(own, 0.0), half_mm.get(own, 0.0)) + half_mm.get(other, 0.0)
            programme.apart(left, right, CONDUCTOR_STEP_MM + room_mm)


def _joint_at(column: StrandColumn, layer: int) -> str:
    if column.top == layer:
        return column.upper
    return column.lower if column.bottom == layer else ""


def _part_bars(
    layers: Layers,
    order: Sequence[int],
    bars: Sequence[SupplyBar],
    reach: Sequence[Mapping[int, tuple[float, float]]],
    programme: _Programme,
) -> None:
    top = [place for place in order if layers.columns[place].top == 0]
    for bar in bars:
        first, last = bar.columns[0], bar.columns[-1]
        programme.bounds.append(({first: -1.0}, -BAR_END_MM))
        after = top.index(last) + 1
        if after < len(top):
            following = top[after]
            room_mm = max(BAR_END_MM, reach[following][0][0])
            programme.apart(last, following, BAR_END_MM + room_mm + AIR_MM)
            programme.apart(first, following, bar.text_mm - BAR_END_MM + room_mm + AIR_MM)


def _space_units(layers: Layers, order: Sequence[int], programme: _Programme) -> None:
    """Neighbouring columns between the same two joints stand equally far apart."""
    runs: list[list[int]] = []
    for place in order:
        column = layers.columns[place]
        if runs and column.upper and column.lower:
            last = layers.columns[runs[-1][-1]]
            if (last.upper, last.lower) == (column.upper, column.lower):
                runs[-1].append(place)
                continue
        runs.append([place])
    for run in runs:
        if len(run) > 2:
            step = programme.variable(0.0)
            for left, right in pairwise(run):
                programme.equal.append(({right: 1.0, left: -1.0, step: -1.0}, 0.0))


def _centre(joint: Joint, seats: Mapping[int, int], programme: _Programme) -> None:
    above, below = (sorted(side, key=lambda place: seats[place]) for side in (joint.above, joint.below))
    both = sorted(joint.strands, key=lambda place: seats[place])
    if joint.kind is JunctionKind.SUPPLY or len(both) < 2:
        return
    if above and below:
        terms: dict[int, float] = {}
        for side, sign in ((above, 1.0), (below, -1.0)):
            middle = [side[len(side) // 2]] if len(side) % 2 else [side[0], side[-1]]
            for place in middle:
                terms[place] = terms.get(place, 0.0) + sign / len(middle)
        programme.penalise(terms, 1.0)
    left, right = programme.variable(-0.05), programme.variable(0.05)
    for place in both:
        programme.bounds.append(({left: 1.0, place: -1.0}, 0.0))
        programme.bounds.append(({place: 1.0, right: -1.0}, 0.0))


def _without_jogs(layers: Layers, seats: Mapping[int, int], programme: _Programme) -> list[float]:
    """Solve, and while two columns of a joint are nearly in line, set them in line or a clear step apart."""
    count = len(layers.columns)
    places = programme.solve()
    assert places is not None  # distances between columns in one order can always be kept
    for _ in range(3 * count):
        jog = next(_jogs(layers, places), None)
        if jog is None:
            break
        above, below = jog
        programme.equal.append(({above: 1.0, below: -1.0}, 0.0))
        tried = programme.solve()
        if tried is None:
            programme.equal.pop()
            left, right = sorted(jog, key=lambda place: seats[place])
            programme.apart(left, right, LEAST_JOG_MM)
            tried = programme.solve()
        if tried is None:
            break
        places = tried
    return places[:count]


def _jogs(layers: Layers, places: Sequence[float]) -> Iterator[tuple[int, int]]:
    for joint in layers.joints.values():
        for above in joint.above:
            for below in joint.below:
                off_mm = abs(places[above] - places[below])
                if _ROUNDING_MM < off_mm < LEAST_JOG_MM - _ROUNDING_MM:
                    yield above, below
