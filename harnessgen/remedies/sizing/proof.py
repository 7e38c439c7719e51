"""What is proved of sizes: which wires need theirs whatever the others are, and what no sizes are lighter than.

A finding is taken to stand for all sizes of the other wires if it stands with them at their thinnest and at their
thickest, all alike and those in line against the rest. Where a load keeps its power or current, what ways take of volts
proves nothing.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property

from harnessgen.evidence.finding import Finding
from harnessgen.physics.electrical.conditions import Case, Conditions
from harnessgen.remedies.sizing.candidates import Space
from harnessgen.remedies.sizing.lightest import Budget, SizeCut, lightest
from harnessgen.remedies.sizing.trial import Key, Sizes
from harnessgen.rules.loading.excess_drop import RULE as EXCESS_DROP


class SizeProof:
    """Proves what it can of some sizes in a space, from cuts and sure budgets."""

    def __init__(self, space: Space, cuts: Mapping[Key, Sequence[SizeCut]], sure: Mapping[Key, Budget]) -> None:
        self.space = space
        self.cuts = cuts
        self.sure = sure

    def bound(self, sizes: Sizes, at: int) -> tuple[tuple[Finding, ...], bool]:
        """What stands against one wire one size down, and whether it does so whatever the other wires are.

        Raises:
            RuleCrash: a check failed by itself.
        """
        space = self.space
        lower = space.one_down(sizes, at)
        if lower is None:
            return (), True
        found = space.standing(lower)
        if lower[at] not in space.allowed[at]:
            return tuple(dict.fromkeys(found.values())), True
        # Drops are the quickest to examine.
        rules = sorted({rule for rule, _ in found}, key=lambda rule: (rule != EXCESS_DROP, rule))
        of_rule = ({key for key in found if key[0] == rule} for rule in rules)
        is_alone = any(self._stand_in_corners(keys, {at: lower[at]}) for keys in of_rule)
        return tuple(dict.fromkeys(found.values())), is_alone

    def bound_g(self, sizes: Sizes, alone: Mapping[int, bool]) -> float:
        """What no sizes are lighter than, in g; `alone` says which wires need theirs whatever the others are.

        Raises:
            RuleCrash: a check failed by itself.
        """
        space = self.space
        allowed = [
            [each for each in own if each >= sizes[at]] if alone[at] else list(own)
            for at, own in enumerate(space.allowed)
        ]
        confirmed = [cut for key, own in self.cuts.items() for cut in own if self._is_confirmed(key, cut, alone)]
        is_straight = not any(point.characters for point in self._conditions())
        sure = list(self.sure.values()) if is_straight and not self._has_unmet_drops else []
        found = lightest(space.masses_g, allowed, confirmed, sure)
        return found.bound_g if found is not None else 0.0

    def _conditions(self) -> Iterator[Conditions]:
        physics = self.space.thickest.physics
        return (physics.conditions_in(state, Case.WEAK) for state in physics.points)

    @property
    def _has_unmet_drops(self) -> bool:
        """Whether a load is let off its limit, so that its current may be less than the limit leaves it."""
        let_off = {rule for rule, _ in self.space.known} | {each.rule for each in self.space.trials.acceptances}
        return EXCESS_DROP in let_off

    def _corners(self, about: Sequence[int]) -> list[Sizes]:
        """The other wires at their thickest and thinnest: all alike, and those in line with `about` against the rest.

        Of a wire in line with it a thicker one brings more current, of a wire beside it a thicker one takes volts away.
        """
        in_line: set[int] = set()
        for way in self._ways:
            if not way.isdisjoint(about):
                in_line |= way
        low, high = self.space.low, self.space.high
        mixed = [
            tuple(own[at in in_line] for at, own in enumerate(zip(*pair, strict=True)))
            for pair in ((high, low), (low, high))
        ]
        return [high, *mixed, low]

    @cached_property
    def _ways(self) -> list[set[int]]:
        """The wires on the way of each load and coil, in each state, with every wire at its thickest."""
        index_of = {wire.mark: at for at, wire in enumerate(self.space.wires)}
        physics = self.space.thickest.physics
        return [
            {index_of[part.element] for part in (*drop.feed, *drop.return_) if part.element in index_of}
            for state in physics.points
            for drop in physics.drops_in(state, Case.WEAK)
        ]

    def _is_confirmed(self, key: Key, cut: SizeCut, alone: Mapping[int, bool]) -> bool:
        """Whether the finding behind a cut stands with its wires as they were, and all others thinnest or thickest."""
        if all(alone[at] for at in cut.beyond):
            return not cut.is_thinner
        return self._stand_in_corners({key}, cut.beyond)

    def _stand_in_corners(self, keys: set[Key], fixed: Mapping[int, int]) -> bool:
        """Whether one of these findings stands with the fixed sizes and all others thinnest or thickest."""
        left = keys
        for corner in self._corners(tuple(fixed)):
            if not left or not self.space.may_try:
                return False
            left = self.space.trials.standing_of(left, tuple(fixed.get(at, size) for at, size in enumerate(corner)))
        return bool(left)
