"""What a state asks of each driver: peak and RMS current, and what its clamp takes when coils are switched off."""

import math

from harnessgen.design.records.device import Driver
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.element_current import ElementCurrent
from harnessgen.physics.loads.coil_pulse import Drive, Loop, fall_time_s
from harnessgen.physics.loads.model import inductance_h
from harnessgen.physics.loads.pulsed_load import PulsedLoad, Seen, Timing, pulsed_load
from harnessgen.physics.states.solved import SolvedStates
from harnessgen.physics.states.voltage_drop import LoadDrop, drops_in

_CLAMP = common_practice("energy is the clamp's voltage times the charge that flows while it holds it")
_SUM = common_practice("what flows at once adds up")
_RATE = common_practice("energy of a pulse times the pulses in a second")


@frozen
class Excess:
    """A figure of a driver above its limit: what it is, the two values in `unit`, and where the limit comes from."""

    what: str
    value: float
    allowed: float
    unit: str
    source: Publication


@frozen
class DriverStress:
    """One driver in one state. `energy_j` is what its clamp takes in a pulse, or at the switching off at the end.

    `clamped` are the coils that its clamp takes, each with the energy. `period_s` is None where it is not pulsed.
    """

    driver: Driver
    state: str
    current: ElementCurrent
    clamped: tuple[Evaluated, ...]
    period_s: float | None

    @property
    def energy(self) -> Evaluated:
        """Energy that the clamp takes in a pulse, in J."""
        inputs = tuple(
            Input(f"E{number}", each.title, each.result, "J", _CLAMP) for number, each in enumerate(self.clamped, 1)
        )
        formula = " + ".join(each.symbol for each in inputs) or "0"
        return evaluated(f"energy in the clamp of {self.driver.name} in {self.state}", formula, inputs, "J", _SUM)

    @property
    def power(self) -> Evaluated | None:
        """Average power in the clamp, in W; None where the driver is not pulsed."""
        if self.period_s is None:
            return None
        inputs = (
            Input("E", "energy of a pulse", self.energy.result, "J", _SUM),
            Input("T", "time from pulse to pulse", self.period_s, "s"),
        )
        return evaluated(f"power in the clamp of {self.driver.name} in {self.state}", "E / T", inputs, "W", _RATE)

    @property
    def excesses(self) -> tuple[Excess, ...]:
        """Every figure above its limit. A `current` alone is the highest at any time; beside a peak it is the RMS."""
        driver = self.driver
        power = self.power
        lasting = self.current.peak_a if driver.peak_current_a is None else self.current.rms_a
        what = "highest current" if driver.peak_current_a is None else "RMS current"
        held: list[tuple[str, float, Quantity | None, str, str]] = [
            (what, lasting, driver.current_a, "A", "current_a"),
            ("peak current", self.current.peak_a, driver.peak_current_a, "A", "peak_current_a"),
            ("energy in its clamp per pulse", self.energy.result, driver.clamp_energy_j, "J", "clamp_energy_j"),
            ("power in its clamp", power.result if power else 0.0, driver.clamp_power_w, "W", "clamp_power_w"),
        ]
        return tuple(
            Excess(what, value, allowed.value, unit, Publication(f"set in the design, {driver.where(field)}"))
            for what, value, allowed, unit, field in held
            if allowed is not None and value > allowed.value * (1.0 + 1e-9)
        )


def driver_stresses(physics: SolvedStates, state: str) -> tuple[DriverStress, ...]:
    """What a state asks of each driver that is on in it, in the order of the design.

    Raises:
        KeyError: no state has this name.
    """
    declared = physics.network.design.states[state]
    found: list[DriverStress] = []
    for name, driver in physics.network.design.drivers.items():
        if name not in declared.on:
            continue
        current = physics.currents[state][name]
        pulsed = [
            each for each in physics.currents_in(state, Case.STRONG).pulsed.values() if each.timing.driver == name
        ]
        if pulsed:
            clamped = tuple(clamp_energy(each) for each in pulsed if each.clamp_v is not None)
            found.append(DriverStress(driver, state, current, clamped, pulsed[0].timing.period_s))
        else:
            clamped = tuple(clamp_energy(each) for each in _switched_off(physics, state, driver))
            found.append(DriverStress(driver, state, current, clamped, None))
    return tuple(found)


def clamp_energy(load: PulsedLoad) -> Evaluated:
    """Energy that one coil leaves in the driver's clamp in a pulse, in J; 0 where something else takes its current."""
    title = f"energy of {load.name} in the clamp"
    falls = [each for each in load.coil.segments if each.is_falling]
    if load.drive is None or load.drive.off is None or load.clamp_v is None or not falls:
        return evaluated(title, "0", (), "J", _CLAMP)
    inputs = [
        Input("U", "clamp voltage", load.clamp_v, "V", load.clamp_source),
        Input("F", "current that the clamp drives towards", load.drive.off.final_a, "A"),
        Input("k", "time constant of the loop, L / R", load.drive.inductance_h / load.drive.off.ohm, "s"),
    ]
    terms: list[str] = []
    for number, each in enumerate(falls, start=1):
        inputs.append(Input(f"I{number}", f"current at the start of fall {number}", each.start_a, "A"))
        inputs.append(Input(f"t{number}", f"time of fall {number}", each.duration_s, "s"))
        terms.append(f"F * t{number} + (I{number} - F) * k * (1 - exp(-t{number} / k))")
    return evaluated(title, f"U * ({' + '.join(terms)})", tuple(inputs), "J", _CLAMP)


def _switched_off(physics: SolvedStates, state: str, driver: Driver) -> list[PulsedLoad]:
    """The coils of a driver that is not pulsed, as they are when it turns off at the end of the state."""
    network = physics.network
    by_name = {each.name: each for each in network.electrical.elements}
    ohms = physics.conditions_in(state, Case.STRONG).ohms
    driver_a = abs(physics.point_in(state, Case.STRONG).amperes[driver.name])
    found: list[PulsedLoad] = []
    for drop in drops_in(physics, state, Case.STRONG):
        element = by_name[drop.load]
        device = element.device
        inductance = inductance_h(network, device) if device is not None else None
        if inductance is None or all(part.element != driver.name for part in drop.return_):
            continue
        # One pulse so long that the current has settled before it and is gone after it.
        seen = Seen(drop.source_v, _signed(physics, state, drop), driver_a / drop.current_a)
        settling_s = 50.0 * inductance / seen.ohm
        timing = Timing(driver.name, settling_s, 2.0 * settling_s + _longest_fall_s(inductance, seen), 0.0)
        load = pulsed_load(network, element, ohms[drop.load], driver, timing, seen)
        if load.clamp_v is not None:
            found.append(load)
    return found


def _signed(physics: SolvedStates, state: str, drop: LoadDrop) -> float:
    return math.copysign(drop.current_a, physics.point_in(state, Case.STRONG).amperes[drop.load])


def _longest_fall_s(inductance: float, seen: Seen) -> float:
    """Time in which the current falls to a thousandth by resistance alone; any clamp is faster."""
    drive = Drive(inductance, Loop(1.0, seen.ohm), Loop(0.0, seen.ohm), 1.0, 1.0)
    return fall_time_s(drive, 1.0, 1e-3)
