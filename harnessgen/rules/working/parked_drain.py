"""A relay's coil that draws current while the vehicle stands parked."""

from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.finding import Finding, Number, Severity, at_most, derived
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.kirchhoff import VOLTAGE_LAW
from harnessgen.physics.physics import Physics

RULE = "parked-drain"

DRAIN_A = 0.005
"""Current of a coil from which it counts: what leaks through an input is less (common practice, no source)."""


def check(physics: Physics) -> list[Finding]:
    """One finding for each coil and parked state; a state with a short is left out."""
    network = physics.network
    coils = [each for each in network.electrical.elements if each.kind is ElementKind.COIL]
    findings: list[Finding] = []
    for state in network.design.states.values():
        if not state.is_parked or state.name in physics.shorted:
            continue
        for coil in coils:
            ampere = abs(physics.points[state.name].amperes[coil.name])
            if ampere < DRAIN_A or coil.device is None:
                continue
            name = coil.device.name
            hold = " and the relay is closed" if name in physics.points[state.name].pulled_in else ""
            message = f"The coil of {name} draws current in {state.name}, while the vehicle is parked{hold}."
            numbers = (
                derived("draws", _current(physics, coil, state.name), f"in state {state.name}", 4),
                Number("at most", DRAIN_A, "A", "common practice, no source", 4),
            )
            see = ((state.place, f"{state.name} is declared as parked here"),)
            findings.append(
                Finding(
                    RULE,
                    Severity.ERROR,
                    name,
                    coil.device.place,
                    message,
                    numbers,
                    see=see,
                    state=state.name,
                    deciding=at_most(*numbers, is_set=True),
                )
            )
    return findings


def _current(physics: Physics, coil: Element, state: str) -> Evaluated:
    """Current of a coil in a state, in A: its volts over its resistance."""
    inputs = (
        Input("U", f"volts across {coil.name}", abs(physics.points[state].across(coil)), "V", VOLTAGE_LAW),
        Input("R", f"resistance of {coil.name}", physics.ohms_in(Case.STATED)[coil.name], "ohm"),
    )
    return evaluated(f"current of {coil.name} in {state}", "U / R", inputs, "A", VOLTAGE_LAW)
