"""The smallest wires that a design can use: sizes of least copper that meet every rule in every state.

A small problem in whole numbers proposes the lightest sizes that meet what is known; the rules are examined on them;
what fails teaches it more. What is found holds by itself: no rule fires, and each wire was tried one size down. That it
is also the least is said only where each piece of what was learned is confirmed with the other wires at their thinnest
and at their thickest, all alike and those in line against the rest. This takes it that a rule which fails with all four
fails with all between; where a load keeps its power or current, what ways take of volts proves nothing.
"""

import math
from collections.abc import Sequence
from functools import cached_property

from harnessgen.design.state import Acceptance
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.finding import Finding
from harnessgen.evidence.publication import common_practice
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.physics.conditions import Case, Conditions
from harnessgen.physics.physics import Physics
from harnessgen.remedies.learned import drop_ways, named_wires
from harnessgen.remedies.lightest import Budget, Cut, lightest
from harnessgen.remedies.sized import copper_mass, figures_of, shelf_sizes, sized_network
from harnessgen.remedies.trial import Key, Sizes, Trials, Verdict
from harnessgen.rules.cavity import seal_misfit, terminal_misfit
from harnessgen.rules.loading import wire_too_small
from harnessgen.rules.loading.excess_drop import RULE as EXCESS_DROP

MOST_TRIALS = 3000
"""Times that the rules are examined; what is not proved by then is said to be unproved."""

_MOST_ROUNDS = 200
# A thousandth of a gram of copper is rounding.
_SAME_G = 1e-3
_MARGIN = common_practice("a miss as a share of the bound")
_OF_ITSELF = (wire_too_small, terminal_misfit, seal_misfit)


@frozen
class SizedWire:
    """One wire with the size found for it. `below` is the next smaller one of its family; None where there is none.

    `bound_by` is what stands against `below`, the most serious first; `is_alone` says that it does so whatever the
    other wires are. `is_kept` says that the wire is there already and was not asked.
    """

    wire: Wire
    size: ConductorSize
    copper: Evaluated
    copper_before: Evaluated
    below: ConductorSize | None
    bound_by: tuple[Finding, ...]
    is_alone: bool
    is_kept: bool


def margin_of(finding: Finding) -> Evaluated | None:
    """How far a finding's first number lies on the wrong side of its second, as a share of that; None without two.

    It is below nought: the next size down misses what it has to meet by this much.
    """
    if len(finding.numbers) < 2 or finding.numbers[0].unit != finding.numbers[1].unit or not finding.numbers[1].value:
        return None
    value, bound = finding.numbers[:2]
    inputs = (
        Input("v", value.name, value.value, value.unit),
        Input("b", bound.name, bound.value, bound.unit),
    )
    return evaluated(f"margin of {finding.rule}", "-abs(v - b) / abs(b)", inputs, "1", _MARGIN)


@frozen
class Sizing:
    """Sizes for all wires. `left` is what stands against the design with them: what no size mends.

    `bound_g` is what was proved of the least copper; `is_least` says that it is what was found. Else no single wire can
    go down a size.
    """

    wires: tuple[SizedWire, ...]
    left: tuple[Finding, ...]
    bound_g: float
    is_least: bool
    trials: int

    @property
    def mass_g(self) -> float:
        """Copper in all wires, in g."""
        return math.fsum(each.copper.result for each in self.wires)

    @property
    def mass_before_g(self) -> float:
        """Copper as the design stands, in g."""
        return math.fsum(each.copper_before.result for each in self.wires)


def smallest_sizes(network: Network, acceptances: Sequence[Acceptance], most_trials: int = MOST_TRIALS) -> Sizing:
    """Sizes of least copper for the wires of a network, or sizes of which none can go down alone.

    Raises:
        RuleCrash: a check failed by itself.
    """
    return _Search(network, acceptances, most_trials).sizing()


class _Search:
    def __init__(self, network: Network, acceptances: Sequence[Acceptance], most_trials: int) -> None:
        self.wires = network.wires
        self.network = network
        self.most_trials = most_trials
        self.shelves = [shelf_sizes(wire) for wire in network.wires]
        self.trials = Trials(network, self.shelves, acceptances)
        lengths = Physics(network).lengths
        self.copper = [
            [copper_mass(wire.mark, figures_of(wire, size).area_mm2.value, lengths[wire.mark].cut_mm) for size in own]
            for wire, own in zip(self.wires, self.shelves, strict=True)
        ]
        self.masses_g = [[each.result for each in own] for own in self.copper]
        self.now: Sizes = tuple(own.index(wire.size) for wire, own in zip(self.wires, self.shelves, strict=True))
        self.allowed, self.ohms = self._allowed(acceptances)
        self.low: Sizes = tuple(own[0] for own in self.allowed)
        self.high: Sizes = tuple(own[-1] for own in self.allowed)
        self.cuts: dict[Key, list[Cut]] = {}
        self.likely: dict[Key, Budget] = {}
        self.sure: dict[Key, Budget] = {}
        self.known: frozenset[Key] = frozenset()

    def _allowed(self, acceptances: Sequence[Acceptance]) -> tuple[list[list[int]], list[dict[str, float]]]:
        """For each wire the sizes that it can have by itself; and the hot ohms of every wire in every size, by mark."""
        accepted = {(each.rule, each.subject) for each in acceptances}
        allowed: list[list[int]] = [[] for _ in self.wires]
        ohms: list[dict[str, float]] = []
        for index in range(max(map(len, self.shelves), default=0)):
            network = self._network(tuple(min(index, len(own) - 1) for own in self.shelves))
            ohms.append(dict(Physics(network).ohms_in(Case.WEAK)))
            told = {
                subject
                for rule in _OF_ITSELF
                for finding in rule.check(network)
                for subject in finding.subjects or (finding.subject,)
                if (rule.RULE, subject) not in accepted
            }
            for at, (wire, own) in enumerate(zip(self.wires, self.shelves, strict=True)):
                if index < len(own) and wire.mark not in told and not wire.is_cut_measured:
                    allowed[at].append(index)
        return [own or [now] for own, now in zip(allowed, self.now, strict=True)], ohms

    def _network(self, sizes: Sizes) -> Network:
        chosen = {wire.mark: own[index] for wire, own, index in zip(self.wires, self.shelves, sizes, strict=True)}
        return sized_network(self.network, chosen)

    def sizing(self) -> Sizing:
        clipped: Sizes = tuple(
            now if now in own else min(own, key=lambda each: abs(each - now))
            for now, own in zip(self.now, self.allowed, strict=True)
        )
        corners = [self._standing(each) for each in (self.low, self.high, clipped)]
        self.known = frozenset(corners[0] & corners[1] & corners[2])
        found = self._lightest()
        is_light = found is not None
        sizes = found if found is not None else self._fallback(clipped)
        down = self._descended(sizes)
        is_light = is_light and down == sizes
        return self._result(down, is_light)

    def _standing(self, sizes: Sizes) -> set[Key]:
        return set(self.trials.run(sizes).standing)

    @property
    def _may_try(self) -> bool:
        return self.trials.count < self.most_trials

    def _lightest(self) -> Sizes | None:
        """The lightest sizes under what is learned on the way that no rule stands against."""
        for _ in range(_MOST_ROUNDS):
            cuts = [cut for own in self.cuts.values() for cut in own]
            tried = lightest(self.masses_g, self.allowed, cuts, list(self.likely.values()))
            if tried is None or not self._may_try:
                return None
            verdict = self.trials.run(tried.sizes)
            failing = verdict.beyond(self.known)
            if not failing:
                return tried.sizes
            for key, finding in failing.items():
                self._learn(verdict, key, finding)
        return None

    def _learn(self, verdict: Verdict, key: Key, finding: Finding) -> None:
        corners = (self.trials.run(self.low), self.trials.run(self.high))
        is_thinner = key in corners[1].standing and key not in corners[0].standing
        if not is_thinner and self._learn_ways(verdict, corners[1], key):
            return
        away = self.low if is_thinner else self.high
        about = named_wires(verdict, key, finding)
        if not about or not self._persists(key, verdict.sizes, about, away):
            about = self._narrowed(key, verdict.sizes, away)
        beyond = {at: verdict.sizes[at] for at in about}
        if len(about) == 1 and not is_thinner:
            beyond = {about[0]: self._last_failing(key, verdict.sizes, about[0])}
        self.cuts.setdefault(key, []).append(Cut(beyond, is_thinner))

    def _learn_ways(self, verdict: Verdict, thickest: Verdict, key: Key) -> bool:
        """Whether what its ways may take, as the trial has it, is news."""
        ways = drop_ways(verdict, thickest, key, self.ohms)
        self.sure |= ways.sure
        is_news = False
        for at, budget in ways.likely.items():
            old = self.likely.get(at)
            is_news |= old is None or not _exceeds(old, verdict.sizes)
            self.likely[at] = budget if old is None else _stricter(old, budget)
        return is_news

    def _persists(self, key: Key, sizes: Sizes, about: Sequence[int], away: Sizes) -> bool:
        """Whether a finding stands with these wires as they are and all others far away."""
        tried = tuple(size if at in about else away[at] for at, size in enumerate(sizes))
        return key in self.trials.run(tried).standing

    def _last_failing(self, key: Key, sizes: Sizes, at: int) -> int:
        """The thickest size of one wire for which the finding still stands with all others at their thickest."""
        last = sizes[at]
        for size in self.allowed[at]:
            if size > last:
                tried = (*self.high[:at], size, *self.high[at + 1 :])
                if key not in self.trials.run(tried).standing:
                    break
                last = size
        return last

    def _narrowed(self, key: Key, sizes: Sizes, away: Sizes) -> tuple[int, ...]:
        """Few wires that keep the finding alive with all others far away."""
        about = [at for at in range(len(sizes)) if sizes[at] != away[at]]
        step = max(len(about) // 2, 1)
        while self._may_try:
            start = 0
            while start < len(about) and self._may_try:
                rest = about[:start] + about[start + step :]
                if self._persists(key, sizes, rest, away):
                    about = rest
                else:
                    start += step
            if step == 1:
                break
            step //= 2
        return tuple(about)

    def _fallback(self, clipped: Sizes) -> Sizes:
        """Sizes to begin with where the search came to none: those that least stands against."""
        best = min((clipped, self.high), key=lambda each: len(self.trials.run(each).beyond(self.known)))
        self.known |= frozenset(self.trials.run(best).standing)
        return best

    def _descended(self, sizes: Sizes) -> Sizes:
        """The sizes with every wire taken down as far as it goes by itself, the most copper first."""
        is_changed = True
        while is_changed and self._may_try:
            is_changed = False
            for at in sorted(range(len(sizes)), key=lambda each: -self.masses_g[each][sizes[each]]):
                lower = self._one_down(sizes, at)
                if lower is not None and not self.trials.run(lower).beyond(self.known):
                    sizes, is_changed = lower, True
        return sizes

    def _one_down(self, sizes: Sizes, at: int) -> Sizes | None:
        """One wire one size down, as far as it may be asked; None at the foot of its shelf."""
        if sizes[at] == 0 or self.wires[at].is_cut_measured:
            return None
        return (*sizes[:at], sizes[at] - 1, *sizes[at + 1 :])

    def _result(self, sizes: Sizes, is_light: bool) -> Sizing:
        bounds = {at: self._bound(sizes, at) for at in range(len(sizes))}
        alone = {at: is_alone for at, (_, is_alone) in bounds.items()}
        bound_g = self._bound_g(sizes, alone)
        mass_g = math.fsum(own[size] for own, size in zip(self.masses_g, sizes, strict=True))
        left = self.trials.run(sizes).standing.values()
        wires = tuple(
            SizedWire(
                wire=wire,
                size=self.shelves[at][sizes[at]],
                copper=self.copper[at][sizes[at]],
                copper_before=self.copper[at][self.now[at]],
                below=self.shelves[at][sizes[at] - 1] if self._one_down(sizes, at) is not None else None,
                bound_by=bounds[at][0],
                is_alone=alone[at],
                is_kept=wire.is_cut_measured,
            )
            for at, wire in enumerate(self.wires)
        )
        is_least = is_light and bound_g >= mass_g - _SAME_G
        return Sizing(wires, tuple(dict.fromkeys(left)), min(bound_g, mass_g), is_least, self.trials.count)

    def _bound(self, sizes: Sizes, at: int) -> tuple[tuple[Finding, ...], bool]:
        """What stands against one wire one size down, and whether it does so whatever the other wires are."""
        lower = self._one_down(sizes, at)
        if lower is None:
            return (), True
        found = self.trials.run(lower).beyond(self.known)
        if lower[at] not in self.allowed[at]:
            return tuple(dict.fromkeys(found.values())), True
        corners = self._corners((at,)) if self._may_try else ()
        standing = [self._standing((*each[:at], lower[at], *each[at + 1 :])) for each in corners]
        is_alone = bool(standing) and bool(set(found).intersection(*standing))
        return tuple(dict.fromkeys(found.values())), is_alone

    def _bound_g(self, sizes: Sizes, alone: dict[int, bool]) -> float:
        """What no sizes are lighter than, by what was confirmed."""
        allowed = [
            [each for each in own if each >= sizes[at]] if alone[at] else list(own)
            for at, own in enumerate(self.allowed)
        ]
        confirmed = [cut for key, own in self.cuts.items() for cut in own if self._is_confirmed(key, cut, alone)]
        is_straight = not any(point.characters for point in self._conditions())
        sure = list(self.sure.values()) if is_straight and not self._has_unmet_drops else []
        found = lightest(self.masses_g, allowed, confirmed, sure)
        return found.bound_g if found is not None else 0.0

    def _conditions(self) -> list[Conditions]:
        physics = self.trials.run(self.high).physics
        return [physics.conditions_in(state, Case.WEAK) for state in physics.points]

    @property
    def _has_unmet_drops(self) -> bool:
        """Whether a load is let off its limit, so that its current may be less than the limit leaves it."""
        let_off = {rule for rule, _ in self.known} | {each.rule for each in self.trials.acceptances}
        return EXCESS_DROP in let_off

    def _corners(self, about: Sequence[int]) -> list[Sizes]:
        """The other wires at their thinnest and thickest: all alike, and those in line with `about` against the rest.

        Of a wire in line with it a thicker one brings more current, of a wire beside it a thicker one takes volts away.
        """
        in_line: set[int] = set()
        for way in self._ways:
            if not way.isdisjoint(about):
                in_line |= way
        mixed = [
            tuple(own[at in in_line] for at, own in enumerate(zip(*pair, strict=True)))
            for pair in ((self.low, self.high), (self.high, self.low))
        ]
        return [self.low, self.high, *mixed]

    @cached_property
    def _ways(self) -> list[set[int]]:
        """The wires on the way of each load and coil, in each state, with every wire at its thickest."""
        index_of = {wire.mark: at for at, wire in enumerate(self.wires)}
        physics = self.trials.run(self.high).physics
        return [
            {index_of[part.element] for part in (*drop.feed, *drop.return_) if part.element in index_of}
            for state in physics.points
            for drop in physics.drops_in(state, Case.WEAK)
        ]

    def _is_confirmed(self, key: Key, cut: Cut, alone: dict[int, bool]) -> bool:
        """Whether the finding behind a cut stands with its wires as they were, and all others thinnest or thickest."""
        if all(alone[at] for at in cut.beyond):
            return not cut.is_thinner
        if not self._may_try:
            return False
        corners = self._corners(tuple(cut.beyond))
        tried = [tuple(cut.beyond.get(at, size) for at, size in enumerate(each)) for each in corners]
        return all(key in self._standing(each) for each in tried)


def _stricter(one: Budget, other: Budget) -> Budget:
    """A budget with the more of what either takes, and the less of what either leaves."""
    if one.takes.keys() != other.takes.keys():
        return other
    takes = {at: tuple(map(max, own, other.takes[at])) for at, own in one.takes.items()}
    return Budget(takes, min(one.most, other.most))


def _exceeds(budget: Budget, sizes: Sizes) -> bool:
    return math.fsum(takes[sizes[at]] for at, takes in budget.takes.items()) > budget.most
