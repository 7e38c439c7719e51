"""The order of the columns from left to right, with few crossings: asked of Graphviz, then mended by our own count.

Only the order is taken from Graphviz, never a position, so that another version of it cannot move what is drawn except
by another order.
"""

from collections.abc import Mapping, Sequence

from harnessgen.drawings.circuit_graph import JunctionKind
from harnessgen.drawings.circuit_layers import Joint, Layers

MOST_BOXES = 100
"""Graphviz is never handed more boxes than this: its time grows fast with their number."""
_ROUNDS = 3


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
    if len(units) < 2:
        return tuple(place for unit in units for place in unit)
    seat = _seats(layers)
    units.sort(key=lambda unit: (sum(seat[place] for place in unit) / len(unit), unit))
    best = _improved(layers, units)
    return tuple(place for unit in best for place in unit)


def _units(layers: Layers) -> list[tuple[int, ...]]:
    """Columns that run between the same two joints, such as the legs of a bank, stay together in their own order."""
    units: dict[tuple[str, str, int], list[int]] = {}
    for place, column in enumerate(layers.columns):
        alone = -1 if column.upper and column.lower and column.upper != column.lower else place
        units.setdefault((column.upper, column.lower, alone), []).append(place)
    return [tuple(unit) for unit in units.values()]


def _seats(layers: Layers) -> dict[int, float]:
    """Mean seat of each column over the rows that Graphviz ordered, 0 at the left and 1 at the right."""
    rows: dict[int, list[tuple[float, int]]] = {}
    for box, place_mm in _asked(_dot_text(layers)).items():
        if box.startswith("c"):
            column, gap = box[1:].split("g")
            rows.setdefault(int(gap), []).append((place_mm, int(column)))
    seats: dict[int, list[float]] = {}
    for row in rows.values():
        row.sort()
        for seat, (_, column) in enumerate(row):
            seats.setdefault(column, []).append((seat + 0.5) / len(row))
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
    for row in rows:
        lines.append(f"{{rank=same; r{row}; {'; '.join(ranks[row])}}}")
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


def _improved(layers: Layers, units: list[tuple[int, ...]]) -> list[tuple[int, ...]]:
    """Move one unit at a time to where it costs least, while that helps."""
    best, cost = units, _cost(layers, units)
    for _ in range(_ROUNDS):
        before = cost
        for unit in list(best):
            rest = [each for each in best if each != unit]
            for seat in range(len(rest) + 1):
                tried = [*rest[:seat], unit, *rest[seat:]]
                found = _cost(layers, tried)
                if found < cost - 1e-9:
                    best, cost = tried, found
        if cost >= before - 1e-9:
            break
    return best


def _cost(layers: Layers, units: Sequence[tuple[int, ...]]) -> float:
    """Crossings, gaps in supply bars, and, far behind, the length of level runs."""
    seat = {place: index for index, place in enumerate(place for unit in units for place in unit)}
    return sum(_joint_cost(layers, joint, seat) for joint in layers.joints.values())


def _joint_cost(layers: Layers, joint: Joint, seat: Mapping[int, int]) -> float:
    seats = [seat[place] for place in joint.strands]
    first, last = min(seats), max(seats)
    crossed = 0
    if last - first >= len(seats):
        own = set(joint.strands)
        for place, column in enumerate(layers.columns):
            if first < seat[place] < last and column.top <= joint.layer <= column.bottom and place not in own:
                crossed += 1
    weight = 0.6 if joint.kind is JunctionKind.SUPPLY else 1.0
    middle = abs(_middle(seat, joint.above) - _middle(seat, joint.below)) if joint.above and joint.below else 0.0
    return weight * crossed + 0.01 * (last - first) + 0.02 * middle


def _middle(seat: Mapping[int, int], places: Sequence[int]) -> float:
    seats = [seat[place] for place in places]
    return (min(seats) + max(seats)) / 2
