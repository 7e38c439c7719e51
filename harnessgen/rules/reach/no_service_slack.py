"""A crimped end of a wire without the spare length for the re-terminations that are asked for."""

from collections.abc import Iterator

from harnessgen.design.limits.table import limit
from harnessgen.evidence.finding import Finding, Number, Severity, at_least
from harnessgen.lengths.wire_length_terms import service_loops
from harnessgen.measures.quantity import plain_number
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.physics.physics import Physics
from harnessgen.rules.wording.places import end_place

RULE = "no-service-slack"


def check(physics: Physics) -> list[Finding]:
    """One finding for each crimped end with less spare length than its re-terminations take."""
    return list(_ends(physics))


def _ends(physics: Physics) -> Iterator[Finding]:
    for wire in physics.network.wires:
        asked = limit("least-reterminations", wire.limits, physics.network.design.limits)
        if not asked.value.value:
            continue
        for end in wire.ends:
            if end.kind is not EndKind.SPLICE:
                yield from _end(physics, wire, end, asked.value.value, str(asked.source))


def _end(physics: Physics, wire: Wire, end: WireEnd, asked: float, source: str) -> Iterator[Finding]:
    count, each_mm = service_loops(physics.network, wire, end)
    needed_mm = asked * each_mm
    # Slack of the circuit lies where it is wanted, and either end can draw on it.
    spare_mm = count * each_mm + wire.slack_mm.value
    if spare_mm >= needed_mm:
        return
    spare = f"{plain_number(count)} service loops and {plain_number(wire.slack_mm.value)} mm of slack"
    numbers = (
        Number("asked", needed_mm, "mm", f"{plain_number(asked)} times {plain_number(each_mm)} mm; {source}", 1),
        Number("spare", spare_mm, "mm", spare, 1),
    )
    yield Finding(
        RULE,
        Severity.WARNING,
        end.node,
        end_place(physics.network.design, wire, end),
        f"Wire {wire.mark} cannot be crimped anew at {end} as often as is asked for.",
        numbers,
        deciding=at_least(*numbers[::-1]),
    )
