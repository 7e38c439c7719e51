"""The bundle in each stretch of the route: its thickest part, its covering with the room in it, and its mass."""

import math
from collections.abc import Iterable, Mapping

from harnessgen.design.limits.table import Limit, limit
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.lengths.bundles.diameter import BundleDiameter, bundle_diameter
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.network.wires import Wire
from harnessgen.parts.covering import CoveringPart

COPPER_G_PER_CM3 = 8.89
COPPER_SOURCE = Publication("IEC 60028", "density of annealed copper at 20 degC, 8.89 g/cm3")
STRAND_FILL = 0.77
"""Copper in the circle around the strands of a conductor: 7 strands fill 7/9 of it, more of them about as much."""

MASS_PRACTICE = common_practice(
    "insulation as the ring between strands and outside, coverings as a plain tube of their wall"
)


@frozen
class StretchBundle:
    """The bundle of a stretch at its thickest part (between splices); `wires` are those of that part.

    `splice` is the joint on it with the most around it, `splice_mm` the bundle there; empty and 0 where none sits.
    """

    leg: Leg
    wires: tuple[Wire, ...]
    diameter: BundleDiameter
    splice: str
    splice_mm: float
    covering: CoveringPart | None

    @property
    def name(self) -> str:
        """The stretch, as the builder would say it."""
        return self.leg.name

    @property
    def fill(self) -> float | None:
        """Share of the covering's inside that the wires take by their sections; None where nothing covers them."""
        if self.covering is None:
            return None
        return math.fsum(each * each for each in self.diameter.diameters_mm) / self.covering.inside_mm.value**2

    @property
    def outside_mm(self) -> float:
        """Diameter over the covering: a tube over its own inside, heat-shrink over the bundle that it grips."""
        part = self.covering
        if part is None:
            return self.diameter.diameter_mm
        inside_mm = part.inside_mm.value
        if part.recovered_mm is not None:
            inside_mm = max(self.diameter.diameter_mm, part.recovered_mm.value)
        return inside_mm + 2.0 * part.wall_mm.value


def stretch_bundles(network: Network, *, only_covered: bool = False) -> tuple[StretchBundle, ...]:
    """The bundle of every stretch that holds a wire (or of those that are covered), in the order of the route."""
    parts: dict[tuple[str, str], list[Leg]] = {}
    for leg in network.route.legs:
        if leg.stretch.covering or not only_covered:
            parts.setdefault((leg.from_point, leg.to_point), []).append(leg)
    made = (stretch_bundle(network, legs) for legs in parts.values())
    return tuple(each for each in made if each is not None)


def stretch_bundle(network: Network, legs: Iterable[Leg]) -> StretchBundle | None:
    """The bundle of one stretch, given all of its parts; None where no wire lies in it."""
    held = {leg: network.wires_by_leg.get((leg.start, leg.end), []) for leg in legs}
    filled = {leg: bundle_diameter([diameter_mm(each) for each in wires]) for leg, wires in held.items() if wires}
    if not filled:
        return None
    thickest = max(filled, key=lambda leg: filled[leg].diameter_mm)
    splice, splice_mm = _thickest_splice(network, held)
    covering = network.parts.coverings[thickest.stretch.covering] if thickest.stretch.covering else None
    return StretchBundle(thickest, tuple(held[thickest]), filled[thickest], splice, splice_mm, covering)


def _thickest_splice(network: Network, held: Mapping[Leg, list[Wire]]) -> tuple[str, float]:
    """The splice of a stretch around which the bundle is thickest, as far as the size of its family is known."""
    found: tuple[str, float] = ("", 0.0)
    for leg in held:
        splice = network.route.points[leg.end].splice
        across = network.splice_part(splice).across_mm if splice else None
        if across is None:
            continue
        beyond = next((wires for each, wires in held.items() if each.start == leg.end), [])
        joined = {wire.mark for wire in network.wires_at.get(splice, ())}
        past = {wire.mark: wire for wire in (*held[leg], *beyond) if wire.mark not in joined}
        around_mm = bundle_diameter([across.value, *(diameter_mm(each) for each in past.values())]).diameter_mm
        if around_mm > found[1]:
            found = splice, around_mm
    return found


def diameter_mm(wire: Wire) -> float:
    """Diameter over the insulation of a wire."""
    return wire.figures.diameter_mm.value


@frozen
class Room:
    """What a covering has to have inside for its bundle, in mm: at least `needed_mm`, by the limit `room`.

    `is_at_splice` says that the joint on it decides, which has to go in just so.
    """

    bundle: StretchBundle
    needed_mm: float
    room: Limit
    is_at_splice: bool

    @property
    def derivation(self) -> Evaluated:
        """The inside diameter that is needed, with its formula."""
        inputs = (
            Input("D", "most that the bundle may take", self.bundle.diameter.largest_mm, "mm"),
            Input("r", "room", self.room.value.value, "1", self.room.source),
            Input("s", "bundle with the splice on it", self.bundle.splice_mm, "mm"),
        )
        return evaluated(f"inside of the covering from {self.bundle.name}", "max(D * r, s)", inputs, "mm")


def room_of(network: Network, bundle: StretchBundle) -> Room:
    """The room that a covered bundle needs.

    Raises:
        ValueError: nothing covers it.
    """
    if bundle.covering is None:
        raise ValueError(f"nothing covers {bundle.name}")
    name = "shrink-room" if bundle.covering.recovered_mm is not None else "covering-room"
    room = limit(name, network.design.limits)
    plain_mm = bundle.diameter.largest_mm * room.value.value
    return Room(bundle, max(plain_mm, bundle.splice_mm), room, bundle.splice_mm > plain_mm)


def copper_g_per_m(wire: Wire) -> float:
    """Mass of a metre of a wire's copper."""
    return wire.figures.area_mm2.value * COPPER_G_PER_CM3


def insulation_g_per_m(wire: Wire) -> float:
    """Mass of a metre of a wire's insulation: its ring around the strands."""
    ring_mm2 = math.pi / 4.0 * diameter_mm(wire) ** 2 - wire.figures.area_mm2.value / STRAND_FILL
    return max(ring_mm2, 0.0) * wire.family.density_g_per_cm3.value


def covering_g_per_m(part: CoveringPart) -> float:
    """Mass of a metre of a covering: a tube of its wall; heat-shrink at the size that it shrinks to."""
    inside_mm = part.inside_mm.value
    if part.recovered_mm is not None:
        # The wall of heat-shrink is told for the free state; what is stretched over a bundle has the same section.
        inside_mm = part.recovered_mm.value
    ring_mm2 = math.pi * (inside_mm + part.wall_mm.value) * part.wall_mm.value
    return ring_mm2 * part.density_g_per_cm3.value
