"""A load or a relay's coil with a positive terminal that is fed the wrong way round."""

from collections.abc import Iterator

from harnessgen.design.records.device import Load, Relay
from harnessgen.evidence.derivation import Evaluated
from harnessgen.evidence.finding import Finding, Number, Severity, at_most, derived, worst_first
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.working import load_elements, volt_figures, volts_across, volts_derivation

RULE = "reversed-polarity"

BACKWARD_V = 1.0
"""Volts the wrong way round from which it counts: less is the drop of a wire (common practice, no source)."""


def check(physics: Physics) -> list[Finding]:
    """One finding for each such load or coil, in the state with most volts the wrong way; shorts left out."""
    return worst_first(_reversed(physics))


def _reversed(physics: Physics) -> Iterator[tuple[float, Finding]]:
    network = physics.network
    states = [name for name in network.design.states if name not in physics.shorted]
    for elements in load_elements(network).values():
        device = elements[0].device
        positive = volt_figures(network, device).positive if isinstance(device, Load | Relay) else ""
        if not positive or not isinstance(device, Load | Relay):
            continue
        forward = 1.0 if positive in ("1", "86") else -1.0
        for state in states:
            backward_v = -forward * volts_across(physics, elements, state, Case.STRONG)
            if backward_v > BACKWARD_V:
                volts = volts_derivation(physics, elements, state, Case.STRONG)
                yield backward_v, _finding(device, positive, state, volts)


def _finding(device: Load | Relay, positive: str, state: str, volts: Evaluated) -> Finding:
    said = f"The coil of {device.name}" if isinstance(device, Relay) else device.name
    place = device.where("positive") if device.positive else device.place
    numbers = (
        derived("wrong way round", volts, f"in state {state}, {Case.STRONG.value}"),
        Number("at most", BACKWARD_V, "V", "drop of a wire; common practice, no source"),
    )
    message = f"{said} is fed the wrong way round in state {state}: terminal {positive} has to be the positive one."
    return Finding(RULE, Severity.ERROR, device.name, place, message, numbers, state=state, deciding=at_most(*numbers))
