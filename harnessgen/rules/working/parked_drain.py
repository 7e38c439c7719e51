"""A relay's coil that draws current while the vehicle stands parked."""

from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.network.electrical import ElementKind
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
                Number("draws", ampere, "A", f"in state {state.name}", 4),
                Number("at most", DRAIN_A, "A", "common practice, no source", 4),
            )
            see = ((state.place, f"{state.name} is declared as parked here"),)
            findings.append(Finding(RULE, Severity.ERROR, name, coil.device.place, message, numbers, see=see))
    return findings
