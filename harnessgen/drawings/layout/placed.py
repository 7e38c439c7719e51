"""What a placed layout consists of: runs, spots, legs and blocks along a spine, in millimetres on paper.

Along a spine runs u; v goes across it, positive forwards (the way that the spine which it leaves goes).
"""

from dataclasses import dataclass, replace

from harnessgen.drawings.layout.block import LayoutBlock, Panel
from harnessgen.drawings.layout.corridor import Corridor
from harnessgen.drawings.layout.free_space import Rect, moved
from harnessgen.drawings.layout.tree import LayoutSpot


@dataclass(frozen=True, slots=True)
class SpotJoint:
    """The middle of a spot: radius of its ring (0 without one), and how far from its centre coverings begin, mm.

    `is_open` says that splices sit there: bundles then end at the ring, so that their dots are seen in it.
    """

    ring_mm: float
    hub_mm: float
    is_open: bool = False

    @property
    def bare_mm(self) -> float:
        """How far from the centre bundles begin."""
        return self.ring_mm if self.is_open else 0.0


@dataclass(frozen=True, slots=True)
class PlacedRun:
    """A run between `u0` and `u1` of its spine, its notes and dimensions on `side`, between two joints.

    Its dimension line ends `edges_mm` before the two centres, where a bundle is in the way; elsewhere these are 0.
    """

    corridor: Corridor
    u0: float
    u1: float
    side: int
    edges_mm: tuple[float, float]
    joints: tuple[SpotJoint, SpotJoint]


@dataclass(frozen=True, slots=True)
class PlacedSpot:
    """A spot at one or more centres along its spine; `label_area` (u0, u1, v0, v1) is where its name stands.

    A spot with several centres is one point of the route, drawn out so that each leg has a centre of its own.
    """

    spot: LayoutSpot
    centres: tuple[float, ...]
    ring_mm: float
    label: Panel | None = None
    label_area: Rect = (0.0, 0.0, 0.0, 0.0)

    @property
    def is_drawn_out(self) -> bool:
        """Whether it has several centres."""
        return self.ring_mm > 0 and self.centres[0] < self.centres[-1]


@dataclass(frozen=True, slots=True)
class PlacedBlock:
    """A block in (u0, u1, v0, v1); `lead`, where there is one, is the thin line to it at u, from v to v."""

    block: LayoutBlock
    area: Rect
    lead: Rect | None = None


@dataclass(frozen=True, slots=True)
class PlacedLeg:
    """A spine that leaves at `centre` on `side`."""

    centre: float
    side: int
    spine: "PlacedSpine"


@dataclass(frozen=True, slots=True)
class PlacedSpine:
    """All that stands along one spine."""

    runs: tuple[PlacedRun, ...]
    spots: tuple[PlacedSpot, ...]
    legs: tuple[PlacedLeg, ...]
    blocks: tuple[PlacedBlock, ...]
    rest: tuple[Rect, ...]
    """What stands beyond the first run's own side, as (v0, v1, u0, u1)."""

    def deepened(self, by_mm: float) -> "PlacedSpine":
        """The same with its first run `by_mm` longer."""
        if by_mm <= 0:
            return self
        first, *others = self.runs
        grown = replace(first, corridor=first.corridor.lengthened(by_mm), u1=first.u1 + by_mm)
        return PlacedSpine(
            (grown, *(replace(run, u0=run.u0 + by_mm, u1=run.u1 + by_mm) for run in others)),
            tuple(_spot_along(spot, by_mm) for spot in self.spots),
            tuple(replace(leg, centre=leg.centre + by_mm) for leg in self.legs),
            tuple(_block_along(block, by_mm) for block in self.blocks),
            tuple(moved(self.rest, 0.0, by_mm)),
        )

    @property
    def tips(self) -> tuple[float, ...]:
        """Where along the spine the dimension lines of its legs meet it."""
        return tuple(leg.centre + mm for leg in self.legs for mm in leg.spine.runs[0].corridor.levels_mm)

    @property
    def all_spots(self) -> tuple[PlacedSpot, ...]:
        """The spots of the spine and of its legs."""
        return self.spots + tuple(spot for leg in self.legs for spot in leg.spine.all_spots)

    @property
    def corridors(self) -> tuple[Corridor, ...]:
        """Corridors of all runs, those of legs too."""
        own = tuple(run.corridor for run in self.runs)
        return own + tuple(each for leg in self.legs for each in leg.spine.corridors)


def _spot_along(spot: PlacedSpot, by_mm: float) -> PlacedSpot:
    (area,) = moved([spot.label_area], by_mm)
    return replace(spot, centres=tuple(centre + by_mm for centre in spot.centres), label_area=area)


def _block_along(block: PlacedBlock, by_mm: float) -> PlacedBlock:
    (area,) = moved([block.area], by_mm)
    lead = (block.lead[0] + by_mm, block.lead[1] + by_mm, *block.lead[2:]) if block.lead else None
    return replace(block, area=area, lead=lead)
