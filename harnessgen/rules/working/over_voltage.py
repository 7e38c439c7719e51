"""A load or a relay's coil that gets more volts than it stands."""

from collections.abc import Iterator

from harnessgen.design.records.device import Load, Relay
from harnessgen.evidence.finding import Finding, NotExamined, Number, Severity, at_most, derived, worst_first
from harnessgen.network.electrical import Element
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.working import load_elements, volt_figures, volts_across, volts_derivation

RULE = "over-voltage"

_ORDINARY_V = 18.0
"""Volts that everything in a 12 V system stands (ISO 16750-2:2012, 4.3.1, from memory)."""


def check(physics: Physics) -> list[Finding]:
    """One finding for each load or coil, in the state that gives it most; a state with a short is left out."""
    return worst_first(_overfed(physics))


def gaps(physics: Physics) -> Iterator[NotExamined]:
    """What gets more than a 12 V system ever gives, and does not say what it stands."""
    most: dict[str, float] = {}
    for device, volts, _, _ in _fed(physics):
        if volt_figures(physics.network, device).highest is None and volts > max(
            _ORDINARY_V, most.get(device.name, 0.0)
        ):
            most[device.name] = volts
    for name, volts in most.items():
        yield NotExamined(RULE, f"{name} gets {volts:.3g} V, and nothing says what it stands", name)


def _overfed(physics: Physics) -> Iterator[tuple[float, Finding]]:
    for device, volts, state, elements in _fed(physics):
        stands = volt_figures(physics.network, device).highest
        if stands is None or volts <= stands.volts * (1.0 + 1e-9):
            continue
        said = f"The coil of {device.name}" if isinstance(device, Relay) else device.name
        numbers = (
            derived(
                "gets",
                volts_derivation(physics, elements, state, Case.STRONG),
                f"in state {state}, {Case.STRONG.value}",
            ),
            Number("stands", stands.volts, "V", str(stands.source)),
        )
        message = f"{said} gets more volts than it stands in state {state}."
        place = device.where("highest_v") if device.highest_v is not None else device.place
        deciding = at_most(*numbers, is_set=device.highest_v is not None)
        yield (
            volts,
            Finding(RULE, Severity.ERROR, device.name, place, message, numbers, state=state, deciding=deciding),
        )


def _fed(physics: Physics) -> Iterator[tuple[Load | Relay, float, str, tuple[Element, ...]]]:
    """Each load and coil with the volts across it, either way round, in each state without a short; its elements."""
    states = [name for name in physics.network.design.states if name not in physics.shorted]
    for elements in load_elements(physics.network).values():
        device = elements[0].device
        if isinstance(device, Load | Relay):
            for state in states:
                yield device, abs(volts_across(physics, elements, state, Case.STRONG)), state, elements
