"""Lay one spine from its start on: every length on paper, every note and face, so that nothing lies on anything.

A spine is laid along its own axis with room on both sides of it. Of two neighbours the later one gives way: the stretch
before it is drawn longer, with a marked break, or a leg is. A leg has its notes and dimensions on its forward side; a
stretch of the spine has them on the side opposite to the leg before it. So no dimension line has to cross a bundle.
"""

from collections.abc import Mapping
from typing import Protocol

from harnessgen.drawings.layout.block import LayoutBlock, Panel
from harnessgen.drawings.layout.branch import Branch, BranchChoice, hung, inward_mm, signed, spread_mm, ways_of
from harnessgen.drawings.layout.corridor import DOT_MM, EDGE_AIR_MM, Setting, corridor, half_width_mm
from harnessgen.drawings.layout.free_space import GAP_MM, Claim, Rect, SpineRoom, moved
from harnessgen.drawings.layout.placed import PlacedBlock, PlacedLeg, PlacedRun, PlacedSpine, PlacedSpot, SpotJoint
from harnessgen.drawings.layout.tree import DrawnRun, LayoutSpot, Spine, SpineStep

END_AIR_MM = 2.3
"""Between the end of a leg and its block; more than GAP_MM."""
_SAME_SIDE_MM = 4.0
_LEAN_MM = 1.0
_TIGHT = 5.0
"""What a length along the spine counts where the sheet is not wide enough."""
_ENDLESS_MM = 1e5
_BACK_MM = 2 * GAP_MM
_BREAK_MM = 25.0
"""Lengths that are as bad as a break where none was."""


class Legs(Protocol):
    """What a spine asks for: the setting, what stands at spots, joints, and its legs, each placed by itself."""

    setting: Setting
    contents: Mapping[str, LayoutBlock]
    labels: Mapping[str, Panel]

    def leg(self, spine: Spine, joint: SpotJoint, edge_mm: float, *, is_level: bool, leans: bool) -> PlacedSpine:
        """A leg with its own legs."""

    def joint(self, spot: LayoutSpot, runs: tuple[DrawnRun, ...]) -> SpotJoint:
        """The joint of a spot where `runs` meet."""


def runs_at(steps: tuple[SpineStep, ...], index: int) -> tuple[DrawnRun, ...]:
    """The runs that meet at the spot of step `index` of a spine."""
    own = [step.run for step in steps[index : index + 2]]
    return (*own, *(leg.steps[0].run for leg in steps[index].legs))


def _end_edge_mm(step: SpineStep, setting: Setting) -> float:
    """The most by which a dimension line can end before the spot of a step, where a leg leaves on its side."""
    halves_mm = [half_width_mm(leg.steps[0].run, setting.scale) for leg in step.legs]
    return max(*halves_mm, DOT_MM, 0.2) + 0.8 if halves_mm else 1.0


class SpineLine:
    """Lays one spine, from its start on."""

    def __init__(
        self,
        placer: Legs,
        spine: Spine,
        start: SpotJoint,
        edge_mm: float,
        *,
        is_trunk: bool,
        is_level: bool,
        leans: bool,
    ) -> None:
        self.placer = placer
        self.spine = spine
        self.is_trunk = is_trunk
        self.is_level = is_level
        self.edge_mm = edge_mm
        self.leans = leans
        self.room = SpineRoom()
        self.runs: list[PlacedRun] = []
        self.spots: list[PlacedSpot] = []
        self.legs: list[PlacedLeg] = []
        self.blocks: list[PlacedBlock] = []
        self.last_side = 0
        self._weight = _TIGHT if placer.setting.is_tight else 1.0
        self.first_rect: Rect = (0.0, 0.0, 0.0, 0.0)
        steps = spine.steps
        self.joints = [start, *(placer.joint(step.spot, runs_at(steps, index)) for index, step in enumerate(steps))]
        self.corridors = [
            corridor(
                step.run,
                placer.setting,
                (self.joints[index].hub_mm, self.joints[index + 1].hub_mm),
                (0.0 if index else edge_mm, _end_edge_mm(step, placer.setting)),
                is_level=is_level,
            )
            for index, step in enumerate(steps)
        ]

    def lay(self) -> PlacedSpine:
        """All steps in order."""
        side = 1
        if self.is_trunk:
            self._hang_start()
        u = 0.0
        for index in range(len(self.spine.steps)):
            u, side = self._step(index, u, side)
        return PlacedSpine(
            tuple(self.runs), tuple(self.spots), tuple(self.legs), tuple(self.blocks), tuple(self._rest())
        )

    def _rest(self) -> list[Rect]:
        """All that is taken but for what stands beside the first run, as (v0, v1, u0, u1)."""
        rest: list[Rect] = []
        for side, rects in self.room.taken.items():
            held = rects if side != self.runs[0].side else [rect for rect in rects if rect != self.first_rect]
            rest.extend((c, d, a, b) if side > 0 else (-d, -c, a, b) for a, b, c, d in held)
        return rest

    def _step(self, index: int, u: float, side: int) -> tuple[float, int]:
        """Lay one run, whose side is given, and settle the spot after it; the last centre there, and the next side."""
        step, drawn = self.spine.steps[index], self.corridors[index]
        branches = self._branches(step, index)
        if index + 1 == len(self.spine.steps):
            self._end(index, u, side)
            return u, side
        at = u + drawn.length_mm
        label, area = self._label(step.spot, index, side)
        claims = self._spot_claims(self.joints[index + 1], drawn.half_mm)
        if label:
            claims.append((-side, [area]))
        centres: list[float] = []
        edge_mm = 0.0
        next_side = side
        if not branches:
            shift_mm, next_side = self._pass(index, at, side, claims)
            centres = [at + shift_mm]
        for number, leaning in enumerate(branches):
            is_first, is_last = number == 0, number + 1 == len(branches)
            base = at if is_first else centres[-1]
            choice = self._choose(leaning, index, base, side, claims if is_first else [], is_first, is_last)
            centre = base + choice.shift_mm
            if is_first:
                self._take_run(index, u, centre, side)
                self._take_label(label, area, side, centre)
                edge_mm = choice.edge_mm if choice.side == side else 0.0
            self._put(choice, centre, max(self.joints[index + 1].ring_mm, drawn.body_mm) + 0.3)
            centres.append(centre)
            self.last_side, next_side = choice.side, -choice.side
        if not branches:
            self._take_run(index, u, centres[0], side)
            self._take_label(label, area, side, centres[0])
        self._draw_out(index, centres, next_side)
        self._take_ring(self.joints[index + 1], centres)
        self._note_run(index, u, centres[0], side, edge_mm)
        placed = (area[0] + centres[0], area[1] + centres[0], *signed(area, -side))
        self.spots.append(PlacedSpot(step.spot, tuple(centres), self.joints[index + 1].ring_mm, label, placed))
        return centres[-1], next_side

    @staticmethod
    def _spot_claims(joint: SpotJoint, half_mm: float) -> list[Claim]:
        """What a spot takes on both sides of the spine: its ring, or the stroke at an end of the route."""
        reach_mm = joint.ring_mm or 0.4
        rect = (-reach_mm, reach_mm, 0.0, joint.ring_mm or half_mm + 1.0)
        return [(1, [rect]), (-1, [rect])]

    def _draw_out(self, index: int, centres: list[float], next_side: int) -> None:
        """Draw a spot out until the splices that sit there have room beside one another."""
        last = centres[0] + spread_mm(self.spine.steps[index].spot)
        if last > centres[-1]:
            shift_mm = self.room.shift_mm([(next_side, [self._next_rect(index, last)])])
            centres.append(last + shift_mm)

    def _take_label(self, label: Panel | None, area: Rect, side: int, centre: float) -> None:
        if label:
            self.room.take(-side, moved([area], centre))

    def _take_ring(self, joint: SpotJoint, centres: list[float]) -> None:
        """Take the room of a breakout on both sides."""
        rect = (centres[0] - joint.ring_mm, centres[-1] + joint.ring_mm, 0.0, joint.ring_mm + 0.2)
        for side in (1, -1) if joint.ring_mm else ():
            self.room.take(side, [rect])

    def _take_run(self, index: int, u: float, to: float, side: int) -> None:
        """Take the room beside a run, and that of the bundle itself on its other side."""
        drawn = self.corridors[index]
        rect = (u, to, 0.0, drawn.depth_mm)
        self.room.take(side, [rect])
        if not index:
            self.first_rect = rect
        elif to - u > _BACK_MM:
            # Short of its end, where a leg may leave on that side.
            self.room.take(-side, [(u, to - _BACK_MM, 0.0, drawn.half_mm + 0.5)])

    def _note_run(self, index: int, u: float, to: float, side: int, edge_mm: float) -> None:
        drawn = self.corridors[index]
        edges_mm = (0.0 if index else self.edge_mm, edge_mm)
        joints = (self.joints[index], self.joints[index + 1])
        self.runs.append(PlacedRun(drawn.lengthened(to - u - drawn.length_mm), u, to, side, edges_mm, joints))

    def _label(self, spot: LayoutSpot, index: int, side: int) -> tuple[Panel | None, Rect]:
        """The name of a spot, before it and on the free side of the run that leads there; as (u, u, away, away)."""
        label = self.placer.labels.get(spot.node)
        if label is None:
            return None, (0.0, 0.0, 0.0, 0.0)
        along_mm, away_mm = self._turned(label.width_mm, label.height_mm)
        legs = self.spine.steps[index].legs
        halves_mm = (half_width_mm(leg.steps[0].run, self.placer.setting.scale) for leg in legs)
        u1 = -max(self.joints[index + 1].hub_mm, *halves_mm, 0.0) - 0.6
        from_mm = self.corridors[index].half_mm + EDGE_AIR_MM
        return label, (u1 - along_mm, u1, from_mm, from_mm + away_mm)

    def _turned(self, width_mm: float, height_mm: float) -> tuple[float, float]:
        """Extent along the spine and away from it of something upright on the sheet."""
        return (width_mm, height_mm) if self.is_level else (height_mm, width_mm)

    def _pass(self, index: int, at: float, side: int, label: list[Claim]) -> tuple[float, int]:
        """Shift of a spot where nothing leaves, and the side of the next run: the same if that needs no more room."""
        options = []
        for number, next_side in enumerate((side, -side)):
            claims = [(s, moved(rects, at)) for s, rects in label]
            claims.append((next_side, [self._next_rect(index, at)]))
            options.append((self.room.shift_mm(claims), number, next_side))
        shift_mm, _, next_side = min(options)
        return shift_mm, next_side

    def _next_rect(self, index: int, at: float) -> Rect:
        """What stands beside the next run: however long it is drawn in the end, nothing may reach over it."""
        return (at, at + _ENDLESS_MM, 0.0, self.corridors[index + 1].depth_mm)

    def _branches(self, step: SpineStep, index: int) -> list[list[Branch]]:
        """What leaves at the spot of a step, each upright and leaning; blocks on leads first."""
        if index + 1 == len(self.corridors):
            return []
        joint = self.joints[index + 1]
        found: list[list[Branch]] = []
        block = self.placer.contents.get(step.spot.node)
        # A leg at a spot that is drawn out stands beside the ring, else beside the bundle.
        is_drawn_out = len(step.legs) + (block is not None) > 1 or len(step.spot.splices) > 1
        after = self.corridors[index + 1]
        edge_mm = 0.1 + max(
            after.half_mm, joint.ring_mm + 0.3 if is_drawn_out else 0.0, DOT_MM + 0.2 if after.run.splices else 0.0
        )
        if block is not None:
            along_mm, away_mm = self._turned(block.width_mm, block.height_mm)
            lean_mm = min(3.5, along_mm / 2)
            found.append([hung(block, along_mm, away_mm, mm) for mm in (along_mm / 2, lean_mm, along_mm - lean_mm)])
        for leg in step.legs:
            leaning = []
            for leans in (False, True):
                placed = self.placer.leg(leg, joint, edge_mm, is_level=not self.is_level, leans=leans)
                drawn = placed.runs[0].corridor
                line = (-drawn.half_mm, drawn.half_mm, 0.0, drawn.length_mm)
                beside = (0.0, drawn.depth_mm, edge_mm, drawn.length_mm)
                leaning.append(Branch(placed, (line, beside), placed.rest, drawn.half_mm))
            found.append(leaning)
        return found

    def _choose(
        self,
        leaning: list[Branch],
        index: int,
        base: float,
        side: int,
        label: list[Claim],
        is_first: bool,
        is_last: bool,
    ) -> BranchChoice:
        """The side, and the lengthening of spine and leg, that take least."""
        best: BranchChoice | None = None
        sides = (1, -1) if self.last_side < 0 else (-1, 1)
        for number, branch in enumerate(leaning):
            for own_side in sides:
                bias = (_SAME_SIDE_MM if own_side == self.last_side else 0.0) + _LEAN_MM * number
                if best is not None and bias >= best.cost:
                    continue
                extra_mm = self._past_run(branch, own_side, index, side, label, is_first=is_first)
                others: list[Claim] = [(s, moved(rects, base)) for s, rects in label]
                if is_last and index + 1 < len(self.corridors):
                    others.append((-own_side, [self._next_rect(index, base)]))
                for shift_mm, deeper_mm in ways_of(self.room, branch, own_side, base, others, extra_mm):
                    broken = self._cost(index, branch, shift_mm if is_first else 0.0, deeper_mm)
                    cost = bias + broken + self._weight * shift_mm + deeper_mm
                    if best is None or cost < best.cost - 1e-6:
                        best = BranchChoice(cost, own_side, shift_mm, deeper_mm, branch)
        assert best is not None  # there is at least one branch
        return best

    def _cost(self, index: int, branch: Branch, shift_mm: float, extra_mm: float) -> float:
        """What it costs that true stretches are drawn broken: the run before the spot, the first one of a leg."""
        cost = 0.0
        if shift_mm > 0 and self.corridors[index].is_true:
            cost += _BREAK_MM
        if extra_mm > 0 and isinstance(branch.content, PlacedSpine) and branch.content.runs[0].corridor.is_true:
            cost += _BREAK_MM
        return cost

    def _past_run(
        self, branch: Branch, own_side: int, index: int, side: int, label: list[Claim], *, is_first: bool
    ) -> float:
        """How much longer a leg has to be so that what it carries comes clear of the spine itself.

        What reaches back over the run before the spot has to clear its notes and dimensions, or the name of the spot.
        """
        spine_mm = max(self.joints[index + 1].hub_mm, self.corridors[index].half_mm, self.corridors[index + 1].half_mm)
        extra_mm = spine_mm + GAP_MM - min(rect[2] for rect in branch.rest)
        back = [rect[2] for rect in branch.rest if rect[0] < -0.3]
        if back and is_first:
            depth_mm = self.corridors[index].depth_mm if own_side == side else 0.0
            if own_side != side:
                depth_mm = max(rect[3] for s, rects in label if s == own_side for rect in rects)
            extra_mm = max(extra_mm, depth_mm + GAP_MM - min(back))
        if is_first and own_side == side and isinstance(branch.content, PlacedSpine):
            # The dimension of the run before ends at this leg, so the leg has to reach that far.
            first = branch.content.runs[0]
            reach_mm = self.corridors[index].levels_mm[-1] + 1.0 + first.joints[1].ring_mm
            extra_mm = max(extra_mm, reach_mm - first.corridor.length_mm)
        return max(0.0, extra_mm)

    def _put(self, choice: BranchChoice, centre: float, from_mm: float) -> None:
        """Take the room of a chosen branch and note where it stands; a lead begins `from_mm` beside the centre."""
        branch, side = choice.branch, choice.side
        self.room.take(side, moved(branch.claim(choice.extra_mm), centre))
        if isinstance(branch.content, PlacedSpine):
            self.legs.append(PlacedLeg(centre, side, branch.content.deepened(choice.extra_mm)))
            return
        ((a, b, c, d),) = moved(branch.rest, centre, choice.extra_mm)
        area = (a, b, *signed((a, b, c, d), side))
        self.blocks.append(PlacedBlock(branch.content, area, (centre, centre, side * from_mm, side * c)))

    def _hang_start(self) -> None:
        """The block at the left end of the trunk, below it; it reaches inwards as far as the first run leaves room."""
        centres = (-spread_mm(self.spine.start), 0.0)
        self.spots.append(PlacedSpot(self.spine.start, centres, self.joints[0].ring_mm))
        block = self.placer.contents[self.spine.start.node]
        inwards_mm = inward_mm(block, self.corridors[0].length_mm)
        branch = hung(block, block.width_mm, block.height_mm, block.width_mm - inwards_mm)
        self._put(BranchChoice(0.0, -1, 0.0, 0.0, branch), 0.0, self._cap_mm(0))
        self.last_side = -1
        self._take_ring(self.joints[0], list(centres))

    def _end(self, index: int, u: float, side: int) -> None:
        """Lay the last run with the block at its end: hanging from a trunk, in line with a leg."""
        step, drawn = self.spine.steps[index], self.corridors[index]
        at = u + drawn.length_mm
        block = self.placer.contents[step.spot.node]
        joint = self.joints[index + 1]
        if self.is_trunk:
            inwards_mm = inward_mm(block, drawn.length_mm)
            choices = []
            for before_mm in sorted({inwards_mm, block.width_mm / 2, min(4.0, block.width_mm / 2)}, reverse=True):
                branch = hung(block, block.width_mm, block.height_mm, before_mm)
                beyond_mm = 0.3 * (inwards_mm - before_mm)
                cap: list[Claim] = [(s, moved(rects, at)) for s, rects in self._spot_claims(joint, drawn.half_mm)]
                for shift_mm, deeper_mm in ways_of(self.room, branch, -side, at, cap, 0.0):
                    cost = shift_mm + deeper_mm + self._cost(index, branch, shift_mm, 0.0) + beyond_mm
                    choices.append(BranchChoice(cost, -side, shift_mm, deeper_mm, branch))
            choice = min(choices, key=lambda each: round(each.cost, 6))
            at += choice.shift_mm
            self._put(choice, at, self._cap_mm(index))
        else:
            at += self._put_in_line(block, at, joint.ring_mm + spread_mm(step.spot), drawn.half_mm)
        self._take_run(index, u, at, side)
        self._note_run(index, u, at, side, 0.0)
        centres = (at, at + spread_mm(step.spot))
        self._take_ring(joint, list(centres))
        self.spots.append(PlacedSpot(step.spot, centres, self.joints[index + 1].ring_mm))

    def _cap_mm(self, index: int) -> float:
        """Where a lead begins at an end of the trunk: beside its ring, or the stroke across it."""
        joint = self.joints[index + 1 if index or len(self.spine.steps) == 1 else 0]
        return joint.ring_mm + 0.3 if joint.ring_mm else self.corridors[index].body_mm + 1.0

    def _put_in_line(self, block: LayoutBlock, at: float, ring_mm: float, half_mm: float) -> float:
        """Put a block beyond the end of a leg; returns how much longer the last run has to be for it."""
        along_mm, across_mm = self._turned(block.width_mm, block.height_mm)
        before_mm = min(3.5, across_mm / 2) if self.leans else across_mm / 2
        u0 = at + ring_mm + END_AIR_MM
        rects: dict[int, Rect] = {
            1: (u0, u0 + along_mm, 0.0, across_mm - before_mm),
            -1: (u0, u0 + along_mm, 0.0, before_mm),
        }
        cap = (at - 0.4, at + 0.4, 0.0, half_mm + 1.0)
        shift_mm = self.room.shift_mm([(side, [rect, cap]) for side, rect in rects.items()])
        for side, rect in rects.items():
            self.room.take(side, moved([rect], shift_mm))
        area = (u0 + shift_mm, u0 + along_mm + shift_mm, -before_mm, across_mm - before_mm)
        self.blocks.append(PlacedBlock(block, area))
        return shift_mm
