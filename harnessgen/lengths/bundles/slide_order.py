"""Closed coverings and grommets that have to be on before something is finished, by what each would have to pass.

A closed tube or ring goes onto its stretch from one of its two sides, over everything that is finished beyond that
side. It passes a thing beside the other wires there if the circle around them all is no wider than its inside.
"""

import math
from collections.abc import Mapping, Sequence

from harnessgen.lengths.bundles.diameter import bundle_diameter
from harnessgen.lengths.bundles.stretch import diameter_mm
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import HarnessSection, Network
from harnessgen.network.route import Leg
from harnessgen.network.wires import EndKind, Wire, WireEnd


@frozen
class Obstacle:
    """Something finished that a covering would have to pass: `needed_mm` of inside beside the other wires.

    `part` is what is finished there; `needed_mm` is infinite where its size is not known. `ends` are the wire ends
    (mark and node) that it finishes; a housing finishes those of all its wires. A joint bars the way whatever its size:
    behind it the wires lead on to other places.
    """

    node: str
    part: str
    ends: tuple[tuple[str, str], ...]
    needed_mm: float
    is_housing: bool
    is_joint: bool = False

    def bars(self, inside_mm: float) -> bool:
        """Whether a covering of this inside cannot come past it."""
        return self.is_joint or self.needed_mm > inside_mm + 1e-9


@frozen
class SlideOn:
    """A closed covering or grommet: the side from which it goes on, the least that hinders it there, and what that is.

    `side` is the point of the route at that end. `blocked` are the finished things that it does not pass: it has to be
    on the wires before each of them; empty where it may go on at any time. `largest` is the largest thing of all.
    """

    stretch: str
    thing: str
    inside_mm: float
    side: str
    blocked: tuple[Obstacle, ...]
    largest: Obstacle | None

    @property
    def words(self) -> str:
        """What goes on, and over what: `shrink-6.4 of b1 to c2`."""
        return f"{self.thing} of {self.stretch}"

    @property
    def ends(self) -> tuple[Obstacle, ...]:
        """Crimped ends and splices that it does not pass."""
        return tuple(each for each in self.blocked if not each.is_housing)

    @property
    def housings(self) -> tuple[Obstacle, ...]:
        """Housings that it does not pass, though perhaps the contacts in them."""
        return tuple(each for each in self.blocked if each.is_housing)


def slides_on(network: Network, section: HarnessSection) -> tuple[SlideOn, ...]:
    """Every closed covering of a section over a wire, in the order of the route."""
    stretches: dict[tuple[str, str], list[Leg]] = {}
    for leg in section.legs:
        if leg.stretch.covering and network.parts.coverings[leg.stretch.covering].closed == "yes":
            stretches.setdefault((leg.from_point, leg.to_point), []).append(leg)
    found = []
    for legs in stretches.values():
        part = network.parts.coverings[legs[0].stretch.covering]
        found.append(slide_over(network, legs, part.name, part.inside_mm.value))
    return tuple(each for each in found if each is not None)


def slide_over(
    network: Network, legs: Sequence[Leg], thing: str, inside_mm: float, *, covers_splices: bool = True
) -> SlideOn | None:
    """How a closed thing goes onto the parts of one stretch; None where no wire lies there.

    With `covers_splices` the splices at the ends of these parts lie under it, and are nothing to pass.
    """
    sides = [
        (side, ends.obstacles, ends.way_mm)
        for side, ends in sides_of(network, legs, covers_splices=covers_splices).items()
    ]
    if not sides:
        return None
    judged = []
    for side, obstacles, way_mm in sides:
        blocked = tuple(each for each in obstacles if each.bars(inside_mm))
        crimped = sum(not each.is_housing for each in blocked)
        largest = max(obstacles, key=lambda each: each.needed_mm, default=None)
        # Before an end is crimped no housing is on it either.
        judged.append(((crimped, 0 if crimped else len(blocked), way_mm), side, blocked, largest))
    _, side, blocked, largest = min(judged, key=lambda each: each[0])
    return SlideOn(legs[0].name, thing, inside_mm, side, blocked, largest)


@frozen
class StretchSide:
    """What is finished beyond one side of a stretch, and the sum of the wires' ways from there to their ends, mm."""

    obstacles: tuple[Obstacle, ...]
    way_mm: float


def sides_of(network: Network, legs: Sequence[Leg], *, covers_splices: bool) -> Mapping[str, StretchSide]:
    """What is finished beyond the two sides of some parts of one stretch, by its points; nothing where no wire lies."""
    wires = {wire.mark: wire for leg in legs for wire in network.wires_by_leg.get((leg.start, leg.end), ())}
    if not wires:
        return {}
    sides: dict[str, list[tuple[Wire, WireEnd, float]]] = {legs[0].from_point: [], legs[0].to_point: []}
    for wire in wires.values():
        for side, end, beyond_mm in _beyond(network, wire, legs, covers_splices=covers_splices):
            sides[side].append((wire, end, beyond_mm))
    return {
        side: StretchSide(
            (*_finished(network, ends, wires), *_housings(network, ends, wires)),
            math.fsum(beyond_mm for _, _, beyond_mm in ends),
        )
        for side, ends in sides.items()
    }


def _beyond(
    network: Network, wire: Wire, legs: Sequence[Leg], *, covers_splices: bool
) -> list[tuple[str, WireEnd, float]]:
    """The ends of a wire that lie beyond a stretch: the point at that side, the end, and its way from there."""
    stretch, held = legs[0], {(leg.start, leg.end) for leg in legs}
    own = [index for index, leg in enumerate(wire.way) if (leg.start, leg.end) in held]
    node, starts = wire.a.route_node, []
    for leg in wire.way:
        starts.append(node)
        node = leg.end if leg.start == node else leg.start
    first, last = own[0], own[-1]
    is_onward = wire.way[first].start == starts[first]
    points = (stretch.from_point, stretch.to_point) if is_onward else (stretch.to_point, stretch.from_point)
    found: list[tuple[str, WireEnd, float]] = []
    for end, side, beyond in ((wire.a, points[0], wire.way[:first]), (wire.b, points[1], wire.way[last + 1 :])):
        # A wire that ends in a splice on the stretch itself is no hindrance at its end: the covering lies over it.
        on_it = network.route.points[end.route_node]
        is_on_it = covers_splices and bool(on_it.splice) and not beyond
        if not is_on_it:
            found.append((side, end, math.fsum(leg.length_mm for leg in beyond)))
    return found


def _finished(network: Network, ends: list[tuple[Wire, WireEnd, float]], wires: Mapping[str, Wire]) -> list[Obstacle]:
    """Each crimped end, and each splice once."""
    found: dict[str, Obstacle] = {}
    for wire, end, _ in ends:
        part, across_mm = _end_part(network, end)
        if not part:
            continue
        here = [(each.mark, other.node) for each, other, _ in ends if other.node == end.node]
        key = end.node if end.kind is EndKind.SPLICE else f"{wire.mark} {end.node}"
        own = here if end.kind is EndKind.SPLICE else [(wire.mark, end.node)]
        is_joint = end.kind is EndKind.SPLICE
        needed_mm = _past(across_mm, own, wires)
        found[key] = Obstacle(end.node, part, tuple(own), needed_mm, is_housing=False, is_joint=is_joint)
    return list(found.values())


def _housings(network: Network, ends: list[tuple[Wire, WireEnd, float]], wires: Mapping[str, Wire]) -> list[Obstacle]:
    held: dict[str, list[tuple[str, str]]] = {}
    for wire, end, _ in ends:
        if end.kind is EndKind.CAVITY:
            held.setdefault(end.designator, []).append((wire.mark, end.node))
    found: list[Obstacle] = []
    for designator, own in held.items():
        part = network.connector_part(designator)
        across_mm = part.across_mm.value if part.across_mm is not None else math.inf
        found.append(Obstacle(designator, part.name, tuple(own), _past(across_mm, own, wires), is_housing=True))
    return found


def _end_part(network: Network, end: WireEnd) -> tuple[str, float]:
    """What finishes an end, and its largest size across; empty where nothing is crimped."""
    if end.kind is EndKind.SPLICE:
        part = network.splice_part(end.designator)
        return part.name, part.across_mm.value if part.across_mm is not None else math.inf
    contact, seal = network.contact_at(end), network.seal_at(end)
    if contact is None:
        return "", 0.0
    sizes = [each.across_mm.value if each.across_mm else math.inf for each in (contact, seal) if each is not None]
    return " with ".join(each.name for each in (contact, seal) if each is not None), max(sizes)


def _past(across_mm: float, own: list[tuple[str, str]], wires: Mapping[str, Wire]) -> float:
    """Inside that is needed to pass a thing beside the wires of the stretch that do not end in it."""
    if math.isinf(across_mm):
        return across_mm
    ending = {mark for mark, _ in own}
    others = [diameter_mm(wire) for mark, wire in wires.items() if mark not in ending]
    return bundle_diameter([across_mm, *others]).diameter_mm
