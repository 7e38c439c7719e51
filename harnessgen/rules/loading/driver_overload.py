"""A driver that carries more than it may, or whose clamp takes more than it may."""

from harnessgen.evidence.finding import Finding, Number, Severity, at_most, worst_first
from harnessgen.measures.quantity import plain_number
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.driver_stress import DriverStress, Excess

RULE = "driver-overload"

_FIELD_OF = {
    "highest current": "current_a",
    "RMS current": "current_a",
    "peak current": "peak_current_a",
    "energy in its clamp per pulse": "clamp_energy_j",
    "power in its clamp": "clamp_power_w",
}


def check(physics: Physics) -> list[Finding]:
    """One finding for each limit of a driver that a state exceeds, in the state that exceeds it most."""
    found: dict[tuple[str, str], list[tuple[float, Finding]]] = {}
    for state, stresses in physics.driver_stresses.items():
        if state in physics.shorted:
            continue
        for stress in stresses:
            for excess in stress.excesses:
                own = found.setdefault((stress.driver.name, excess.what), [])
                own.append((excess.value, _finding(stress, excess)))
    return [finding for own in found.values() for finding in worst_first(own)]


def _finding(stress: DriverStress, excess: Excess) -> Finding:
    driver = stress.driver
    is_clamp = excess.unit != "A"
    case = stress.current.peak_case if excess.what != "RMS current" else stress.current.case
    where = f"in state {stress.state}" if is_clamp else f"in state {stress.state}, {case.value}"
    # A clamp's figures are small: millijoules.
    scale, unit = (1000.0, "mJ") if excess.unit == "J" else (1.0, excess.unit)
    needed = plain_number(scale * excess.value)
    mend = f"use an output that stands {needed} {unit}, or share what it drives with another output"
    said = f"The clamp of {driver.name} takes" if is_clamp else f"{driver.name} carries"
    numbers = (
        Number(excess.what, scale * excess.value, unit, where),
        Number("at most", scale * excess.allowed, unit, "as the design says"),
    )
    return Finding(
        RULE,
        Severity.ERROR,
        driver.name,
        driver.where(_FIELD_OF[excess.what]),
        f"{said} more than it may.",
        numbers,
        mend=mend,
        deciding=at_most(*numbers),
        state=stress.state,
    )
