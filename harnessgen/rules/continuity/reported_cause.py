"""Loads and coils that are dead for want of a wire or a ground which another rule tells."""

from collections.abc import Iterable

from harnessgen.network.conduction import Conduction
from harnessgen.network.electrical import ElementKind
from harnessgen.network.network import Network
from harnessgen.rules.cavity.reported_ends import told_ends
from harnessgen.rules.continuity.missing_ground import ungrounded


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
