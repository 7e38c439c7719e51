"""Moving a breakout so that a wire that is too short reaches, where the design tells the angles or the coordinates."""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from harnessgen.design.checks.consistency import neighbours_of
from harnessgen.design.measured import with_measured_lengths
from harnessgen.design.records.design import Design
from harnessgen.design.records.route import UNMEASURED, Point, Stretch
from harnessgen.lengths.too_short.trial import Bench, Edit, Remedy, RemedyKind
from harnessgen.measures.quantity import Quantity, plain_number, quantity_text
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire

_STEPS = 400
"""Places tried along the way to a neighbour."""


def breakout_moves(bench: Bench) -> Iterator[Remedy | None]:
    """The smallest move of each breakout on the wire's way that makes it reach."""
    design = bench.network.design
    for point in _breakouts(bench.network, bench.wire):
        before = [start for start, stretches in design.route.items() if point in stretches]
        after = design.route.get(point, {})
        stretches = {**{each: design.route[each][point] for each in before}, **after}
        if all(stretch.is_from_points for stretch in stretches.values()):
            yield _in_space(bench, point)
        elif before and _is_taped(stretches) and all(stretch.leaves_deg is not None for stretch in after.values()):
            yield _along(bench, before[0], point, after)


def _is_taped(stretches: Mapping[str, Stretch]) -> bool:
    return all(not each.is_from_points and not each.readings_mm for each in stretches.values())


def _breakouts(network: Network, wire: Wire) -> list[str]:
    """Points that the wire passes, where a stretch begins for another end, and no disconnect sits."""
    points: list[str] = []
    for first, second in zip(wire.way, wire.way[1:], strict=False):
        shared = {first.from_point, first.to_point} & {second.from_point, second.to_point}
        points += shared if len(shared) == 1 else ()
    held = {each.at for each in network.design.disconnects.values()}
    return [each for each in points if each not in held and len(neighbours_of(network.design, each)) > 2]


def _along(bench: Bench, before: str, point: str, after: Mapping[str, Stretch]) -> Remedy | None:
    """Move a breakout along the stretch that leads to it, back or onward; the law of cosines gives what follows."""
    design = bench.network.design
    first_mm = design.route[before][point].length_mm.value

    def lengths(way_mm: float) -> dict[str, float]:
        return {before: first_mm + way_mm} | {name: after_mm(stretch, way_mm) for name, stretch in after.items()}

    def change_mm(way_mm: float) -> float:
        moved, still = lengths(way_mm), lengths(0.0)
        return math.fsum(moved[each] - still[each] for each in _passed(bench.wire, point))

    most_mm = min([first_mm, *(each.length_mm.value for each in after.values())])
    ways = [way for way in (_least(change_mm, bench.short_mm, sign * most_mm) for sign in (-1, 1)) if way is not None]
    if not ways:
        return None
    way_mm = min(ways, key=abs)
    route = {start: dict(stretches) for start, stretches in design.route.items()}
    edits: list[Edit] = []
    for name, length_mm in lengths(way_mm).items():
        start, end = (before, point) if name == before else (point, name)
        stretch = route[start][end]
        length = replace(stretch.length_mm, value=round(length_mm, 1))
        route[start][end] = replace(stretch, length_mm=length)
        edits.append(Edit(stretch.where("length_mm"), quantity_text(length, "mm")))
    changed = replace(design, route=route)
    if not splices_fit(changed):
        return None
    onward = "away from" if way_mm > 0 else "towards"
    words = f"move the breakout {point} {plain_number(abs(way_mm), 1)} mm {onward} {before}"
    return bench.tried(changed, RemedyKind.MOVE_BREAKOUT, point, words, tuple(edits))


def after_mm(stretch: Stretch, way_mm: float) -> float:
    """Length of a stretch after the breakout that it leaves was moved onward by `way_mm`."""
    angle = stretch.leaves_deg.value if stretch.leaves_deg is not None else 0.0
    length_mm = stretch.length_mm.value
    square = length_mm**2 + way_mm**2 - 2.0 * length_mm * way_mm * math.cos(math.radians(angle))
    return math.sqrt(max(square, 0.0))


def _passed(wire: Wire, point: str) -> list[str]:
    """The points before and behind `point` on the wire's way."""
    names = ({leg.from_point, leg.to_point} for leg in wire.way)
    return list(dict.fromkeys(other for pair in names if point in pair for other in pair if other != point))


def _in_space(bench: Bench, point: str) -> Remedy | None:
    """Move a breakout straight towards one of its neighbours, by coordinates."""
    design = bench.network.design
    here = design.points[point]
    passed = _passed(bench.wire, point)
    best: tuple[float, str, Point] | None = None
    for goal in neighbours_of(design, point):
        whole_mm = _distance(here, design.points[goal])

        def change_mm(way_mm: float, goal: str = goal, whole_mm: float = whole_mm) -> float:
            moved = _between(here, design.points[goal], way_mm / whole_mm)
            return math.fsum(
                _factor(design, point, each)
                * (_distance(moved, design.points[each]) - _distance(here, design.points[each]))
                for each in passed
            )

        way_mm = _least(change_mm, bench.short_mm, whole_mm)
        if way_mm is not None and (best is None or way_mm < best[0]):
            best = way_mm, goal, _between(here, design.points[goal], way_mm / whole_mm)
    if best is None:
        return None
    way_mm, goal, moved = best
    changed, faults = with_measured_lengths(_unmeasured(replace(design, points={**design.points, point: moved}), point))
    if faults or not splices_fit(changed):
        return None
    changes = [(name, new) for name, old, new in _axes(here, moved) if new != old]
    if any(name not in here.places for name, _ in changes):
        return None
    edits = [Edit(here.where(name), quantity_text(new, "mm")) for name, new in changes]
    words = f"move the breakout {point} {plain_number(way_mm, 1)} mm towards {goal}"
    return bench.tried(changed, RemedyKind.MOVE_BREAKOUT, point, words, tuple(edits))


def _axes(here: Point, moved: Point) -> Iterator[tuple[str, Quantity, Quantity]]:
    return zip(("x_mm", "y_mm", "z_mm"), here.axes_mm, moved.axes_mm, strict=True)


def _unmeasured(design: Design, point: str) -> Design:
    """The design with the lengths at a point to be made from coordinates once more."""
    route = {
        start: {
            end: replace(stretch, length_mm=UNMEASURED, is_from_points=False) if point in (start, end) else stretch
            for end, stretch in stretches.items()
        }
        for start, stretches in design.route.items()
    }
    return replace(design, route=route)


def _factor(design: Design, point: str, other: str) -> float:
    stretch = design.route.get(point, {}).get(other) or design.route[other][point]
    straight = _distance(design.points[point], design.points[other])
    return stretch.length_mm.value / straight


def _distance(a: Point, b: Point) -> float:
    return math.dist([each.value for each in a.axes_mm], [each.value for each in b.axes_mm])


def _between(a: Point, b: Point, share: float) -> Point:
    x, y, z = (
        replace(one, value=round(one.value + share * (other.value - one.value), 1))
        for one, other in zip(a.axes_mm, b.axes_mm, strict=True)
    )
    return replace(a, x_mm=x, y_mm=y, z_mm=z)


def _least(change_mm: Callable[[float], float], short_mm: float, most_mm: float) -> float | None:
    """The smallest way, in tenths of a millimetre, up to `most_mm` (either sign) that shortens by `short_mm`."""
    sign = math.copysign(1.0, most_mm)
    low_mm = 0.0
    for step in range(1, _STEPS):
        high_mm = abs(most_mm) * step / _STEPS
        if change_mm(sign * high_mm) <= -short_mm:
            break
        low_mm = high_mm
    else:
        return None
    while high_mm - low_mm > 0.05:
        middle_mm = (low_mm + high_mm) / 2.0
        if change_mm(sign * middle_mm) <= -short_mm:
            high_mm = middle_mm
        else:
            low_mm = middle_mm
    # Lengths and coordinates are written to a tenth; a little more keeps the rounding on the safe side.
    way_mm = math.ceil(high_mm * 10.0 + 2.0) / 10.0
    return sign * way_mm if way_mm < abs(most_mm) else None


def splices_fit(design: Design) -> bool:
    """Whether every splice still lies on its stretch."""
    for splice in design.splices.values():
        if splice.toward:
            stretch = design.route.get(splice.at, {}).get(splice.toward) or design.route[splice.toward][splice.at]
            if splice.offset_mm.value > stretch.length_mm.value:
                return False
    return True
