"""How long and how often an output is pulsed, with where that comes from."""

from collections.abc import Iterable

from harnessgen.bench.setup.load_figures import LoadFigures
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import common_practice

IDLE_RPM = 600.0
"""Engine speed whose pulses the test imitates (common practice, no source)."""
BURST_PULSES = 10
"""Pulses at a time on an injector that runs dry (common practice, no source)."""
HOLD_S = 2.0
"""Longest that an output is held on by hand (common practice, no source)."""
MOST_HELD_W = 25.0
"""Most power of one coil that is held on for that long; above it are coils made for short pulses (common practice, no
source)."""
REST_S = 30.0
"""Rest between bursts (common practice, no source)."""
SETTLING_CONSTANTS = 5.0
"""Time constants of a coil after which its current is within 1 % of its final value."""
STEP_MS = 5.0
LEAST_ON_MS = 10.0
"""Shortest pulse that a hand-held tester gives and an ear tells (common practice, no source)."""


def pulse_period(rpm: float = IDLE_RPM) -> Evaluated:
    """Time from pulse to pulse, in ms: one four-stroke cycle, which is two turns of the crankshaft.

    Raises:
        ValueError: the engine does not turn.
    """
    if not rpm > 0:
        raise ValueError(f"an engine at {rpm} rpm has no cycle")
    inputs = (
        Input("k", "milliseconds in a minute, times two turns", 120000.0, "ms"),
        Input("rpm", "engine speed", rpm, "1/min"),
    )
    return evaluated("time from pulse to pulse", "k / rpm", inputs, "ms", common_practice("four-stroke cycle"))


def on_time(loads: Iterable[LoadFigures]) -> Evaluated | None:
    """Time in ms that the slowest coil takes to come to its steady current; None where no inductance is known."""
    coils = [(load.inductance_h / load.ohm.lowest, load) for load in loads if load.inductance_h is not None]
    if not coils:
        return None
    _, slowest = max(coils, key=lambda each: each[0])
    inputs = (
        Input("n", "time constants", SETTLING_CONSTANTS, "1"),
        Input("L", f"inductance of {slowest.name}", slowest.inductance_h or 0.0, "H"),
        Input("R", f"lowest resistance of {slowest.name}", slowest.ohm.lowest, "ohm"),
    )
    return evaluated("time on", "1000 * n * L / R", inputs, "ms", common_practice("a coil's current after 5 L/R"))


def on_time_ms(loads: Iterable[LoadFigures]) -> float:
    """Time on of one pulse, in ms: the settling time rounded up to a step, and long enough to be told."""
    settling = on_time(loads)
    rounded = -(-settling.result // STEP_MS) * STEP_MS if settling is not None else 0.0
    return max(rounded, LEAST_ON_MS)
