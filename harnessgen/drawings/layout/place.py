"""Place the trunk of a board with all its legs at one setting."""

from collections.abc import Mapping

from harnessgen.drawings.layout.block import LayoutBlock, Panel
from harnessgen.drawings.layout.corridor import Setting, body_half_mm, bundle_thickness_mm
from harnessgen.drawings.layout.place_spine import SpineLine
from harnessgen.drawings.layout.placed import PlacedSpine, SpotJoint
from harnessgen.drawings.layout.tree import DrawnRun, LayoutSpot, Spine

_RING_MM = 1.7
"""Least radius of a breakout."""


class Placer:
    """Places the spines of one board at one setting: `contents` are the blocks of spots, `labels` their names."""

    def __init__(self, setting: Setting, contents: Mapping[str, LayoutBlock], labels: Mapping[str, Panel]) -> None:
        self.setting = setting
        self.contents = contents
        self.labels = labels
        self.legs: dict[tuple[int, bool], PlacedSpine] = {}

    def trunk(self, spine: Spine) -> PlacedSpine:
        """The trunk, level on the sheet, with all its legs."""
        joint = self.joint(spine.start, (spine.steps[0].run,))
        return SpineLine(self, spine, joint, 0.0, is_trunk=True, is_level=True, leans=False).lay()

    def leg(self, spine: Spine, joint: SpotJoint, edge_mm: float, *, is_level: bool, leans: bool) -> PlacedSpine:
        """A leg with its own legs, from `joint`; its dimension line begins `edge_mm` from there.

        With `leans` the block at its end stands forward of it instead of centred.
        """
        known = (id(spine), leans)
        if known not in self.legs:
            line = SpineLine(self, spine, joint, edge_mm, is_trunk=False, is_level=is_level, leans=leans)
            self.legs[known] = line.lay()
        return self.legs[known]

    def joint(self, spot: LayoutSpot, runs: tuple[DrawnRun, ...]) -> SpotJoint:
        """The joint of a spot where `runs` meet: a ring where the spot has a name to show."""
        scale = self.setting.scale
        if spot.node not in self.labels:
            return SpotJoint(0.0, 1.0)
        widest_mm = max(bundle_thickness_mm(piece.diameter_mm, scale) for run in runs for piece in run.pieces)
        ring_mm = max(_RING_MM, widest_mm / 2 + 0.6)
        return SpotJoint(ring_mm, 0.3 + max(ring_mm, *(body_half_mm(run, scale) for run in runs)), bool(spot.splices))
