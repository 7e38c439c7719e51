"""One circuit number on two nets that nothing joins."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.rules.cavity.mate_mismatch import crossed, lone_halves

RULE = "duplicate-circuit"


def check(network: Network) -> list[Finding]:
    """One finding for each number, at the first wire of the second net."""
    return list(_doubled(network))


def _doubled(network: Network) -> Iterator[Finding]:
    # A circuit that a wrongly filled disconnect tears apart, or that is crossed with another there, is told there.
    torn = {wire.circuit for _, wired, _ in lone_halves(network) for wire in network.wires_at[wired]}
    halves = (half for pair in crossed(network) for mating in pair for half in (mating.a, mating.b))
    torn |= {wire.circuit for half in halves for wire in network.wires_at[half]}
    by_circuit: dict[str, dict[int, Wire]] = {}
    for wire in network.wires:
        by_circuit.setdefault(wire.circuit, {}).setdefault(network.net_of[wire.a.node], wire)
    for circuit, nets in by_circuit.items():
        if len(nets) < 2 or circuit in torn:
            continue
        first, second = list(nets.values())[:2]
        message = (
            f"Circuit {circuit} is on two nets that nothing joins: {first.mark} from {first.a} to {first.b},"
            f" and {second.mark} from {second.a} to {second.b}."
        )
        see = ((first.place, f"{first.mark} is written here"),)
        mend = "give one of the two a number of its own"
        yield Finding(RULE, Severity.ERROR, circuit, second.place, message, mend=mend, see=see)
