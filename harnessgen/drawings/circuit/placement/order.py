"""The order of the columns from left to right, with few crossings: asked of Graphviz, then mended by our own count.

Only the order is taken from Graphviz, never a position on the sheet.
"""

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from harnessgen.drawings.circuit.elements.graph import JunctionKind
from harnessgen.drawings.circuit.placement.layers import Joint, Layers
from harnessgen.outside.program import OutsideProgram, OutsideProgramFailed, answer_of

MOST_BOXES = 100
"""Graphviz is never handed more boxes than this: its time grows fast with their number."""
_MOST_ROUNDS = 60
_LONGEST_MOVE = 6
"""Most neighbouring columns that are tried elsewhere together."""
_MOST_TRIED = 20_000
"""Orders that are tried at a time at most, so that a wide sheet does not take long."""
_NODE_WORDS = 11
"""Words of the line of a box: kind, name, place, size, label, style, shape and two colours."""
_BOX = re.compile(r"\b(?:j\d+|c\d+g\d+|r\d+)\b")
"""Names of boxes in our own text: a joint, a column in a gap, the spine in a row."""
_SUPPLY_WEIGHT = 0.6
_RUN_WEIGHT = 0.01

Units = list[tuple[int, ...]]


PLACER = OutsideProgram(
    "the program dot of Graphviz",
    "install Graphviz with the packages of your system, as with: apt install graphviz",
    limit_s=60.0,
)
"""What gives the order of the columns; a sheet takes it less than a second."""
_MOST_AT_ONCE = 20
"""Sheets that Graphviz is asked about at a time, so that its time does not depend on the size of the vehicle."""
_MOST_BYTES = 16 * 2**20
"""The answer for so many sheets takes a megabyte at most."""


class PlacementUnavailable(OutsideProgramFailed):
    """The circuit drawing cannot be placed, since the program `dot` of Graphviz is not installed or failed."""


def box_count(layers: Layers) -> int:
    """Number of boxes that Graphviz would get: joints, and each column once for each gap that it runs through."""
    return len(layers.joints) + sum(column.bottom - column.top for column in layers.columns)


class Orders:
    """Orders of columns, of several sheets at a time: Graphviz takes longer to start than to place a sheet.

    What it was asked once it is not asked again: sheets are tried repeatedly.
    """

    def __init__(self) -> None:
        self._placed: dict[str, Mapping[str, float]] = {}

    def ask(self, many: Iterable[Layers]) -> None:
        """Ask Graphviz about all of these that it was not asked about yet, in one go.

        Raises:
            PlacementUnavailable: Graphviz is not installed, failed, or did not end.
        """
        texts = dict.fromkeys(_dot_text(layers) for layers in many if len(_units(layers)) > 1)
        fresh = [text for text in texts if text not in self._placed]
        for first in range(0, len(fresh), _MOST_AT_ONCE):
            few = fresh[first : first + _MOST_AT_ONCE]
            self._placed |= zip(few, _asked(few), strict=True)

    def seats(self, layers: Layers) -> dict[int, float]:
        """A number for each column that grows from left to right as Graphviz ordered its rows; only its order counts.

        Raises:
            PlacementUnavailable: Graphviz is not installed, failed, or did not end.
        """
        self.ask((layers,))
        seats: dict[int, list[float]] = {}
        for box, place in self._placed[_dot_text(layers)].items():
            if box.startswith("c"):
                seats.setdefault(int(box[1:].partition("g")[0]), []).append(place)
        return {column: sum(found) / len(found) for column, found in seats.items()}


def column_order(layers: Layers, orders: Orders | None = None) -> tuple[int, ...]:
    """Places of the columns from left to right; `orders` holds what Graphviz was asked already.

    Raises:
        PlacementUnavailable: Graphviz is not installed, failed, or did not end.
    """
    units = _units(layers)
    if len(units) > 1:
        seat = (orders or Orders()).seats(layers)
        units.sort(key=lambda unit: (sum(seat[place] for place in unit) / len(unit), unit))
        if _inversions(units) > _inversions(units[::-1]):
            units.reverse()
        units = _improved(layers, units)
        if _inversions(units) > _inversions(units[::-1]):
            units.reverse()
    return tuple(place for unit in units for place in unit)


def _units(layers: Layers) -> Units:
    """Columns that run between the same two joints, such as the legs of a bank, stay together in their own order."""
    units: dict[tuple[str, str, int], list[int]] = {}
    for place, column in enumerate(layers.columns):
        alone = -1 if column.upper and column.lower and column.upper != column.lower else place
        units.setdefault((column.upper, column.lower, alone), []).append(place)
    return [tuple(unit) for unit in units.values()]


def _inversions(units: Sequence[tuple[int, ...]]) -> int:
    """How many pairs stand against the order of the design."""
    firsts = [unit[0] for unit in units]
    return sum(left > right for index, left in enumerate(firsts) for right in firsts[index + 1 :])


def _dot_text(layers: Layers) -> str:
    lines = ["digraph {", "graph [rankdir=TB, nodesep=0.1, ranksep=0.2]", "node [shape=box, width=0.5, height=0.1]"]
    names = {name: f"j{place}" for place, name in enumerate(layers.joints)}
    ranks: dict[int, list[str]] = {}
    for name, joint in layers.joints.items():
        ranks.setdefault(2 * joint.layer, []).append(names[name])
    for place, column in enumerate(layers.columns):
        boxes = [f"c{place}g{gap}" for gap in range(column.top, column.bottom)]
        for gap, box in zip(range(column.top, column.bottom), boxes, strict=True):
            ranks.setdefault(2 * gap + 1, []).append(box)
        chain = [*([names[column.upper]] if column.upper else []), *boxes]
        chain += [names[column.lower]] if column.lower else []
        lines += [f"{upper} -> {lower} [weight=4]" for upper, lower in pairwise(chain)]
    rows = sorted(ranks)
    lines += [f"{{rank=same; r{row}; {'; '.join(ranks[row])}}}" for row in rows]
    # An invisible spine holds the rows at their levels.
    lines += [f"r{row} [style=invis]" for row in rows]
    lines += [f"r{upper} -> r{lower} [style=invis]" for upper, lower in pairwise(rows)]
    return "\n".join([*lines, "}"])


def _asked(texts: Sequence[str]) -> list[Mapping[str, float]]:
    """Level place of each box of each graph as Graphviz puts it.

    Raises:
        PlacementUnavailable: Graphviz is not installed, failed, answered nonsense or did not end.
    """
    try:
        plain = answer_of(PLACER, ("dot", "-Tplain"), "\n".join(texts).encode(), _MOST_BYTES)
        return _places(plain, texts)
    except OutsideProgramFailed as failed:
        raise PlacementUnavailable(f"no circuit drawing: {failed}") from failed
    except ValueError as malformed:
        reason = PLACER.failed(f"its answer is malformed: {malformed}")
        raise PlacementUnavailable(f"no circuit drawing: {reason}") from malformed


def _places(plain: bytes, texts: Sequence[str]) -> list[Mapping[str, float]]:
    """The answer read: for each graph, in turn, every box once with its place.

    Raises:
        ValueError: that is not what it holds.
    """
    placed: list[dict[str, float]] = []
    is_open = False
    for line in plain.decode("utf-8").splitlines():
        words = line.split()
        kind = words[0] if words else ""
        if kind == "graph" and not is_open:
            placed.append({})
            is_open = True
        elif kind == "node" and is_open and len(words) >= _NODE_WORDS and words[1] not in placed[-1]:
            place = float(words[2])
            if not math.isfinite(place):
                raise ValueError("a place is no number")
            placed[-1][words[1]] = place
        elif kind == "stop" and is_open:
            is_open = False
        elif kind != "edge" or not is_open:
            raise ValueError("a line is none of its format")
    if is_open or len(placed) != len(texts):
        raise ValueError(f"{len(placed)} graphs for {len(texts)}")
    for boxes, text in zip(placed, texts, strict=True):
        if boxes.keys() != set(_BOX.findall(text)):
            raise ValueError("its boxes are others than those that it was given")
    return list(placed)


class _Costs:
    """What orders of the units cost, many at a time: crossings, and far behind them the length of level runs."""

    def __init__(self, layers: Layers, units: Units) -> None:
        self.widths = np.array([len(unit) for unit in units])
        count = sum(map(len, units))
        self.unit_of, self.offset = np.zeros(count, int), np.zeros(count, int)
        for index, unit in enumerate(units):
            for offset, place in enumerate(unit):
                self.unit_of[place], self.offset[place] = index, offset
        self.joints = [_JointColumns.of(layers, joint) for joint in layers.joints.values()]

    def of(self, orders: NDArray[np.intp]) -> NDArray[np.float64]:
        """Cost of each row of `orders`, which holds places of units from left to right."""
        widths = self.widths[orders]
        starts = np.empty_like(orders)
        np.put_along_axis(starts, orders, np.cumsum(widths, axis=1) - widths, axis=1)
        seats = starts[:, self.unit_of] + self.offset
        total = np.zeros(len(orders))
        for joint in self.joints:
            total += joint.cost(seats)
        return total


@dataclass(frozen=True, slots=True)
class _JointColumns:
    """Columns of a joint, those that its level run would cross, and what one crossing counts."""

    above: list[int]
    below: list[int]
    passing: list[int]
    weight: float

    @staticmethod
    def of(layers: Layers, joint: Joint) -> "_JointColumns":
        own = set(joint.strands)
        passing = [
            place
            for place, column in enumerate(layers.columns)
            if place not in own and column.top <= joint.layer <= column.bottom
        ]
        weight = _SUPPLY_WEIGHT if joint.kind is JunctionKind.SUPPLY else 1.0
        return _JointColumns(list(joint.above), list(joint.below), passing, weight)

    def cost(self, seats: NDArray[np.intp]) -> NDArray[np.float64]:
        both = seats[:, self.above + self.below]
        first, last = both.min(axis=1), both.max(axis=1)
        found = _RUN_WEIGHT * (last - first)
        if self.passing:
            passing = seats[:, self.passing]
            crossed = (passing > first[:, None]) & (passing < last[:, None])
            found = found + self.weight * crossed.sum(axis=1)
        if self.above and self.below:
            above, below = seats[:, self.above], seats[:, self.below]
            off = above.min(axis=1) + above.max(axis=1) - below.min(axis=1) - below.max(axis=1)
            found = found + _RUN_WEIGHT * np.abs(off)
        return np.asarray(found, dtype=np.float64)


def _improved(layers: Layers, units: Units) -> Units:
    """Take the best move of neighbouring units to another place, as long as one helps."""
    costs = _Costs(layers, units)
    order = np.arange(len(units))
    least = float(costs.of(order[None, :])[0])
    farthest = max(1, min(_LONGEST_MOVE, _MOST_TRIED // (2 * len(units) ** 2), len(units) - 1))
    for _ in range(_MOST_ROUNDS):
        # Longer moves are tried only while something crosses.
        tried = order[_moves(len(units), farthest if least >= _SUPPLY_WEIGHT else 1)]
        found = costs.of(tried)
        best = int(found.argmin())
        if found[best] > least - 1e-9:
            break
        order, least = tried[best], float(found[best])
    return [units[index] for index in order]


@lru_cache(maxsize=32)
def _moves(count: int, longest: int) -> NDArray[np.int16]:
    """Every order of `count` places that comes of moving up to `longest` neighbours, as they stand or turned round."""
    rows: list[list[int]] = []
    for length in range(1, longest + 1):
        for start in range(count - length + 1):
            held = list(range(start, start + length))
            rest = [*range(start), *range(start + length, count)]
            for seat in range(len(rest) + 1):
                rows.append([*rest[:seat], *held, *rest[seat:]])
                if length > 1:
                    rows.append([*rest[:seat], *held[::-1], *rest[seat:]])
    return np.array(rows, dtype=np.int16)
