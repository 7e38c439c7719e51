"""The order of the columns from left to right, with few crossings: asked of Graphviz, then mended by our own count.

Only the order is taken from Graphviz, never a position on the sheet.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from harnessgen.drawings.circuit_graph import JunctionKind
from harnessgen.drawings.circuit_layers import Joint, Layers

MOST_BOXES = 100
"""Graphviz is never handed more boxes than this: its time grows fast with their number."""
_MOST_ROUNDS = 6
_LONGEST_MOVE = 6
"""Most neighbouring columns that are tried elsewhere together."""
_SUPPLY_WEIGHT = 0.6

Units = list[tuple[int, ...]]


class PlacementUnavailable(RuntimeError):
    """The circuit drawing cannot be placed, since the program `dot` of Graphviz is not installed or failed."""


def box_count(layers: Layers) -> int:
    """Number of boxes that Graphviz would get: joints, and each column once for each gap that it runs through."""
    return len(layers.joints) + sum(column.bottom - column.top for column in layers.columns)


def column_order(layers: Layers) -> tuple[int, ...]:
    """Places of the columns from left to right.

    Raises:
        PlacementUnavailable: Graphviz is not installed, or failed.
    """
    units = _units(layers)
    if len(units) > 1:
        seat = _seats(layers)
        units.sort(key=lambda unit: (sum(seat[place] for place in unit) / len(unit), unit))
        if _inversions(units) > _inversions(units[::-1]):
            units.reverse()
        units = _improved(_costs(layers), units)
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


def _seats(layers: Layers) -> dict[int, float]:
    """A number for each column that grows from left to right as Graphviz ordered its rows; only its order counts."""
    seats: dict[int, list[float]] = {}
    for box, place in _asked(_dot_text(layers)).items():
        if box.startswith("c"):
            seats.setdefault(int(box[1:].partition("g")[0]), []).append(place)
    return {column: sum(found) / len(found) for column, found in seats.items()}


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
        lines += [f"{upper} -> {lower} [weight=4]" for upper, lower in zip(chain, chain[1:], strict=False)]
    rows = sorted(ranks)
    lines += [f"{{rank=same; r{row}; {'; '.join(ranks[row])}}}" for row in rows]
    # An invisible spine holds the rows at their levels.
    lines += [f"r{row} [style=invis]" for row in rows]
    lines += [f"r{upper} -> r{lower} [style=invis]" for upper, lower in zip(rows, rows[1:], strict=False)]
    return "\n".join([*lines, "}"])


def _asked(text: str) -> dict[str, float]:
    """Level place of each box as Graphviz puts it.

    Raises:
        PlacementUnavailable: Graphviz is not installed, or failed.
    """
    # Imported here: only drawings need it, and the program behind it may be missing.
    import graphviz

    try:
        plain = graphviz.pipe("dot", "plain", text.encode(), quiet=True).decode()
    except graphviz.ExecutableNotFound as missing:
        raise PlacementUnavailable("no circuit drawing: the program dot of Graphviz is not installed") from missing
    except graphviz.CalledProcessError as failed:
        raise PlacementUnavailable(f"no circuit drawing: Graphviz failed ({failed.returncode})") from failed
    places: dict[str, float] = {}
    for line in plain.splitlines():
        words = line.split()
        if words and words[0] == "node":
            places[words[1]] = float(words[2])
    return places


@dataclass(frozen=True, slots=True)
class _JointCost:
    """What a joint's level run costs: `own` are its columns, `passing` those that it would cross."""

    above: tuple[int, ...]
    below: tuple[int, ...]
    passing: tuple[int, ...]
    weight: float

    def cost(self, seat: Sequence[int]) -> float:
        """Crossings, and far behind them the length of the run and how far a trunk is off the middle of its legs."""
        above, below = [seat[place] for place in self.above], [seat[place] for place in self.below]
        first, last = min(above + below), max(above + below)
        crossed = 0
        if last - first >= len(above) + len(below):
            crossed = sum(first < seat[place] < last for place in self.passing)
        off = abs(min(above) + max(above) - min(below) - max(below)) / 2 if above and below else 0.0
        return self.weight * crossed + 0.01 * (last - first) + 0.02 * off


def _costs(layers: Layers) -> list[_JointCost]:
    return [_joint_cost(layers, joint) for joint in layers.joints.values()]


def _joint_cost(layers: Layers, joint: Joint) -> _JointCost:
    own = set(joint.strands)
    passing = (
        place
        for place, column in enumerate(layers.columns)
        if place not in own and column.top <= joint.layer <= column.bottom
    )
    weight = _SUPPLY_WEIGHT if joint.kind is JunctionKind.SUPPLY else 1.0
    return _JointCost(joint.above, joint.below, tuple(passing), weight)


def _improved(costs: Sequence[_JointCost], units: Units) -> Units:
    """Move neighbouring units together to where they cost least, while that helps."""

    def cost(tried: Units) -> float:
        seat = [0] * sum(map(len, tried))
        for index, place in enumerate(place for unit in tried for place in unit):
            seat[place] = index
        return sum(each.cost(seat) for each in costs)

    best, least = units, cost(units)
    for _ in range(_MOST_ROUNDS):
        before = least
        # Longer moves are tried only while something crosses.
        for length in range(1, min(_LONGEST_MOVE, len(units) - 1) + 1 if least > _SUPPLY_WEIGHT else 2):
            for tried in _moves(best, length):
                found = cost(tried)
                if found < least - 1e-9:
                    best, least = tried, found
        if least >= before - 1e-9:
            break
    return best


def _moves(units: Units, length: int) -> Iterator[Units]:
    """Every order that comes of moving `length` neighbours, as they stand or turned round, to another place."""
    for start in range(len(units) - length + 1):
        held, rest = units[start : start + length], units[:start] + units[start + length :]
        for seat in range(len(rest) + 1):
            if seat != start:
                yield rest[:seat] + held + rest[seat:]
            if length > 1:
                yield rest[:seat] + held[::-1] + rest[seat:]
