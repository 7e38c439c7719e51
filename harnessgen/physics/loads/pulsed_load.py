"""One load whose output is pulsed: what it sees of the network, its drive, and its current over a period."""

from harnessgen.design.limits.table import Limit, limit
from harnessgen.design.records.device import Driver
from harnessgen.design.records.state import State
from harnessgen.evidence.publication import Publication
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.loads.coil_pulse import Drive, Loop, driven
from harnessgen.physics.loads.model import cathode_is_at_a, inductance_h, suppression_of
from harnessgen.physics.loads.waveform import Wave, standing


@frozen
class Timing:
    """How a driver is pulsed: on for `on_s` of every `period_s`, later than others by `delay_s`."""

    driver: str
    on_s: float
    period_s: float
    delay_s: float

    @property
    def duty(self) -> float:
        """Share of the time in which it is on."""
        return self.on_s / self.period_s


def timings(state: State) -> dict[str, Timing]:
    """How each pulsed driver of a state is pulsed; one that is never off is not listed."""
    found: dict[str, Timing] = {}
    for name, pulse in state.pulse.items():
        period_s = state.period_s_of(name)
        if period_s is None:
            continue
        on_s = pulse.width_s.value if pulse.width_s is not None else pulse.duty.value * period_s if pulse.duty else 0.0
        if 0.0 < on_s < period_s:
            found[name] = Timing(name, on_s, period_s, pulse.delay.value * period_s)
    return found


@frozen
class Seen:
    """What a load sees of the network while its driver is on, by Thevenin: `open_v` behind `ohm`, itself included.

    `steady_a` is the current that it would come to, with its sign from `1` to `2`; `driver_share` the driver's current
    over the load's. The other loads of the driver are on with it, and their part of the shared wires is in `ohm`: exact
    for like loads on like legs.
    """

    open_v: float
    steady_a: float
    driver_share: float

    @property
    def ohm(self) -> float:
        """All resistance between the voltage and the current."""
        return abs(self.open_v / self.steady_a)


@frozen
class PulsedLoad:
    """A pulsed load: `coil` is its own current from the switching on, `line` what its wires carry of it.

    They differ where a diode or resistor at the load takes the current round the coil. `drive` is None where the load
    has no known inductance, and its current follows the output at once. `taken_by` says in words what takes the current
    over, `clamp_v` the voltage where that is the driver's clamp, with its source.
    """

    name: str
    timing: Timing
    seen: Seen
    sign: float
    drive: Drive | None
    coil: Wave
    line: Wave
    taken_by: str
    clamp_v: float | None = None
    clamp_source: Publication | None = None


def pulsed_load(
    network: Network, element: Element, ohm: float, driver: Driver, timing: Timing, seen: Seen
) -> PulsedLoad:
    """The current of the load `element` of `ohm` under a pulsed driver."""
    sign = 1.0 if seen.steady_a >= 0.0 else -1.0
    is_coil = element.device is not None and element.kind is not ElementKind.SUPPRESSOR
    inductance = inductance_h(network, element.device) if is_coil and element.device is not None else None
    if inductance is None:
        wave = Wave(timing.period_s, (standing(timing.on_s, abs(seen.steady_a)),))
        return PulsedLoad(element.name, timing, seen, sign, None, wave, wave, "no inductance is known")
    off, is_local, words, clamp = _off_loop(network, element, ohm, driver, seen)
    peak_a = hold_a = None
    if driver.drive is not None:
        peak_a = driver.drive.peak_a.value / seen.driver_share
        hold_a = driver.drive.hold_a.value / seen.driver_share
    on = Loop(abs(seen.open_v), seen.ohm)
    drive = Drive(inductance, on, off, timing.on_s, timing.period_s, peak_a, hold_a)
    wave = driven(drive)
    line = wave.while_on if is_local else wave
    clamp_v, source = (clamp.value.value, clamp.source) if clamp is not None else (None, None)
    return PulsedLoad(element.name, timing, seen, sign, drive, wave, line, words, clamp_v, source)


def driver_clamp(network: Network, driver: Driver) -> Limit:
    """Voltage to ground at which a driver takes over a coil's current: its own, else the limit."""
    usual = limit("driver-clamp", network.design.limits)
    if driver.clamp_v is None:
        return usual
    source = Publication(f"set in the design, {driver.where('clamp_v')}")
    return Limit(usual.name, driver.clamp_v, usual.unit, source)


def _off_loop(
    network: Network, element: Element, ohm: float, driver: Driver, seen: Seen
) -> tuple[Loop, bool, str, Limit | None]:
    """What takes the current over, whether it does so at the load itself, in words, and the clamp if it is that."""
    device = element.device
    suppression = suppression_of(network, device) if device is not None else None
    if device is not None and suppression is not None and suppression.kind == "diode":
        feeds_a = seen.steady_a >= 0.0
        if cathode_is_at_a(device, suppression) == feeds_a:
            forward_v = limit("diode-drop", network.design.limits).value.value
            return Loop(-forward_v, ohm), True, "the diode across it", None
    if suppression is not None and suppression.resistor_ohm is not None:
        return Loop(0.0, ohm + suppression.resistor_ohm), True, "the resistor across it", None
    clamp = driver_clamp(network, driver)
    # While it clamps, the driver is a voltage, and its resistance is out of the loop.
    loop_ohm = max(seen.ohm - driver.resistance_ohm.value * seen.driver_share, ohm)
    return Loop(abs(seen.open_v) - clamp.value.value, loop_ohm), False, f"the clamp of {driver.name}", clamp
