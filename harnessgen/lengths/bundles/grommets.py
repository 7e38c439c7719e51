"""Grommets: what has to go through the bore of each, and what would have to go through the hole in its panel."""

import math

from harnessgen.design.records.fixings import GROMMET, TAPE, Fixing, Grommet, Tape
from harnessgen.lengths.bundles.slide_order import Obstacle, SlideOn, sides_of, slide_over, slides_on
from harnessgen.lengths.bundles.stretch import StretchBundle, stretch_bundle
from harnessgen.measures.frozen import frozen
from harnessgen.network.fixings import fixings_on, leg_at, stretches_of
from harnessgen.network.network import HarnessSection, Network
from harnessgen.network.route import Leg


@frozen
class Passage:
    """A grommet with the bundle that goes through it; `tape_mm` is what tape under it adds to the diameter."""

    grommet: Grommet
    fixing: Fixing
    leg: Leg
    bundle: StretchBundle
    tape_mm: float

    @property
    def needed_mm(self) -> float:
        """Diameter of the bundle in the grommet: over its covering, or the most that its wires may take; tape on it."""
        bare_mm = self.bundle.diameter.largest_mm
        return (bare_mm if self.bundle.covering is None else self.bundle.outside_mm) + self.tape_mm


def passages(network: Network) -> tuple[Passage, ...]:
    """Every grommet through which a wire goes, in the order of the route."""
    found: list[Passage] = []
    for legs in stretches_of(network):
        fixings = fixings_on(network, legs[0])
        for fixing in fixings:
            if fixing.kind != GROMMET:
                continue
            leg = leg_at(legs, fixing.low_mm)
            bundle = stretch_bundle(network, [leg])
            if bundle is not None:
                assert isinstance(fixing.record, Grommet)
                found.append(Passage(fixing.record, fixing, leg, bundle, _tape_mm(network, fixings, fixing.low_mm)))
    return tuple(found)


def _tape_mm(network: Network, fixings: tuple[Fixing, ...], at_mm: float) -> float:
    for each in fixings:
        if each.kind == TAPE and each.low_mm <= at_mm <= each.high_mm:
            assert isinstance(each.record, Tape)
            # So many layers lie on one another on the average; in whole layers it may be one more.
            layers = math.ceil(1.0 / (1.0 - each.record.lap.value) - 1e-9)
            return 2.0 * layers * network.parts.tapes[each.name].wall_mm.value
    return 0.0


def slide_name(grommet: str) -> str:
    """What the lists call a grommet that is slid on: `grommet GR1`."""
    return f"grommet {grommet}"


def all_slides(network: Network, section: HarnessSection) -> tuple[SlideOn, ...]:
    """The closed coverings of a section, then its closed grommets, each in the order of the route."""
    own = {(leg.start, leg.end) for leg in section.legs}
    found = [*slides_on(network, section)]
    for passage in passages(network):
        if (passage.leg.start, passage.leg.end) in own and passage.grommet.split == "no":
            grommet = passage.grommet
            slide = slide_over(
                network, [passage.leg], slide_name(grommet.name), grommet.bore_mm.value, covers_splices=False
            )
            assert slide is not None  # a wire goes through it
            found.append(slide)
    return tuple(found)


@frozen
class HoleSide:
    """The things beyond one side of a panel that do not go through its hole once they are finished, largest first."""

    point: str
    barred: tuple[Obstacle, ...]


def hole_sides(network: Network, passage: Passage) -> tuple[HoleSide, ...]:
    """The two sides of the panel of a grommet, the one with the smaller largest thing first.

    A thing of unknown size bars nothing, and a splice is no bar by itself: the bundle is drawn through as it is.

    Raises:
        ValueError: the grommet says no hole.
    """
    hole = passage.grommet.hole_mm
    if hole is None:
        raise ValueError(f"{passage.grommet.name} has no hole")
    found = []
    for point, side in sides_of(network, [passage.leg], covers_splices=False).items():
        barred = [each for each in side.obstacles if hole.value + 1e-9 < each.needed_mm < math.inf]
        barred.sort(key=lambda each: (-each.needed_mm, each.node))
        found.append(HoleSide(point, tuple(barred)))
    return tuple(sorted(found, key=lambda each: each.barred[0].needed_mm if each.barred else 0.0))
