"""A load or a relay's coil that gets more volts than it stands."""

from collections.abc import Iterator

from harnessgen.design.records.device import Load, Relay
from harnessgen.evidence.finding import Finding, NotExamined, Number, Severity
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.working import load_elements, volt_figures, volts_across

RULE = "over-voltage"

_ORDINARY_V = 18.0
"""Volts that everything in a 12 V system stands (ISO 16750-2:2012, 4.3.1, from memory)."""


def check(physics: Physics) -> list[Finding]:
    """One finding for each load or coil, in the state that gives it most; a state with a short is left out."""
    return list(_overfed(physics))


def gaps(physics: Physics) -> Iterator[NotExamined]:
    """What gets more than a 12 V system ever gives, and does not say what it stands."""
    for device, volts, _ in _highest(physics):
        if volt_figures(physics.network, device).highest is None and volts > _ORDINARY_V:
            yield NotExamined(RULE, f"{device.name} gets {volts:.3g} V, and nothing says what it stands", device.name)


def _overfed(physics: Physics) -> Iterator[Finding]:
    for device, volts, state in _highest(physics):
        stands = volt_figures(physics.network, device).highest
        if stands is None or volts <= stands.volts * (1.0 + 1e-9):
            continue
        said = f"The coil of {device.name}" if isinstance(device, Relay) else device.name
        numbers = (
            Number("gets", volts, "V", f"in state {state}, {Case.STRONG.value}"),
            Number("stands", stands.volts, "V", str(stands.source)),
        )
        message = f"{said} gets more volts than it stands in state {state}."
        place = device.where("highest_v") if device.highest_v is not None else device.place
        yield Finding(RULE, Severity.ERROR, device.name, place, message, numbers)


def _highest(physics: Physics) -> Iterator[tuple[Load | Relay, float, str]]:
    """Each load and coil with the highest volts across it, and the state that gives them."""
    states = [name for name in physics.network.design.states if name not in physics.shorted]
    for elements in load_elements(physics.network).values() if states else ():
        device = elements[0].device
        if isinstance(device, Load | Relay):
            volts = {name: abs(volts_across(physics, elements, name, Case.STRONG)) for name in states}
            most = max(states, key=lambda each: volts[each])
            yield device, volts[most], most
