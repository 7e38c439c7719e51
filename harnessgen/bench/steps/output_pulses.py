"""What to enter in a controller's output test: from pulse to pulse, on, how many; and what it asks of coil and output.

The pulses follow an engine speed, so that the output works as it would on the road. Currents are those of the coldest
coils at the highest supply, solved as any state with pulsed outputs is.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from harnessgen.bench.setup.test_lamp import SEEN_SHARE, Lamp, lamp_of
from harnessgen.bench.steps.cautions import FUEL, HIGH_VOLTAGE, IGNITION_OFF, LIVE_PARTS
from harnessgen.bench.steps.lamp_powered import lamp_on_ms, overload
from harnessgen.bench.steps.output import Output
from harnessgen.bench.steps.pulse import BURST_PULSES, HOLD_S, IDLE_RPM, MOST_HELD_W, on_time_ms, pulse_period
from harnessgen.design.records.device import Load
from harnessgen.design.records.state import Pulse, State
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, Standing, common_practice
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.operating_point import settled
from harnessgen.physics.loads.pulsed_currents import StateCurrents, state_currents
from harnessgen.physics.loads.pulsed_load import PulsedLoad
from harnessgen.physics.states.conditions import state_conditions
from harnessgen.physics.states.driver_stress import DriverStress, clamp_energy

CAUTIONS = (IGNITION_OFF, FUEL, HIGH_VOLTAGE, LIVE_PARTS)
"""What is said wherever outputs are pulsed."""
MOST_DUTY = 0.85
"""Above that share of the time an injector no longer closes for certain between pulses (common practice, no source)."""
COPPER_HEAT = 0.385
_COPPER = Publication(
    "CRC Handbook of Chemistry and Physics", "heat capacity of copper at 25 degC", Standing.FROM_MEMORY
)
_HEAT = common_practice("Joule heat of the coil's RMS current")
_BOUND = common_practice("all heat stays in the copper: the most that it can warm")
_PLAIN = common_practice("four-stroke cycle")


@frozen
class CoilHeat:
    """What one coil takes: peak and RMS current in A, energy of a pulse in J, average power in W, energy of a burst.

    `rise` is the most that its copper warms in a burst, in K; None where its copper is not known.
    """

    load: str
    peak_a: float
    pulse: Evaluated
    power: Evaluated
    burst: Evaluated
    rise: Evaluated | None


@frozen
class PulsePlan:
    """What is entered for one output, with its loads or with a lamp in the place of each: times in ms, speed in 1/min.

    `count` are the pulses of a burst. `coil` is the coil that takes most; None with a lamp, and where no inductance is
    known. `excess` says which limit of output or coil is passed, `longest_ms` the longest time on that keeps all of
    them. With a time on of 0 it is not to be tried.
    """

    output: str
    meanwhile: str
    sees: str
    rpm: float
    period: Evaluated
    on_ms: float
    count: Evaluated
    shows: str
    coil: CoilHeat | None = None
    peak_a: float | None = None
    rms_a: float | None = None
    excess: str = ""
    longest_ms: float | None = None

    @property
    def duty(self) -> float:
        """Share of the time in which the output is on."""
        return self.on_ms / self.period.result

    @property
    def lasts_s(self) -> float:
        """How long the burst lasts, in s."""
        return self.count.result * self.period.result / 1000.0


def speeds_of(outputs: Sequence[Output]) -> tuple[float, ...]:
    """Engine speeds to plan for: idle, and those of the declared states, in 1/min."""
    states = outputs[0].fitted.network.design.states.values() if outputs else ()
    return tuple(sorted({IDLE_RPM, *(each.speed_rpm.value for each in states if each.speed_rpm is not None)}))


def pulse_plans(outputs: Sequence[Output], speeds: Sequence[float], seconds: float = HOLD_S) -> tuple[PulsePlan, ...]:
    """For every output that works coils alone: its pulses at each speed, with its loads and with a lamp.

    Raises:
        ValueError: a speed or the time is not above zero.
    """
    if not seconds > 0:
        raise ValueError(f"a burst cannot last {seconds} s")
    return tuple(
        plan for output in outputs if _is_pulsed(output) for rpm in speeds for plan in _plans(output, rpm, seconds)
    )


def pulse_count(period_ms: float, seconds: float) -> Evaluated:
    """Pulses that fit into so many seconds, at most as many as an injector may run dry."""
    inputs = (
        Input("s", "time that the burst may last", seconds, "s"),
        Input("T", "time from pulse to pulse", period_ms, "ms", _PLAIN),
        Input("n", "most pulses of an injector that runs dry", float(BURST_PULSES), "1", common_practice()),
    )
    return evaluated("pulses of a burst", "max(min(-ceil(-1000 * s / T - 0.000001), n), 1)", inputs, "1", _PLAIN)


def _is_pulsed(output: Output) -> bool:
    return bool(output.figures) and {load.kind for load in output.figures.values()} <= {"coil"}


def _plans(output: Output, rpm: float, seconds: float) -> Iterator[PulsePlan]:
    period = pulse_period(rpm)
    count = pulse_count(period.result, seconds)
    own_ms = min(on_time_ms(output.figures.values()), MOST_DUTY * period.result)
    signs = "; ".join(dict.fromkeys(load.sign for load in output.figures.values()))
    yield _Loaded(output, rpm, period, count).plan(own_ms, signs)
    lamp = lamp_of(output.fitted.network.design.limits)
    refusal = overload(output)
    if refusal:
        yield PulsePlan(
            output.name,
            output.fitted.set_words(output.switches),
            lamp.words,
            rpm,
            period,
            0.0,
            count,
            "not to be tried",
            excess=refusal,
        )
    else:
        on_ms = lamp_on_ms(lamp, output.fitted.supply_v / lamp.volts)
        on_ms = min(on_ms, MOST_DUTY * period.result)
        yield PulsePlan(
            output.name,
            output.fitted.set_words(output.switches),
            lamp.words,
            rpm,
            period,
            on_ms,
            count,
            _light(output, lamp, on_ms, period.result),
        )


def _light(output: Output, lamp: Lamp, on_ms: float, period_ms: float) -> str:
    """What a lamp shows: it flashes, or its flashes melt into a glow, or the pulses are too short for it."""
    share = output.fitted.supply_v / lamp.volts
    if lamp.flashes(share, on_ms / 1000.0, period_ms / 1000.0):
        return "flashes"
    peak, _ = lamp.swing(share, on_ms / 1000.0, period_ms / 1000.0)
    # Between dark and seen nobody can say.
    return "glows, no single flash is told" if peak >= SEEN_SHARE else "is not surely seen"


@dataclass(frozen=True)
class _Loaded:
    """One output with its own loads, pulsed at an engine speed."""

    output: Output
    rpm: float
    period: Evaluated
    count: Evaluated

    def plan(self, on_ms: float, shows: str) -> PulsePlan:
        found = self._currents(on_ms)
        coils = [heat for each in found.pulsed.values() if (heat := self._heat(each)) is not None]
        through = found.elements.get(self.output.name)
        excess = self._excess(found)
        return PulsePlan(
            self.output.name,
            self.output.fitted.set_words(self.output.switches),
            "its loads",
            self.rpm,
            self.period,
            on_ms,
            self.count,
            shows,
            max(coils, key=lambda each: each.power.result) if coils else None,
            through.peak_a if through is not None else None,
            through.rms_a if through is not None else None,
            excess,
            self._longest_ms(),
        )

    def _currents(self, on_ms: float) -> StateCurrents:
        fitted, name = self.output.fitted, self.output.name
        timing = Pulse(width_s=Quantity(on_ms / 1000.0), period_s=Quantity(self.period.result / 1000.0))
        state = State(name="output test", on=self.output.on, pulse={name: timing})
        physics, network = fitted.physics, fitted.network
        on, ohms = frozenset(self.output.on), physics.ohms_in(Case.STRONG)
        given = state_conditions(network, Case.STRONG, ohms, state.name, on, state)
        holding = fitted.solve((), self.output.on).pulled_in
        return state_currents(network, given, settled(network, given, holding), state)

    def _excess(self, found: StateCurrents) -> str:
        """Which limit of the output or of a coil the pulses pass, with both figures; empty where they keep all."""
        name = self.output.name
        driver = self.output.fitted.network.design.drivers[name]
        clamped = tuple(clamp_energy(each) for each in found.pulsed.values() if each.clamp_v is not None)
        stress = DriverStress(driver, "the output test", found.elements[name], clamped, self.period.result / 1000.0)
        passed = [f"{each.what} {each.value:.3g} {each.unit}, allowed {each.allowed:.3g}" for each in stress.excesses]
        heats = (heat for each in found.pulsed.values() if (heat := self._heat(each)) is not None)
        hottest = max(heats, key=lambda each: each.power.result, default=None)
        if hottest is not None and hottest.power.result > MOST_HELD_W:
            passed.append(f"heat of {hottest.load} {hottest.power.result:.3g} W, allowed {MOST_HELD_W:g}")
        return "; ".join(passed)

    def _longest_ms(self) -> float | None:
        """Longest time on that keeps every limit of output and coil, to a twentieth of a ms; None where none does."""
        low_ms, high_ms = 0.0, MOST_DUTY * self.period.result
        if not self._excess(self._currents(high_ms)):
            return high_ms
        while high_ms - low_ms > 0.05:
            middle_ms = (low_ms + high_ms) / 2.0
            if self._excess(self._currents(middle_ms)):
                high_ms = middle_ms
            else:
                low_ms = middle_ms
        return low_ms or None

    def _heat(self, pulsed: PulsedLoad) -> CoilHeat | None:
        element = self.output.fitted.element_of[pulsed.name]
        device = element.device
        if not isinstance(device, Load) or pulsed.drive is None:
            return None
        strong = self.output.fitted.physics.ohms_in(Case.STRONG)
        name = device.name
        inputs = (
            Input("I", f"RMS current of {name}", pulsed.coil.rms_a, "A"),
            Input("R", f"resistance of {name}, cold", strong[pulsed.name], "ohm"),
        )
        power = evaluated(f"heat of {name}", "I**2 * R", inputs, "W", _HEAT)
        pulse = evaluated(
            f"heat of {name} in a pulse",
            "P * T / 1000",
            (
                Input("P", "heat", power.result, "W", _HEAT),
                Input("T", "time from pulse to pulse", self.period.result, "ms"),
            ),
            "J",
            _HEAT,
        )
        burst = evaluated(
            f"heat of {name} in a burst",
            "E * n",
            (Input("E", "heat of a pulse", pulse.result, "J", _HEAT), Input("n", "pulses", self.count.result, "1")),
            "J",
            _HEAT,
        )
        return CoilHeat(name, pulsed.coil.peak_a, pulse, power, burst, coil_rise(device, burst.result))


def coil_rise(load: Load, burst_j: float) -> Evaluated | None:
    """The most that a coil's copper warms by so many joules, in K; None where its copper is not known."""
    if load.winding_g is None:
        return None
    inputs = (
        Input("E", "heat of the burst", burst_j, "J", _HEAT),
        Input("m", f"copper of {load.name}", load.winding_g.lowest, "g"),
        Input("c", "heat capacity of copper", COPPER_HEAT, "J/(g K)", _COPPER),
    )
    return evaluated(f"warming of {load.name} in a burst, at most", "E / (m * c)", inputs, "K", _BOUND)
