"""A relay that neither holds nor falls off for good."""

from collections.abc import Iterator

from harnessgen.design.records.device import Relay
from harnessgen.evidence.finding import Finding, Number, Severity, worst_first
from harnessgen.physics.electrical.operating_point import OperatingPoint
from harnessgen.physics.physics import Physics
from harnessgen.rules.continuity.conduction import restless

RULE = "relay-unsettled"


def check(physics: Physics) -> list[Finding]:
    """One finding for each relay without rest, in the first state that has it so.

    A state with a short is left out: its voltages are the short's, which is a finding of its own.
    """
    found: list[tuple[float, Finding]] = []
    for name, point in physics.points.items():
        if not point.is_at_rest and name not in physics.shorted:
            found += ((0.0, finding) for finding in _without_rest(physics, name, point))
    return worst_first(found)


def _without_rest(physics: Physics, state: str, point: OperatingPoint) -> Iterator[Finding]:
    """Relays whose coil, where the search for rest was given up, calls for the other position."""
    network = physics.network
    for coil in restless(network, point):
        assert isinstance(coil.device, Relay)
        part = network.parts.relays[coil.device.part]
        name = coil.device.name
        position = "pulled in" if name in point.pulled_in else "fallen off"
        yield Finding(
            RULE,
            Severity.ERROR,
            name,
            coil.device.place,
            f"{name} neither holds nor falls off for good in state {state}.",
            (
                Number("coil gets", abs(point.across(coil)), "V", f"once it has {position}"),
                Number("pulls in at", part.pull_in_v.value, "V", str(part.publication)),
            ),
            state=state,
        )
