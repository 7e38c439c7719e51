"""What leaves a spine: a leg, or a block on a lead; and by how much it has to give way to what stands there already."""

from collections.abc import Sequence
from dataclasses import dataclass

from harnessgen.drawings.layout.block import LayoutBlock
from harnessgen.drawings.layout.corridor import DOT_MM, SPOT_PITCH_MM
from harnessgen.drawings.layout.free_space import Claim, Rect, SpineRoom, moved
from harnessgen.drawings.layout.placed import PlacedSpine
from harnessgen.drawings.layout.tree import LayoutSpot

LEAD_MM = 5.0
"""Length of the thin line from a spot to the block that hangs there."""
MOST_DOTS = 12
"""Splices at one point that are drawn; its name lists them all."""
_NEXT_BLOCK_MM = 24.0


@dataclass(frozen=True, slots=True)
class Branch:
    """What leaves a spine at a centre: a leg, or a block on a lead.

    `root` is what stands beside its first run or lead, `rest` what moves away when that is drawn longer; both as (along
    the parent, away from it). `half_mm` is half the width of its line.
    """

    content: PlacedSpine | LayoutBlock
    root: tuple[Rect, ...]
    rest: tuple[Rect, ...]
    half_mm: float

    def claim(self, extra_mm: float) -> list[Rect]:
        """All that it takes with its first run `extra_mm` longer."""
        grown = [(a, b, c, d + extra_mm) for a, b, c, d in self.root]
        return grown + moved(self.rest, 0.0, extra_mm)


@dataclass(frozen=True, slots=True)
class BranchChoice:
    """A branch on a side, `shift_mm` further along the spine and `extra_mm` longer, and what that costs."""

    cost: float
    side: int
    shift_mm: float
    extra_mm: float
    branch: Branch

    @property
    def edge_mm(self) -> float:
        """How far beside the branch a dimension line ends; the strokes of a break take more room."""
        content, half_mm = self.branch.content, self.branch.half_mm
        if not isinstance(content, PlacedSpine):
            return half_mm + 0.1
        first = content.runs[0].corridor
        if first.run.splices:
            half_mm = max(half_mm, DOT_MM + 0.2)
        return half_mm + (0.1 if first.is_true and not self.extra_mm else 0.8)


def hung(block: LayoutBlock, along_mm: float, away_mm: float, before_mm: float) -> Branch:
    """A block of `along_mm` by `away_mm` on a lead, `before_mm` of it before the lead."""
    lead = (-0.4, 0.4, 0.0, LEAD_MM)
    return Branch(block, (lead,), ((-before_mm, along_mm - before_mm, LEAD_MM, LEAD_MM + away_mm),), 0.4)


def ways_of(
    room: SpineRoom, branch: Branch, side: int, base: float, others: Sequence[Claim], extra_mm: float
) -> list[tuple[float, float]]:
    """How far a branch on `side` has to move along the spine, and how much longer it has to be: two ways of both.

    Either all of it moves along, or only what stands beside its root does and the rest moves away.
    """
    shift_mm = room.shift_mm([*others, (side, moved(branch.claim(extra_mm), base))])
    ways = [(shift_mm, extra_mm)]
    if not shift_mm:
        return ways
    shift_mm = room.shift_mm([*others, (side, moved(branch.root, base))])
    deeper_mm = extra_mm + room.deepening_mm(side, moved(branch.rest, base + shift_mm, extra_mm))
    root = moved([(a, b, c, d + deeper_mm) for a, b, c, d in branch.root], base + shift_mm)
    if room.shift_mm([(side, root)]) == 0.0:
        ways.append((shift_mm, deeper_mm))
    return ways


def spread_mm(spot: LayoutSpot) -> float:
    """Length over which a spot is drawn out for the splices that sit there."""
    return SPOT_PITCH_MM * max(0, min(MOST_DOTS, len(spot.splices)) - 1)


def signed(rect: Rect, side: int) -> tuple[float, float]:
    """From and to across a spine (v) of a rectangle on one side of it."""
    return (rect[2], rect[3]) if side > 0 else (-rect[3], -rect[2])


def inward_mm(block: LayoutBlock, run_mm: float) -> float:
    """How much of a block that hangs at an end of the trunk lies under the trunk: more where the run leaves room."""
    return min(max(run_mm - _NEXT_BLOCK_MM, block.width_mm / 2), max(block.width_mm - 4.0, block.width_mm / 2))
