"""Where each stretch of a section lies on the formboard: straight, at its true length, no two crossing.

The longest way through the tree lies straight from left to right. Each leg is a straight line too, at the first angle
of a fixed list, on either side, at which it and what it carries keep clear of all that lies already; the clearance is
lowered step by step where the legs are crowded. Where even that finds no place, the whole tree is laid in nested
sectors: every branch keeps within a cone of its own, and cones that share an apex do not meet, so nothing can cross.
"""

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import cos, hypot, radians, sin

from harnessgen.drawings.formboard.connector_outlines import plate_size
from harnessgen.drawings.formboard.occupied import OutlineRaster, Strip
from harnessgen.drawings.layout.spine import spine_of, trees_of
from harnessgen.drawings.layout.tree import Board, DrawnRun, LayoutSpot, Spine, section_board
from harnessgen.network.network import Network
from harnessgen.sheets.box import Point

_TURNS_DEG = (90.0, 60.0, 120.0, 75.0, 105.0, 45.0, 135.0, 30.0, 150.0, 22.5)
_CLEARANCES_MM = (16.0, 9.0, 5.0, 2.5)
"""Air between two legs; first enough for a line of lettering, at last just enough for a finger's nail."""
_APART_MM = 1.0
"""Air that two stretches keep whatever happens, but for the breakout that they share."""
_WIDEST_CONE_DEG = 170.0
"""A cone under 180 degrees is convex, which is what keeps the branches within it."""
_TREES_APART_MM = 80.0
_NARROWEST_DEG = 22.0
"""Two lines that leave one breakout lie at least so far apart."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A stretch as it lies: from the centre of one breakout to the next, or to the rear face of a connector, mm."""

    run: DrawnRun
    a: Point
    b: Point

    def at(self, distance_mm: float) -> Point:
        """The place at this distance from the stretch's start."""
        long_mm = hypot(self.b[0] - self.a[0], self.b[1] - self.a[1])
        share = distance_mm / long_mm if long_mm else 0.0
        return self.a[0] + share * (self.b[0] - self.a[0]), self.a[1] + share * (self.b[1] - self.a[1])


@dataclass(frozen=True, slots=True)
class LaidTree:
    """A tree as it lies: its stretches, where each node is, and the way (degrees, clockwise) out of each end."""

    laid: tuple[Laid, ...]
    places: Mapping[str, Point]
    outward_deg: Mapping[str, float]
    spots: Mapping[str, LayoutSpot]

    def moved(self, dx_mm: float, dy_mm: float) -> "LaidTree":
        """The same elsewhere on the board."""

        def there(place: Point) -> Point:
            return place[0] + dx_mm, place[1] + dy_mm

        return replace(
            self,
            laid=tuple(Laid(each.run, there(each.a), there(each.b)) for each in self.laid),
            places={node: there(place) for node, place in self.places.items()},
        )


def lay_section(network: Network, letter: str) -> LaidTree:
    """All trees of a section, one under the other.

    Raises:
        ValueError: the section has no stretch.
    """
    whole: list[LaidTree] = []
    low_mm = 0.0
    for board in trees_of(section_board(network, letter)):
        tree = lay_tree(network, board)
        ys = [y for _, y in tree.places.values()]
        shift_mm = low_mm - min(ys) if whole else 0.0
        whole.append(tree.moved(0.0, shift_mm))
        low_mm = max(ys) + shift_mm + _TREES_APART_MM
    if not whole:
        raise ValueError(f"section {letter} has no stretch to lay on a board")
    return LaidTree(
        tuple(laid for tree in whole for laid in tree.laid),
        {node: place for tree in whole for node, place in tree.places.items()},
        {node: deg for tree in whole for node, deg in tree.outward_deg.items()},
        {node: spot for tree in whole for node, spot in tree.spots.items()},
    )


def lay_tree(network: Network, board: Board) -> LaidTree:
    """The tree of `board` on the formboard, its trunk from left to right.

    Raises:
        ValueError: the board has no stretch.
    """
    return _Layer(network, board).lay() or lay_in_sectors(board)


@dataclass(frozen=True, slots=True)
class _Waiting:
    """A leg to be laid: from `apex`, beside a line that runs at `angle_deg`."""

    spine: Spine
    apex: Point
    angle_deg: float


class _Layer:
    def __init__(self, network: Network, board: Board) -> None:
        self.network = network
        self.board = board
        self.ground = OutlineRaster()
        self.laid: list[Laid] = []
        self.places: dict[str, Point] = {}
        self.outward: dict[str, float] = {}
        self.leaving_deg: dict[str, list[float]] = {}
        """Ways out of each node that are taken: lines that share a breakout are kept apart by their angle alone."""
        self.balance_mm = 0.0
        """How much more lies below the trunk than above it."""

    def lay(self) -> LaidTree | None:
        trunk = spine_of(self.board)
        self.places[trunk.start.node] = (0.0, 0.0)
        self.outward[trunk.start.node] = 180.0
        for strip in self._plate((0.0, 0.0), 180.0, trunk.start):
            self.ground.add(strip.outline)
        waiting = deque(self._settle(trunk, (0.0, 0.0), 0.0))
        while waiting:
            leg = waiting.popleft()
            angle_deg = self._angle_for(leg)
            if angle_deg is None:
                return None
            waiting.extend(self._settle(leg.spine, leg.apex, angle_deg))
        return LaidTree(tuple(self.laid), self.places, self.outward, self.board.spots)

    def _settle(self, spine: Spine, apex: Point, angle_deg: float) -> Iterator[_Waiting]:
        """Lay a line for good; what leaves it waits for its turn."""
        for strip in self._strips(spine, apex, angle_deg):
            self.ground.add(strip.outline)
        at = apex
        for step in spine.steps:
            end = _moved(at, angle_deg, step.run.length_mm)
            self.laid.append(Laid(step.run, at, end))
            self.leaving_deg.setdefault(step.run.start, []).append(angle_deg)
            self.leaving_deg.setdefault(step.run.end, []).append((angle_deg + 180.0) % 360.0)
            self.places[step.spot.node] = at = end
            yield from (_Waiting(leg, at, angle_deg) for leg in step.legs)
        self.outward[spine.steps[-1].spot.node] = angle_deg
        self.balance_mm += (at[1] - apex[1]) if angle_deg else 0.0

    def _angle_for(self, leg: _Waiting) -> float | None:
        taken = self.leaving_deg[leg.spine.start.node]
        sides = (-1, 1) if self.balance_mm >= 0 else (1, -1)
        for clear_mm in _CLEARANCES_MM:
            for turn_deg in _TURNS_DEG:
                for side in sides:
                    angle_deg = (leg.angle_deg + side * turn_deg) % 360.0
                    if all(_between_deg(angle_deg, other) >= _NARROWEST_DEG for other in taken) and self._is_clear(
                        leg, angle_deg, clear_mm
                    ):
                        return angle_deg
        return None

    def _is_clear(self, leg: _Waiting, angle_deg: float, clear_mm: float) -> bool:
        strips = self._strips(leg.spine, leg.apex, angle_deg)
        first_mm = leg.spine.steps[0].run.length_mm
        # Near the breakout it cannot keep clear of the lines that it leaves: only from where they are far enough apart.
        taken = self.leaving_deg[leg.spine.start.node]
        nearest = 1.01 / sin(radians(min(90.0, *(_between_deg(angle_deg, other) for other in taken))))
        for number, strip in enumerate(strips):
            if number:
                close, wide = strip, strip
            else:
                close, wide = (
                    Strip(_moved(leg.apex, angle_deg, min(air_mm * nearest, first_mm)), strip.b, 0.0)
                    for air_mm in (_APART_MM, clear_mm)
                )
            if not self.ground.is_free(close.outline, _APART_MM) or not self.ground.is_free(wide.outline, clear_mm):
                return False
        return True

    def _strips(self, spine: Spine, apex: Point, angle_deg: float) -> list[Strip]:
        """What a line takes: its stretches, and the connectors beyond its end."""
        strips: list[Strip] = []
        at = apex
        for step in spine.steps:
            end = _moved(at, angle_deg, step.run.length_mm)
            strips.append(Strip(at, end, 0.0))
            at = end
        return [*strips, *self._plate(at, angle_deg, spine.steps[-1].spot)]

    def _plate(self, at: Point, angle_deg: float, spot: LayoutSpot) -> list[Strip]:
        deep_mm, wide_mm = plate_size(self.network, spot)
        return [Strip(at, _moved(at, angle_deg, deep_mm), wide_mm / 2)] if deep_mm else []


def _between_deg(one: float, other: float) -> float:
    apart = abs(one - other) % 360.0
    return min(apart, 360.0 - apart)


def _moved(at: Point, angle_deg: float, by_mm: float) -> Point:
    return at[0] + by_mm * cos(radians(angle_deg)), at[1] + by_mm * sin(radians(angle_deg))


def lay_in_sectors(board: Board) -> LaidTree:
    """The tree with every branch in a sector of its own, as wide as its share of the ends.

    Raises:
        ValueError: the board has no stretch.
    """
    start = spine_of(board).start.node
    order: list[tuple[str, DrawnRun | None]] = [(start, None)]
    for node, run in order:
        order += [(each.end, each) for each in board.neighbours[node] if run is None or each.end != run.start]
    ends = dict.fromkeys(board.spots, 0)
    for node, run in reversed(order):
        ends[node] = ends[node] or 1
        if run is not None:
            ends[run.start] += ends[node]
    half_deg = _WIDEST_CONE_DEG / 2
    places, outward = {start: (0.0, 0.0)}, {start: 180.0}
    cones = {start: (-half_deg, half_deg)}
    laid: list[Laid] = []
    for node, run in order:
        low, high = cones[node]
        onward = [each for each in board.neighbours[node] if run is None or each.end != run.start]
        whole = sum(ends[each.end] for each in onward)
        for each in onward:
            wide = (high - low) * ends[each.end] / whole
            cones[each.end] = low, low + wide
            angle_deg = low + wide / 2
            places[each.end] = _moved(places[node], angle_deg, each.length_mm)
            laid.append(Laid(each, places[node], places[each.end]))
            outward[each.end] = angle_deg % 360.0
            low += wide
    leaves = {node for node in board.spots if len(board.neighbours[node]) == 1}
    return LaidTree(tuple(laid), places, {node: outward[node] for node in outward if node in leaves}, board.spots)
