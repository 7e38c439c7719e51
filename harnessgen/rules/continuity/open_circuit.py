"""A load or a relay's coil that gets current in no declared state."""

from collections.abc import Mapping

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.physics.physics import Physics
from harnessgen.rules.continuity import short_circuit
from harnessgen.rules.continuity.dead_load import DeadLoad, dead_loads
from harnessgen.rules.continuity.loops import closures
from harnessgen.rules.continuity.reported_cause import told_elsewhere

RULE = "open-circuit"


def check(physics: Physics) -> list[Finding]:
    """One finding for each load or coil; what a relay switches is listed with its coil where that gets no current.

    What is dead for want of a wire or a ground that another rule tells is left out, with all that waits for it.
    Where a short stands, only that is told which is dead with the short and would be without it.
    """
    network = physics.network
    electrical = network.electrical
    dead = dead_loads(network, electrical, closures(physics, electrical), has_states=network.design.declares_states)
    if physics.shorted:
        blamed = {finding.subject for finding in short_circuit.check(physics)}
        left = electrical.without(blamed)
        without = dead_loads(network, left, closures(physics, left), has_states=True)
        dead = {name: each for name, each in without.items() if name in dead}
    groups: dict[str, list[str]] = {}
    for name in dead:
        groups.setdefault(_cause(dead, name), []).append(name)
    told = told_elsewhere(network, groups)
    return [_finding(dead[name], name, others) for name, others in groups.items() if name not in told]


def _cause(dead: Mapping[str, DeadLoad], name: str) -> str:
    """The relay without current behind which `name` stands, through any number of relays; else `name` itself."""
    seen = {name}
    while (relay := dead[name].relay) in dead and relay not in seen:
        seen.add(relay)
        name = relay
    return name


def _finding(cause: DeadLoad, name: str, names: list[str]) -> Finding:
    subjects = tuple(dict.fromkeys((name, *names)))
    return Finding(
        RULE,
        Severity.ERROR,
        name,
        cause.place,
        cause.message,
        see=cause.see,
        subjects=subjects if len(subjects) > 1 else (),
        proposals=cause.proposals,
    )
