"""What stands against a design once its wires have other sizes: every rule is examined on the changed network."""

from collections.abc import Collection, Mapping, Sequence

from harnessgen.design.records.state import Acceptance
from harnessgen.evidence.finding import Finding, Severity
from harnessgen.evidence.rule import Rule
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.remedies.sizing.resized_network import sized_network
from harnessgen.rules.acceptance import UNNEEDED
from harnessgen.rules.examine import examine
from harnessgen.rules.records import RULES

# A note is never against a design, so the rules that only make notes need not be asked.
_RULES = tuple(rule for rule in RULES if rule.severity is not Severity.NOTE)

_KEPT_VERDICTS = 4

Sizes = tuple[int, ...]
"""For each wire in the order of the network, the index of its size among those of its family."""

Key = tuple[str, str]
"""A finding by its rule and one of its subjects."""


@frozen
class Verdict:
    """What stands with certain sizes: each open error and warning by rule and subject, and the physics behind it."""

    sizes: Sizes
    network: Network
    physics: Physics
    standing: Mapping[Key, Finding]


class Trials:
    """Runs the rules on a network with other sizes; `count` is how often it did, all of them or some.

    What stands is kept for all sizes that were tried, the physics behind it for the last ones alone.
    """

    def __init__(
        self, network: Network, shelves: Sequence[Sequence[ConductorSize]], acceptances: Sequence[Acceptance]
    ) -> None:
        self.network = network
        self.shelves = shelves
        self.acceptances = acceptances
        self.count = 0
        self._standing: dict[Sizes, Mapping[Key, Finding]] = {}
        self._in_part: dict[Sizes, dict[str, frozenset[Key]]] = {}
        self._last: dict[Sizes, Verdict] = {}

    def run(self, sizes: Sizes) -> Verdict:
        """The verdict on these sizes.

        Raises:
            RuleCrash: a check failed by itself.
        """
        if sizes not in self._last:
            self.count += 1
            if len(self._last) == _KEPT_VERDICTS:
                del self._last[next(iter(self._last))]
            self._last[sizes] = self._examined(sizes)
            self._standing[sizes] = self._last[sizes].standing
        return self._last[sizes]

    def standing(self, sizes: Sizes) -> Mapping[Key, Finding]:
        """What stands with these sizes.

        Raises:
            RuleCrash: a check failed by itself.
        """
        return self._standing[sizes] if sizes in self._standing else self.run(sizes).standing

    def standing_of(self, keys: Collection[Key], sizes: Sizes) -> set[Key]:
        """Those of `keys` that stand with these sizes; where nothing is known of them, no other rule is examined.

        Raises:
            RuleCrash: a check failed by itself.
        """
        if sizes in self._standing:
            return {key for key in keys if key in self._standing[sizes]}
        known = self._in_part.setdefault(sizes, {})
        missing = [rule for rule in _RULES if rule.name not in known and any(rule.name == name for name, _ in keys)]
        if missing:
            self.count += 1
            network = self._network(sizes)
            found = self._told(missing, network, Physics(network))
            for rule in missing:
                known[rule.name] = frozenset(key for key in found if key[0] == rule.name)
        return {key for key in keys if key in known.get(key[0], ())}

    def _network(self, sizes: Sizes) -> Network:
        wires = self.network.wires
        chosen = {wire.mark: shelf[index] for wire, shelf, index in zip(wires, self.shelves, sizes, strict=True)}
        return sized_network(self.network, chosen)

    def _examined(self, sizes: Sizes) -> Verdict:
        network = self._network(sizes)
        physics = Physics(network)
        return Verdict(sizes, network, physics, self._told(_RULES, network, physics))

    def _told(self, rules: Sequence[Rule], network: Network, physics: Physics) -> dict[Key, Finding]:
        examination = examine(rules, (), network, physics, self.acceptances, "")
        standing: dict[Key, Finding] = {}
        for finding in examination.findings:
            # That an acceptance has become needless harms nothing, and no note is against a design.
            if finding.accepted is not None or finding.severity is Severity.NOTE or finding.rule == UNNEEDED:
                continue
            for subject in finding.subjects or (finding.subject,):
                standing.setdefault((finding.rule, subject), finding)
        return standing
