"""What a fuse carries after everything of a state is switched on at once: cold lamps and motors at rest, fading away.

The current above the running one fades exponentially, by the limit `lamp-warm-up`, and by a motor's `run-up` or the
limit `motor-run-up`. Coils only rise to their running current. A fuse heats by squares: up to any moment it has seen
the RMS current since the start, which must not open it as soon as that.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from harnessgen.design.checks.consistency import kind_of
from harnessgen.design.limits.table import Limit, limit
from harnessgen.design.records.device import Load
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import quantised
from harnessgen.network.electrical import ElementKind
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.operating_point import OperatingPoint, solved
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection.fuse_curve import FuseCurve
from harnessgen.physics.states.conditions import state_conditions

SOURCE = common_practice("inrush that fades exponentially, judged by its RMS current since the start")
_SEEN_A = 0.01
_TIMES_S = tuple(10.0 ** (exponent / 10.0) for exponent in range(-30, 21))
"""Moments from 1 ms to 100 s at which the RMS current is held against the fuse."""


@frozen
class Inrush:
    """Current through a fuse after a start: running, and what lamps and motors take beyond it at first, in A.

    `run_up` is the longest run-up of the motors behind the fuse, and where it comes from.
    `lasts_s` is how long a held motor that the state itself declares goes on; `inf` for a running state.
    """

    fuse: str
    state: str
    run_a: float
    lamps_a: float
    motors_a: float
    lamp_s: float
    run_up: Limit
    lasts_s: float = math.inf

    @property
    def motor_s(self) -> float:
        """Time in which what motors take at rest fades."""
        return self.run_up.value.value

    @property
    def first_a(self) -> float:
        """Current at the very start."""
        return self.run_a + self.lamps_a + self.motors_a

    def rms_derivation(self, time_s: float) -> Evaluated:
        """Where the RMS current from the start up to a time comes from."""
        inputs = (
            Input("i", "running current", self.run_a, "A"),
            Input("l", "beyond it by cold lamps", self.lamps_a, "A"),
            Input("m", "beyond it by motors at rest", self.motors_a, "A"),
            Input("a", "time in which lamps warm up", self.lamp_s, "s"),
            Input("b", "time in which motors run up", self.motor_s, "s", self.run_up.source),
            Input("t", "time since the start", time_s, "s"),
        )
        cross = "2 * l * m * a * b / (a + b) * (1 - exp(-t / a - t / b))"
        linear = "2 * i * (l * a * (1 - exp(-t / a)) + m * b * (1 - exp(-t / b)))"
        square = "l**2 * a / 2 * (1 - exp(-2 * t / a)) + m**2 * b / 2 * (1 - exp(-2 * t / b))"
        formula = f"sqrt(i**2 + ({linear} + {square} + {cross}) / t)"
        return evaluated(f"RMS current of {self.fuse} since the start", formula, inputs, "A", SOURCE)

    def rms_a(self, time_s: float) -> float:
        """RMS current from the start up to a time."""
        i, lamps, motors, a, b, t = self.run_a, self.lamps_a, self.motors_a, self.lamp_s, self.motor_s, time_s
        linear = 2.0 * i * (lamps * a * -math.expm1(-t / a) + motors * b * -math.expm1(-t / b))
        square = lamps**2 * a / 2.0 * -math.expm1(-2.0 * t / a) + motors**2 * b / 2.0 * -math.expm1(-2.0 * t / b)
        cross = 2.0 * lamps * motors * a * b / (a + b) * -math.expm1(-t / a - t / b)
        return math.sqrt(i**2 + (linear + square + cross) / t)

    def worst(self, curve: FuseCurve) -> tuple[float, float, float]:
        """Where the fuse is nearest to opening: its shortest opening time over the moment, the moment, the RMS."""
        times = [time for time in _TIMES_S if time < self.lasts_s]
        times += [self.lasts_s] if math.isfinite(self.lasts_s) else []
        rows = ((time, self.rms_a(time)) for time in times)
        return min(((curve.shortest_s(rms) / time, time, rms) for time, rms in rows), key=lambda row: quantised(row[0]))


def inrushes(physics: Physics, fuses: frozenset[str]) -> Iterator[Inrush]:
    """Each fuse's inrush in each state in which it has one, at the highest supply and everything cold."""
    design = physics.network.design
    lamp_s = limit("lamp-warm-up", design.limits).value.value
    kinds = {name: kind_of(each, physics.network.parts) for name, each in design.loads.items()}
    for name, state in design.states.items():
        if name in physics.shorted:
            continue
        run = physics.point_in(name, Case.STRONG)
        if state.stalled:
            # The state says itself what stands still; without a time for it nobody says how long a fuse has to hold.
            if state.lasts_s is not None:
                for fuse in sorted(fuses):
                    held_a = abs(run.amperes[fuse])
                    usual = limit("motor-run-up", design.limits)
                    yield Inrush(fuse, name, held_a, 0.0, 0.0, lamp_s, usual, state.lasts_s.value)
            continue
        # A filament does not stay cold: its inrush fades in a state that lists it too.
        run = _at_start(physics, name, run, (), ()) if state.cold else run
        lamps, motors = (_working(physics, run, kinds, kind) for kind in ("lamp", "motor"))
        cold = _at_start(physics, name, run, lamps, ()) if lamps else run
        still = _at_start(physics, name, run, (), motors) if motors else run
        runs_up = _run_ups(physics, name, run, motors)
        for fuse in sorted(fuses):
            now, with_lamps, with_motors = (abs(each.amperes[fuse]) for each in (run, cold, still))
            if max(with_lamps, with_motors) > now > 0.0:
                lamps_a, motors_a = max(with_lamps - now, 0), max(with_motors - now, 0)
                yield Inrush(fuse, name, now, lamps_a, motors_a, lamp_s, runs_up(fuse))


def run_up(physics: Physics, motor: str) -> Limit:
    """Time in which a motor runs up, and where it comes from: its own, its family's, or by the limit."""
    design = physics.network.design
    load, usual = design.loads[motor], limit("motor-run-up", design.limits)
    family = physics.network.parts.loads.get(load.part)
    if load.run_up_s is not None:
        return Limit("run-up", load.run_up_s, "s", Publication(f"set in the design, {load.where('run_up_s')}"))
    if family is not None and family.run_up_s is not None:
        return Limit("run-up", family.run_up_s, "s", family.publication)
    return usual


def _run_ups(physics: Physics, state: str, run: OperatingPoint, motors: tuple[str, ...]) -> Callable[[str], Limit]:
    """By fuse, the longest run-up of the motors whose start it sees."""
    usual = limit("motor-run-up", physics.network.design.limits)
    each = {motor: run_up(physics, motor) for motor in motors}
    if all(found == usual for found in each.values()):
        return lambda fuse: usual
    starts = {motor: _at_start(physics, state, run, (), (motor,)) for motor in motors}

    def of(fuse: str) -> Limit:
        seen = [each[name] for name, start in starts.items() if _grows(fuse, run, start)]
        return max(seen, default=usual, key=lambda found: found.value.value)

    return of


def _grows(fuse: str, run: OperatingPoint, start: OperatingPoint) -> bool:
    return abs(start.amperes[fuse]) > abs(run.amperes[fuse]) + _SEEN_A


def _working(physics: Physics, run: OperatingPoint, kinds: dict[str, str], kind: str) -> tuple[str, ...]:
    loads = (each for each in physics.network.electrical.elements if each.kind is ElementKind.LOAD)
    return tuple(
        each.device.name
        for each in loads
        if isinstance(each.device, Load) and kinds[each.device.name] == kind and abs(run.amperes[each.name]) > 1e-3
    )


def _at_start(
    physics: Physics, name: str, run: OperatingPoint, cold: tuple[str, ...], stalled: tuple[str, ...]
) -> OperatingPoint:
    state = replace(physics.network.design.states[name], cold=cold, stalled=stalled)
    ohms = physics.ohms_in(Case.STRONG)
    given = state_conditions(physics.network, Case.STRONG, ohms, name, frozenset(state.on), state)
    return solved(physics.network, given, run.pulled_in)
