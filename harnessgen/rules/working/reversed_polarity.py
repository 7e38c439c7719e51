"""A load or a relay's coil with a positive terminal that is fed the wrong way round."""

from collections.abc import Iterator

from harnessgen.design.records.device import Load, Relay
from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.working import load_elements, volt_figures, volts_across

RULE = "reversed-polarity"

BACKWARD_V = 1.0
"""Volts the wrong way round from which it counts: less is the drop of a wire (common practice, no source)."""


def check(physics: Physics) -> list[Finding]:
    """One finding for each such load or coil, in the state with most volts the wrong way; shorts left out."""
    return list(_reversed(physics))


def _reversed(physics: Physics) -> Iterator[Finding]:
    network = physics.network
    states = [name for name in network.design.states if name not in physics.shorted]
    for elements in load_elements(network).values() if states else ():
        device = elements[0].device
        positive = volt_figures(network, device).positive if isinstance(device, Load | Relay) else ""
        if not positive or not isinstance(device, Load | Relay):
            continue
        forward = 1.0 if positive in ("1", "86") else -1.0
        volts = {name: forward * volts_across(physics, elements, name, Case.STRONG) for name in states}
        worst = min(states, key=lambda each: volts[each])
        if volts[worst] > -BACKWARD_V:
            continue
        said = f"The coil of {device.name}" if isinstance(device, Relay) else device.name
        place = device.where("positive") if device.positive else device.place
        numbers = (Number(f"at terminal {positive}", volts[worst], "V", f"against its other end, in state {worst}"),)
        message = (
            f"{said} is fed the wrong way round in state {worst}: its terminal {positive} has to be the positive one."
        )
        yield Finding(RULE, Severity.ERROR, device.name, place, message, numbers)
