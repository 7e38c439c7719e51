"""The search for light sizes: what is known proposes the lightest, the rules try it, what fails teaches more."""

import math
from collections.abc import Sequence

from harnessgen.evidence.finding import Finding
from harnessgen.remedies.sizing.candidates import Space, exchanged
from harnessgen.remedies.sizing.constraints import drop_ways, named_wires
from harnessgen.remedies.sizing.lightest import Budget, SizeCut, lightest
from harnessgen.remedies.sizing.neighbour_heat import warmth_budget
from harnessgen.remedies.sizing.trial import Key, Sizes, Verdict

_MOST_ROUNDS = 200


class SizeSearch:
    """Searches a space. `cuts` and `sure` are what it learned and what a proof may rest on; the rest is a guide."""

    def __init__(self, space: Space) -> None:
        self.space = space
        self.cuts: dict[Key, list[SizeCut]] = {}
        self.sure: dict[Key, Budget] = {}
        self._likely: dict[Key, Budget] = {}
        self._warm: list[Budget] = []

    def lightest(self) -> Sizes | None:
        """The lightest sizes under what is learned on the way that no rule stands against; None if it ends without.

        Raises:
            RuleCrash: a check failed by itself.
        """
        space = self.space
        for _ in range(_MOST_ROUNDS):
            cuts = [cut for own in self.cuts.values() for cut in own]
            budgets = [*self._likely.values(), *self._warm]
            tried = lightest(space.masses_g, space.allowed, cuts, budgets)
            if tried is None or not space.may_try:
                return None
            failing = space.standing(tried.sizes)
            if not failing:
                return tried.sizes
            verdict = space.trials.run(tried.sizes)
            for key, finding in failing.items():
                self._learn(verdict, key, finding)
        return None

    def fallback(self) -> Sizes:
        """Sizes to begin with where the search came to none: those that least stands against; that is known then.

        Raises:
            RuleCrash: a check failed by itself.
        """
        space = self.space
        best = min((space.clipped, space.high), key=lambda each: len(space.standing(each)))
        space.known |= frozenset(space.trials.standing(best))
        return best

    def descended(self, sizes: Sizes) -> Sizes:
        """The sizes with every wire taken down as far as it goes by itself, the most copper first.

        Raises:
            RuleCrash: a check failed by itself.
        """
        space, is_changed = self.space, True
        while is_changed and space.may_try:
            is_changed = False
            for at in sorted(range(len(sizes)), key=lambda each: -space.masses_g[each][sizes[each]]):
                lower = space.one_down(sizes, at)
                if lower is not None and not space.standing(lower):
                    sizes, is_changed = lower, True
        return sizes

    def _learn(self, verdict: Verdict, key: Key, finding: Finding) -> None:
        space = self.space
        is_thinner = key in space.trials.standing(space.high) and key not in space.trials.standing(space.low)
        if not is_thinner and (self._learn_ways(verdict, key) or self._learn_warmth(verdict, key)):
            return
        away = space.low if is_thinner else space.high
        about = named_wires(verdict, key, finding)
        if not about or not self._persists(key, verdict.sizes, about, away):
            about = self._narrowed(key, verdict.sizes, away)
        beyond = {at: verdict.sizes[at] for at in about}
        if len(about) == 1 and not is_thinner:
            beyond = {about[0]: self._last_failing(key, verdict.sizes, about[0])}
        self.cuts.setdefault(key, []).append(SizeCut(beyond, is_thinner))

    def _learn_ways(self, verdict: Verdict, key: Key) -> bool:
        """Whether what its ways may take, as the trial has it, is news."""
        ways = drop_ways(verdict, self.space.thickest, key, self.space.ohms)
        self.sure |= ways.sure
        is_news = False
        for at, budget in ways.likely.items():
            old = self._likely.get(at)
            is_news |= old is None or not _exceeds(old, verdict.sizes)
            self._likely[at] = budget if old is None else _stricter(old, budget)
        return is_news

    def _learn_warmth(self, verdict: Verdict, key: Key) -> bool:
        """Whether what the wires beside a hot thing may add to it, as the trial has it, is news."""
        budget = warmth_budget(verdict, key, self.space.shelves)
        if budget is None or budget in self._warm or not _exceeds(budget, verdict.sizes):
            return False
        self._warm.append(budget)
        return True

    def _persists(self, key: Key, sizes: Sizes, about: Sequence[int], away: Sizes) -> bool:
        """Whether a finding stands with these wires as they are and all others far away."""
        tried = tuple(size if at in about else away[at] for at, size in enumerate(sizes))
        return bool(self.space.trials.standing_of((key,), tried))

    def _last_failing(self, key: Key, sizes: Sizes, at: int) -> int:
        """The thickest size of one wire for which the finding still stands with all others at their thickest."""
        last = sizes[at]
        for size in self.space.allowed[at]:
            if size > last:
                if not self.space.trials.standing_of((key,), exchanged(self.space.high, at, size)):
                    break
                last = size
        return last

    def _narrowed(self, key: Key, sizes: Sizes, away: Sizes) -> tuple[int, ...]:
        """Few wires that keep the finding alive with all others far away."""
        about = [at for at in range(len(sizes)) if sizes[at] != away[at]]
        step = max(len(about) // 2, 1)
        while self.space.may_try:
            start = 0
            while start < len(about) and self.space.may_try:
                rest = about[:start] + about[start + step :]
                if self._persists(key, sizes, rest, away):
                    about = rest
                else:
                    start += step
            if step == 1:
                break
            step //= 2
        return tuple(about)


def _stricter(one: Budget, other: Budget) -> Budget:
    """A budget with the more of what either takes, and the less of what either leaves."""
    if one.takes.keys() != other.takes.keys():
        return other
    takes = {at: tuple(map(max, own, other.takes[at])) for at, own in one.takes.items()}
    return Budget(takes, min(one.most, other.most))


def _exceeds(budget: Budget, sizes: Sizes) -> bool:
    return math.fsum(takes[sizes[at]] for at, takes in budget.takes.items()) > budget.most
