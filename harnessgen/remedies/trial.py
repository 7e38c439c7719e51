"""What stands against a design once its wires have other sizes: every rule is examined on the changed network."""

from collections.abc import Mapping, Sequence

from harnessgen.design.state import Acceptance
from harnessgen.evidence.finding import Finding, Severity
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.remedies.sized import sized_network
from harnessgen.rules.examine import UNNEEDED, examine
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
    """Runs the rules on a network with other sizes; `count` is how often it did.

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

    def _examined(self, sizes: Sizes) -> Verdict:
        wires = self.network.wires
        chosen = {wire.mark: shelf[index] for wire, shelf, index in zip(wires, self.shelves, sizes, strict=True)}
        network = sized_network(self.network, chosen)
        physics = Physics(network)
        examination = examine(_RULES, (), network, physics, self.acceptances, "")
        standing: dict[Key, Finding] = {}
        for finding in examination.findings:
            # That an acceptance has become needless harms nothing, and no note is against a design.
            if finding.accepted is not None or finding.severity is Severity.NOTE or finding.rule == UNNEEDED:
                continue
            for subject in finding.subjects or (finding.subject,):
                standing.setdefault((finding.rule, subject), finding)
        return Verdict(sizes, network, physics, standing)
