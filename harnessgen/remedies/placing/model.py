"""The best place of every splice at once, as a mixed-integer program that HiGHS solves to the end."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum

from harnessgen.measures.frozen import frozen
from harnessgen.remedies.placing.tree import PlaceTree, TreePlace, TreeSegment, name_of

TIME_LIMIT_S = 20.0
_TIE = 1e-7


class Aim(Enum):
    """What is wanted of the places."""

    COPPER = "copper"
    """Least mass of copper."""
    DIAMETER = "diameter"
    """Least diameter of the thickest bundle that a splice can change; then least wire in all bundles."""
    REACH = "reach"
    """Least length that wires of stated length fall short of in all; then least copper."""


@frozen
class SpliceWire:
    """A wire that ends in a splice: its ends (a splice, or a place of the tree), and what a millimetre of it weighs.

    `spare_mm` is how much longer than today its way may become, None for a wire that is still to be cut; `least_mm` is
    how much longer it has to become at least (negative: shorter at most), so that it does not hang loose.
    """

    mark: str
    ends: tuple[str, str]
    area_mm2: float
    square_mm2: float
    spare_mm: float | None
    least_mm: float = float("-inf")


@frozen
class PlacementProblem:
    """Splices with the places where each may sit, today's first; the wires between; and the distance to be kept.

    `held` are the squares of the diameters of all other wires, by the lower place of each segment that they lie in.
    """

    tree: PlaceTree
    spots: Mapping[str, tuple[TreePlace, ...]]
    runs: tuple[SpliceWire, ...]
    spacing_mm: float
    held: Mapping[str, float]


@frozen
class PlacementSolution:
    """The place of each splice, and whether it is proved that there is no better one."""

    spots: Mapping[str, TreePlace]
    is_proved: bool


def allowed(problem: PlacementProblem, a: tuple[str, TreePlace], b: tuple[str, TreePlace]) -> bool:
    """Whether two splices may have these places: far enough apart, or both where they are today."""
    (one, here), (other, there) = a, b
    if here is problem.spots[one][0] and there is problem.spots[other][0]:
        return True
    if here.stretch != there.stretch or here.node or there.node:
        return name_of(here) != name_of(there)
    return abs(here.offset_mm - there.offset_mm) >= problem.spacing_mm - 1e-9


def solve(problem: PlacementProblem, aim: Aim) -> PlacementSolution:
    """The best places for an aim; today's where the time limit left nothing better.

    Two aims have a second one: it is followed among all arrangements that are best by the first.
    """
    model = _Model(problem)
    weight = "square_mm2" if aim is Aim.DIAMETER else "area_mm2"
    length = model.weighted(weight)
    is_proved = True
    model.hold_lengths(is_soft=aim is Aim.REACH)
    if aim is Aim.DIAMETER:
        first = {model.thickest(): 1.0}
    elif aim is Aim.REACH:
        first = model.shortfalls()
    else:
        first = {}
    if first:
        found, value, is_proved = model.run(first)
        if found is None:
            return PlacementSolution({name: spots[0] for name, spots in problem.spots.items()}, is_proved=False)
        model.row(first, high=value + max(abs(value), 1.0) * _TIE)
    found, _, is_last_proved = model.run(length)
    if found is None:
        return PlacementSolution({name: spots[0] for name, spots in problem.spots.items()}, is_proved=False)
    return PlacementSolution(found, is_proved and is_last_proved)


_Line = dict[int, float]


@dataclass(slots=True)
class _Model:
    """Columns: one for each splice at each of its places, then what has to be linear beside them."""

    problem: PlacementProblem
    at: dict[tuple[str, int], int] = field(default_factory=dict)
    highs: list[float] = field(default_factory=list)
    whole: list[int] = field(default_factory=list)
    rows: list[tuple[_Line, float, float]] = field(default_factory=list)
    lines: dict[str, tuple[_Line, float]] = field(default_factory=dict)
    parted: dict[tuple[str, str, str], int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for splice, spots in self.problem.spots.items():
            line = {}
            for index in range(len(spots)):
                column = self.at[splice, index] = self.column(1.0, whole=True)
                line[column] = 1.0
            self.row(line, low=1.0, high=1.0)
        self._keep_apart()

    def column(self, high: float, *, whole: bool = False) -> int:
        self.highs.append(high)
        self.whole.append(int(whole))
        return len(self.highs) - 1

    def row(self, line: _Line, *, low: float = float("-inf"), high: float = float("inf")) -> None:
        self.rows.append((dict(line), low, high))

    def _keep_apart(self) -> None:
        """Of the places within one distance of each other one splice has one; today's crowded ones pair by pair."""
        places: dict[tuple[str, str], list[tuple[str, int, TreePlace]]] = {}
        for splice, spots in self.problem.spots.items():
            for index, spot in enumerate(spots):
                key = (spot.node, "") if spot.node else spot.stretch
                places.setdefault(key, []).append((splice, index, spot))
        for here in places.values():
            ordered = sorted(here, key=lambda each: each[2].offset_mm)
            crowded = self._crowded(ordered)
            self._pairs(ordered, crowded)
            self._windows([each for each in ordered if each[:2] not in crowded])

    def _crowded(self, ordered: list[tuple[str, int, TreePlace]]) -> set[tuple[str, int]]:
        """Splices that sit too near each other today, and may stay there together."""
        today = [each for each in ordered if each[1] == 0]
        found: set[tuple[str, int]] = set()
        for one, other in itertools.pairwise(today):
            if one[2].node or other[2].offset_mm - one[2].offset_mm < self.problem.spacing_mm - 1e-9:
                found |= {one[:2], other[:2]}
        return found

    def _pairs(self, ordered: list[tuple[str, int, TreePlace]], crowded: set[tuple[str, int]]) -> None:
        for splice, index, spot in ordered:
            if (splice, index) not in crowded:
                continue
            for other, place, beyond in ordered:
                if splice != other and not allowed(self.problem, (splice, spot), (other, beyond)):
                    self.row({self.at[splice, index]: 1.0, self.at[other, place]: 1.0}, high=1.0)

    def _windows(self, ordered: list[tuple[str, int, TreePlace]]) -> None:
        last = 0
        for first, (_, _, spot) in enumerate(ordered):
            end = first
            while end < len(ordered) and (
                ordered[end][2].offset_mm - spot.offset_mm < self.problem.spacing_mm - 1e-9 or spot.node
            ):
                end += 1
            # A window that lies in the one before it says nothing new.
            if end > last and end - first > 1:
                self.row({self.at[each[:2]]: 1.0 for each in ordered[first:end]}, high=1.0)
            last = max(last, end)

    def _beyond(self, end: str, segment: TreeSegment) -> tuple[_Line, float]:
        """Whether an end lies beyond a segment, as a line of columns and a constant."""
        below = self.problem.tree.below[segment.lower]
        spots = self.problem.spots.get(end)
        if spots is None:
            return {}, 1.0 if end in below else 0.0
        line = {self.at[end, index]: 1.0 for index, spot in enumerate(spots) if name_of(spot) in below}
        return ({}, 1.0) if len(line) == len(spots) else (line, 0.0)

    def crossing(self, run: SpliceWire, segment: TreeSegment) -> tuple[_Line, float]:
        """Whether a wire lies in a segment: its ends are on both sides of it."""
        (a, a_is), (b, b_is) = (self._beyond(end, segment) for end in run.ends)
        if not b:
            a, a_is, b, b_is = b, b_is, a, a_is
        if not a:
            # One end is known: the wire lies here if the other is on the other side.
            return (b, b_is) if a_is == 0.0 else ({each: -value for each, value in b.items()}, 1.0 - b_is)
        key = (min(run.ends), max(run.ends), segment.lower)
        if key not in self.parted:
            column = self.parted[key] = self.column(1.0)
            for sign in (1.0, -1.0):
                line = {column: 1.0}
                for each in itertools.chain(a, b):
                    line[each] = line.get(each, 0.0) - sign * (a.get(each, 0.0) - b.get(each, 0.0))
                self.row(line, low=sign * (a_is - b_is))
        return {self.parted[key]: 1.0}, 0.0

    def segments(self, run: SpliceWire) -> dict[str, TreeSegment]:
        """Segments in which a wire may lie."""
        ends = [[name_of(each) for each in self.problem.spots.get(end, ())] or [end] for end in run.ends]
        found: dict[str, TreeSegment] = {}
        for one in ends[0]:
            found.update((each.lower, each) for each in self.problem.tree.path(one, ends[1][0]))
        for other in ends[1]:
            found.update((each.lower, each) for each in self.problem.tree.path(ends[0][0], other))
        return found

    def length(self, run: SpliceWire) -> tuple[_Line, float]:
        """Wire that a run takes, as a line of columns and a constant."""
        line: _Line = {}
        constant = 0.0
        for segment in self.segments(run).values():
            crossing, always = self.crossing(run, segment)
            constant += always * segment.wire_mm
            for column, value in crossing.items():
                line[column] = line.get(column, 0.0) + value * segment.wire_mm
        return line, constant

    def weighted(self, weight: str) -> _Line:
        """The length of all wires, each millimetre by its weight."""
        total: _Line = {}
        for run in self.problem.runs:
            for column, value in self.length(run)[0].items():
                total[column] = total.get(column, 0.0) + value * getattr(run, weight)
        return total

    def thickest(self) -> int:
        """A column that is no less than the wires' squares in any segment that a splice can change."""
        column = self.column(float("inf"))
        loads: dict[str, tuple[_Line, float]] = {}
        for run in self.problem.runs:
            for lower, segment in self.segments(run).items():
                line, constant = loads.setdefault(lower, ({}, self.problem.held.get(lower, 0.0)))
                crossing, always = self.crossing(run, segment)
                for each, value in crossing.items():
                    line[each] = line.get(each, 0.0) + value * run.square_mm2
                loads[lower] = line, constant + always * run.square_mm2
        for line, constant in loads.values():
            self.row({**{each: -value for each, value in line.items()}, column: 1.0}, low=constant)
        return column

    def hold_lengths(self, *, is_soft: bool) -> None:
        """No wire of stated length falls short, or hangs loose, that does not today; `is_soft`: it may fall short."""
        for run in self.problem.runs:
            if run.spare_mm is not None:
                line, constant = self.length(run)
                known = self.today_mm(run) - constant
                high = float("inf") if is_soft else known + max(run.spare_mm, 0.0)
                self.row(line, low=known + run.least_mm, high=high)

    def shortfalls(self) -> _Line:
        """Columns that are no less than what each wire of stated length falls short of."""
        wanted: _Line = {}
        for run in self.problem.runs:
            if run.spare_mm is not None:
                line, constant = self.length(run)
                column = self.column(float("inf"))
                wanted[column] = 1.0
                today = self.today_mm(run)
                short = {each: -value for each, value in line.items()}
                self.row({**short, column: 1.0}, low=constant - today - run.spare_mm)
        return wanted

    def today_mm(self, run: SpliceWire) -> float:
        """Wire that a run takes with its splices where they are today."""
        ends = [name_of(self.problem.spots[end][0]) if end in self.problem.spots else end for end in run.ends]
        return self.problem.tree.wire_mm(ends[0], ends[1])

    def run(self, cost: _Line) -> tuple[dict[str, TreePlace] | None, float, bool]:
        """The best places for a cost, that cost, and whether it is proved; None where nothing was found in time."""
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_matrix

        count = len(self.highs)
        costs = np.zeros(count)
        for column, value in cost.items():
            costs[column] += value
        lines = [row[0] for row in self.rows]
        matrix = csr_matrix(
            (
                [value for line in lines for value in line.values()],
                (
                    [number for number, line in enumerate(lines) for _ in line],
                    [column for line in lines for column in line],
                ),
            ),
            shape=(len(lines), count),
        )
        limits = LinearConstraint(matrix, [row[1] for row in self.rows], [row[2] for row in self.rows])
        result = milp(
            costs,
            integrality=np.array(self.whole),
            bounds=Bounds(0.0, np.array(self.highs)),
            constraints=limits,
            options={"time_limit": TIME_LIMIT_S, "mip_rel_gap": 0.0},
        )
        if result.x is None:
            return None, 0.0, False
        chosen = {
            splice: spots[max(range(len(spots)), key=lambda index: result.x[self.at[splice, index]])]
            for splice, spots in self.problem.spots.items()
        }
        return chosen, float(costs @ result.x), result.status == 0


def cost_of(problem: PlacementProblem, spots: Mapping[str, TreePlace], weight: str) -> float:
    """The length of all wires with splices at these places, each millimetre by its weight; counted, not modelled."""
    total = 0.0
    for run in problem.runs:
        ends = [name_of(spots[end]) if end in spots else end for end in run.ends]
        total += getattr(run, weight) * problem.tree.wire_mm(ends[0], ends[1])
    return total


def arrangements(problem: PlacementProblem) -> Iterable[Mapping[str, TreePlace]]:
    """Every arrangement that is allowed: for proofs on small trees."""
    names = list(problem.spots)
    for chosen in itertools.product(*(problem.spots[name] for name in names)):
        named: Sequence[tuple[str, TreePlace]] = list(zip(names, chosen, strict=True))
        if all(allowed(problem, one, other) for one, other in itertools.combinations(named, 2)):
            yield dict(named)
