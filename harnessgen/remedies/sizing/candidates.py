"""The sizes that the wires of a design can take: what each weighs, which it can have by itself, and what stands."""

from collections.abc import Sequence
from functools import cached_property

from harnessgen.design.records.state import Acceptance
from harnessgen.evidence.derivation import Evaluated
from harnessgen.evidence.finding import Finding
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.remedies.sizing.resized_network import copper_mass, figures_of, shelf_sizes, sized_network
from harnessgen.remedies.sizing.trial import Key, Sizes, Trials, Verdict
from harnessgen.rules.acceptance import with_acceptances
from harnessgen.rules.cavity import seal_misfit, terminal_misfit
from harnessgen.rules.loading import wire_too_small

_OF_ITSELF = (wire_too_small, terminal_misfit, seal_misfit)


class Space:
    """All choices of sizes. `known` is what is held against none of them: it stands whatever they are."""

    def __init__(self, network: Network, acceptances: Sequence[Acceptance], most_trials: int) -> None:
        self.wires: tuple[Wire, ...] = network.wires
        self.shelves = [shelf_sizes(wire) for wire in network.wires]
        self.trials = Trials(network, self.shelves, acceptances)
        self.most_trials = most_trials
        self.known: frozenset[Key] = frozenset()
        lengths = Physics(network).lengths
        self.copper: list[list[Evaluated]] = [
            [copper_mass(wire.mark, figures_of(wire, size).area_mm2.value, lengths[wire.mark].cut_mm) for size in own]
            for wire, own in zip(self.wires, self.shelves, strict=True)
        ]
        self.masses_g = [[each.result for each in own] for own in self.copper]
        self.now: Sizes = tuple(own.index(wire.size) for wire, own in zip(self.wires, self.shelves, strict=True))
        self.allowed, self.ohms = self._allowed(network, acceptances)
        self.low: Sizes = tuple(own[0] for own in self.allowed)
        self.high: Sizes = tuple(own[-1] for own in self.allowed)

    def _allowed(
        self, network: Network, acceptances: Sequence[Acceptance]
    ) -> tuple[list[list[int]], list[dict[str, float]]]:
        """For each wire the sizes that it can have by itself; and the hot ohms of every wire in every size, by mark."""
        skipped = {each.rule for each in acceptances}
        allowed: list[list[int]] = [[] for _ in self.wires]
        ohms: list[dict[str, float]] = []
        for index in range(max(map(len, self.shelves), default=0)):
            sizes = [own[min(index, len(own) - 1)] for own in self.shelves]
            tried = sized_network(network, {wire.mark: size for wire, size in zip(self.wires, sizes, strict=True)})
            ohms.append(dict(Physics(tried).ohms_in(Case.WEAK)))
            told = {
                subject
                for rule in _OF_ITSELF
                for finding in with_acceptances(rule.check(tried), acceptances, (), skipped)
                if finding.accepted is None and finding.rule == rule.RULE
                for subject in finding.subjects or (finding.subject,)
            }
            for at, (wire, own) in enumerate(zip(self.wires, self.shelves, strict=True)):
                if index < len(own) and wire.mark not in told and not wire.run.is_cut_measured:
                    allowed[at].append(index)
        return [own or [now] for own, now in zip(allowed, self.now, strict=True)], ohms

    @property
    def clipped(self) -> Sizes:
        """The sizes of the design, or the nearest that a wire can have by itself."""
        return tuple(
            now if now in own else min(own, key=lambda each: abs(each - now))
            for now, own in zip(self.now, self.allowed, strict=True)
        )

    @cached_property
    def thickest(self) -> Verdict:
        """What stands with every wire at its thickest, where the most current flows."""
        return self.trials.run(self.high)

    @property
    def may_try(self) -> bool:
        """Whether trials are left."""
        return self.trials.count < self.most_trials

    def standing(self, sizes: Sizes) -> dict[Key, Finding]:
        """What stands against these sizes, beyond what stands whatever they are.

        Raises:
            RuleCrash: a check failed by itself.
        """
        return {key: finding for key, finding in self.trials.standing(sizes).items() if key not in self.known}

    def one_down(self, sizes: Sizes, at: int) -> Sizes | None:
        """One wire one size down, as far as it may be asked; None at the foot of its shelf."""
        if sizes[at] == 0 or self.wires[at].run.is_cut_measured:
            return None
        return exchanged(sizes, at, sizes[at] - 1)


def exchanged(sizes: Sizes, at: int, size: int) -> Sizes:
    """These sizes with another one for one wire."""
    return (*sizes[:at], size, *sizes[at + 1 :])
