"""Things held to least distances below one another, aligned in rows: the arithmetic behind the levels of a circuit.

Every bound says that one thing stands at least so far below another, so levels are longest ways through the bounds.
Things that shall stand in one row are held together as one; a row that would contradict the bounds is refused.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class RowBound:
    """`lower` stands at least `fixed_mm`, and `shown` times the conductor that is to be seen, below `upper`."""

    upper: int
    lower: int
    fixed_mm: float
    shown: int = 0


@dataclass(slots=True)
class RowBounds:
    """Things by number with how far each reaches above and below its level (mm), and the bounds between them."""

    rise: list[float] = field(default_factory=list)
    depth: list[float] = field(default_factory=list)
    held: list[RowBound] = field(default_factory=list)

    def thing(self, rise_mm: float, depth_mm: float) -> int:
        """A new thing; its number."""
        self.rise.append(rise_mm)
        self.depth.append(depth_mm)
        return len(self.rise) - 1

    def below(self, upper: int, lower: int, fixed_mm: float, shown: int = 0) -> None:
        """Hold `lower` at least `fixed_mm` and `shown` pieces of conductor below `upper`."""
        self.held.append(RowBound(upper, lower, fixed_mm, shown))


class Rows:
    """Things held together: each has a row, and stands so far above the level of its row (mm).

    Raises:
        ValueError: the bounds go in a ring.
    """

    def __init__(self, bounds: RowBounds) -> None:
        self.bounds = bounds
        self.row = list(range(len(bounds.rise)))
        self.above = [0.0] * len(bounds.rise)
        order = self._sorted()
        if order is None:
            raise ValueError("the bounds go in a ring, so there are no levels that keep them")
        self._order: list[int] = order

    def align(self, things: Sequence[tuple[int, float]]) -> bool:
        """Hold `things` together at their anchors (mm below their levels) unless that contradicts the bounds."""
        if len(things) < 2:
            return True
        old = list(self.row), list(self.above)
        first, anchor_mm = things[0]
        for other, other_mm in things[1:]:
            source, target = self.row[other], self.row[first]
            shift_mm = (self.above[first] - anchor_mm) - (self.above[other] - other_mm)
            if source == target:
                continue
            for thing, row in enumerate(self.row):
                if row == source:
                    self.row[thing] = target
                    self.above[thing] += shift_mm
        order = self._sorted()
        if order is None:
            self.row, self.above = old
            return False
        self._order = order
        return True

    def _sorted(self) -> list[int] | None:
        """Rows so that each comes after those above it, or None if they go in a ring."""
        after: dict[int, set[int]] = {row: set() for row in self.row}
        count = dict.fromkeys(after, 0)
        for bound in self.bounds.held:
            one, other = self.row[bound.upper], self.row[bound.lower]
            if one == other:
                if self.above[bound.upper] - self.above[bound.lower] < bound.fixed_mm - 1e-9 or bound.shown:
                    return None
            elif other not in after[one]:
                after[one].add(other)
                count[other] += 1
        ready = [row for row, left in count.items() if not left]
        listed: list[int] = []
        while ready:
            row = ready.pop()
            listed.append(row)
            for other in after[row]:
                count[other] -= 1
                if not count[other]:
                    ready.append(other)
        return listed if len(listed) == len(after) else None

    def _steps(self, shown_mm: float) -> dict[int, list[tuple[int, float]]]:
        """For each row the rows that have to stand below it, and how far."""
        steps: dict[int, list[tuple[int, float]]] = {row: [] for row in self._order}
        for bound in self.bounds.held:
            upper, lower = self.row[bound.upper], self.row[bound.lower]
            if upper != lower:
                by_mm = bound.fixed_mm + bound.shown * shown_mm
                steps[upper].append((lower, by_mm - self.above[bound.upper] + self.above[bound.lower]))
        return steps

    def earliest(self, shown_mm: float, wanted: Mapping[int, float] | None = None) -> list[float]:
        """Least level of each thing, or, where a row has a `wanted` level, at least that."""
        level: dict[int, float] = dict.fromkeys(self._order, 0.0)
        for thing, row in enumerate(self.row):
            level[row] = max(level[row], self.above[thing] + self.bounds.rise[thing])
        if wanted is not None:
            level = {row: max(least, wanted.get(row, least)) for row, least in level.items()}
        steps = self._steps(shown_mm)
        for row in self._order:
            for lower, by_mm in steps[row]:
                level[lower] = max(level[lower], level[row] + by_mm)
        return [level[row] - self.above[thing] for thing, row in enumerate(self.row)]

    def latest(self, shown_mm: float, height_mm: float) -> list[float]:
        """Greatest level of each thing so that nothing reaches below `height_mm`."""
        level = dict.fromkeys(self._order, height_mm)
        for thing, row in enumerate(self.row):
            level[row] = min(level[row], height_mm - self.bounds.depth[thing] + self.above[thing])
        steps = self._steps(shown_mm)
        for row in reversed(self._order):
            for lower, by_mm in steps[row]:
                level[row] = min(level[row], level[lower] - by_mm)
        return [level[row] - self.above[thing] for thing, row in enumerate(self.row)]

    def height_mm(self, level: Sequence[float]) -> float:
        """The lowest level that anything reaches."""
        return max((at + depth for at, depth in zip(level, self.bounds.depth, strict=True)), default=0.0)
