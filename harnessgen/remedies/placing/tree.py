"""The route as a tree of places where splices may sit, with the distance between any two of them."""

import itertools
import math
from collections.abc import Iterable, Mapping
from functools import cached_property

from harnessgen.design.limits.table import limit
from harnessgen.lengths.measured_length import stretch_known
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.physics.electrical.element_resistance import ambient_degc

_TENTH = 1


@frozen
class TreePlace:
    """A place on a stretch, `offset_mm` from its first point; on a point of the route where `node` is given."""

    from_point: str
    to_point: str
    offset_mm: float
    node: str = ""

    @property
    def stretch(self) -> tuple[str, str]:
        """The stretch that it lies on; empty names where it is a point of the route."""
        return (self.from_point, self.to_point)


@frozen
class Span:
    """A whole stretch: its end nodes, its length, what wire lies in it beside the length, and a part of it."""

    start: str
    end: str
    leg: Leg
    length_mm: float
    factor: float
    """Wire that lies in a millimetre of it: slack, loops, movement and a one-sided tolerance are spread over it."""


@frozen
class Spacing:
    """Least distances, in mm: between splices, and of a splice from breakouts, connectors and bends."""

    splices_mm: float
    clear_mm: float


def spacing_of(network: Network) -> Spacing:
    """The distances that the limits ask for; splices on two stretches are apart by the one from the breakout."""
    limits = network.design.limits
    splices_mm = limit("splice-spacing", limits).value.value
    return Spacing(splices_mm, max(limit("splice-clearance", limits).value.value, splices_mm))


def spans_of(network: Network) -> dict[tuple[str, str], Span]:
    """The stretches of the route, whole again where splices part them."""
    parts: dict[tuple[str, str], list[Leg]] = {}
    for leg in network.route.legs:
        parts.setdefault((leg.from_point, leg.to_point), []).append(leg)
    return {stretch: _span(network, legs) for stretch, legs in parts.items()}


def _span(network: Network, legs: list[Leg]) -> Span:
    ordered = sorted(legs, key=lambda leg: leg.offset_mm)
    leg, stretch = ordered[0], ordered[0].stretch
    length_mm = stretch.length_mm.value
    known = stretch_known(network.design, leg.from_point, leg.to_point, stretch)
    extra = (stretch.slack_mm.value, stretch.drip_loop_mm.value, stretch.movement_mm.value, known.shift_mm)
    factor = 1.0 + math.fsum(extra) / length_mm if length_mm else 1.0
    return Span(leg.start, ordered[-1].end, leg, length_mm, factor)


def free_parts(span: Span, spacing: Spacing) -> list[tuple[float, float]]:
    """The parts of a stretch that are clear of its ends and bends; none where it has a bend that tells no place."""
    parts = [(spacing.clear_mm, span.length_mm - spacing.clear_mm)]
    for bend in span.leg.stretch.bends:
        if bend.at_mm is None:
            return []
        low, high = bend.at_mm.value - spacing.clear_mm, bend.at_mm.value + spacing.clear_mm
        parts = [cut for part in parts for cut in ((part[0], min(part[1], low)), (max(part[0], high), part[1]))]
    return [(low, high) for low, high in dict.fromkeys(parts) if low <= high]


def spots_on(span: Span, spacing: Spacing, count: int, today_mm: Iterable[float]) -> list[TreePlace]:
    """The places on a stretch among which the best of `count` splices always are, beside today's.

    Costs are straight lines between places where a wire or a bound begins, and splices only have to keep one distance:
    so in the best arrangement each splice is a whole number of distances from an end of a free part, or from today's
    place of one.
    """
    found: set[float] = set()
    steps = range(count)
    for low, high in free_parts(span, spacing):
        marks = [low, high, *(each for each in today_mm if low <= each <= high)]
        for mark in marks:
            for step in steps:
                for place in (mark + step * spacing.splices_mm, mark - step * spacing.splices_mm):
                    if low <= place <= high:
                        found.add(round(place, _TENTH))
    low, high = 0.0, span.length_mm
    return [TreePlace(span.leg.from_point, span.leg.to_point, each) for each in sorted(found) if low < each < high]


def stands(network: Network, span: Span, splice: str) -> bool:
    """Whether a splice and its wires stand the zone of a stretch."""
    ratings = [network.splice_part(splice).rating_degc.value]
    ratings += [wire.family.rating_degc.value for wire in network.wires_at.get(splice, ())]
    return ambient_degc(network, span.leg) <= min(ratings)


@frozen
class TreeSegment:
    """A part of the tree between two neighbouring places: the lower one (away from the root) and its length."""

    upper: str
    lower: str
    length_mm: float
    wire_mm: float
    """Wire that lies in it: its length with what the stretch adds."""


class PlaceTree:
    """All places of one route, joined by segments; rooted once for each of its trees."""

    def __init__(self, spans: Iterable[Span], spots: Iterable[TreePlace]) -> None:
        by_stretch: dict[tuple[str, str], set[float]] = {}
        for spot in spots:
            if not spot.node:
                by_stretch.setdefault(spot.stretch, set()).add(spot.offset_mm)
        self._near: dict[str, list[tuple[str, float, float]]] = {}
        for span in spans:
            self._lay(span, sorted(by_stretch.get((span.leg.from_point, span.leg.to_point), ())))
        self._parents: dict[str, TreeSegment] = {}
        self._depths: dict[str, int] = {}
        self._order: list[str] = []
        for root in self._near:
            if root not in self._depths:
                self._root(root)

    def _lay(self, span: Span, offsets: list[float]) -> None:
        names = [span.start, *(spot_name(span.leg.from_point, span.leg.to_point, each) for each in offsets), span.end]
        marks = [0.0, *offsets, span.length_mm]
        for (a, low), (b, high) in itertools.pairwise(zip(names, marks, strict=True)):
            length_mm = high - low
            self._near.setdefault(a, []).append((b, length_mm, length_mm * span.factor))
            self._near.setdefault(b, []).append((a, length_mm, length_mm * span.factor))

    def _root(self, root: str) -> None:
        self._depths[root] = 0
        stack = [root]
        while stack:
            node = stack.pop()
            self._order.append(node)
            for other, length_mm, wire_mm in self._near[node]:
                if other not in self._depths:
                    self._depths[other] = self._depths[node] + 1
                    self._parents[other] = TreeSegment(node, other, length_mm, wire_mm)
                    stack.append(other)

    def path(self, a: str, b: str) -> list[TreeSegment]:
        """Segments between two places of one tree.

        Raises:
            LookupError: they lie in two trees.
        """
        found: list[TreeSegment] = []
        while a != b:
            if self._depths.get(a, 0) < self._depths.get(b, 0):
                a, b = b, a
            if a not in self._parents:
                raise LookupError(f"no way from {a} to {b}")
            found.append(self._parents[a])
            a = self._parents[a].upper
        return found

    def wire_mm(self, a: str, b: str) -> float:
        """Wire between two places of one tree."""
        return math.fsum(each.wire_mm for each in self.path(a, b))

    def distance_mm(self, a: str, b: str) -> float:
        """Length of route between two places of one tree."""
        return math.fsum(each.length_mm for each in self.path(a, b))

    @cached_property
    def below(self) -> Mapping[str, frozenset[str]]:
        """For the lower place of each segment all places beyond it, itself among them."""
        found: dict[str, set[str]] = {node: {node} for node in self._order}
        for node in reversed(self._order):
            if node in self._parents:
                found[self._parents[node].upper] |= found[node]
        return {node: frozenset(each) for node, each in found.items()}


def spot_name(from_point: str, to_point: str, offset_mm: float) -> str:
    """Name of a place on a stretch in the tree."""
    return f"{from_point}>{to_point}@{offset_mm:.6f}"


def name_of(spot: TreePlace) -> str:
    """Name of a place in the tree: that of its node, or one of its own."""
    return spot.node or spot_name(spot.from_point, spot.to_point, spot.offset_mm)
