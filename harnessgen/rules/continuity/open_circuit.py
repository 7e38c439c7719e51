"""A load or a relay's coil that gets current in no declared state."""

from collections.abc import Iterable, Mapping

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.conduction import Conduction
from harnessgen.network.electrical import ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.rules.cavity.reported_ends import told_ends
from harnessgen.rules.continuity import short_circuit
from harnessgen.rules.continuity.dead_load import DeadLoad, dead_loads
from harnessgen.rules.continuity.loops import closures
from harnessgen.rules.continuity.missing_ground import ungrounded

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


def told_elsewhere(network: Network, names: Iterable[str]) -> set[str]:
    """Those of `names` that have no ground, or of which a side without supply and ground ends at a told cavity.

    The cavity is one that `mate-mismatch` or `orphan-cavity` tells, or the ground terminal of a driver that
    `missing-ground` tells. The side is followed with everything closed.
    """
    dead = set(names)
    if not dead:
        return set()
    ends, groundless = _told(network)
    ways = network.ways
    told = dead & groundless
    for element in network.electrical.elements:
        if element.device is None or element.device.name not in dead or not element.kind.does_work:
            continue
        if any(_hangs_at(ways, node, ends) for node in (element.a, element.b)):
            told.add(element.device.name)
    return told


def _told(network: Network) -> tuple[set[str], set[str]]:
    """Nodes at which a told way ends, and the names of loads and coils that are told to have no ground."""
    ends = told_ends(network)
    groundless: set[str] = set()
    for element, _ in ungrounded(network):
        if element.kind is ElementKind.DRIVER:
            ends.add(element.b)
        elif element.device is not None:
            groundless.add(element.device.name)
    return ends, groundless


def _hangs_at(ways: Conduction, node: str, ends: set[str]) -> bool:
    reached = ways.part(node)
    return not any(each in ways.supplies or each in ways.grounds for each in reached) and not ends.isdisjoint(reached)
