"""Current of a coil whose output is pulsed: saturated drive and peak-and-hold, with what takes the current after it.

A coil with its loop is an inductance behind a voltage and a resistance, one pair while the output is on and another
while it is off, so that the current moves along exponentials and everything asked of it has a closed form.
"""

import math
from dataclasses import replace

from harnessgen.measures.frozen import frozen
from harnessgen.physics.loads.waveform import Segment, Wave, standing

_MOST_PERIODS = 200
_SETTLED = 1e-13


@frozen
class Loop:
    """What drives a coil: `emf_v` (negative where it drives the current down) behind all the `ohm` of the loop."""

    emf_v: float
    ohm: float

    @property
    def final_a(self) -> float:
        """Current that it would come to."""
        return self.emf_v / self.ohm


@frozen
class Drive:
    """How a coil is driven: `on_s` of every `period_s` through the loop `on`, then through `off`.

    `off` is None where nothing takes the current over and it ends at once. With `peak_a` and `hold_a` the output lets
    the current rise to the peak, fall to the hold through `off`, and stay there.
    """

    inductance_h: float
    on: Loop
    off: Loop | None
    on_s: float
    period_s: float
    peak_a: float | None = None
    hold_a: float | None = None


def driven(drive: Drive) -> Wave:
    """The current of the coil once it repeats, from the switching on.

    Raises:
        ValueError: the times, the inductance, a resistance, or the peak and hold leave no wave.
    """
    _refuse(drive)
    if drive.hold_a is not None:
        return _peak_and_hold(drive, drive.peak_a if drive.peak_a is not None else drive.hold_a, drive.hold_a)
    start_a = _start_of_saturated(drive)
    rise = _towards(drive.on, drive.inductance_h, start_a, drive.on_s)
    return Wave(drive.period_s, (rise, *_fall(drive, rise.end_a)))


def _refuse(drive: Drive) -> None:
    if not 0.0 < drive.on_s <= drive.period_s:
        raise ValueError(f"an output cannot be on for {drive.on_s} s of every {drive.period_s} s")
    if not (drive.inductance_h > 0.0 and drive.on.ohm > 0.0):
        raise ValueError("a coil has an inductance and a resistance above zero")
    if drive.off is not None and not drive.off.ohm > 0.0:
        raise ValueError("what takes a coil's current over has a resistance above zero")
    if drive.hold_a is not None and not 0.0 < drive.hold_a <= (drive.peak_a or drive.hold_a):
        raise ValueError(f"a hold of {drive.hold_a} A does not lie below a peak of {drive.peak_a} A")


def _towards(loop: Loop, inductance_h: float, start_a: float, duration_s: float) -> Segment:
    return Segment(duration_s, start_a, loop.final_a, inductance_h / loop.ohm)


def _start_of_saturated(drive: Drive) -> float:
    """Current that is left of the last period when the output turns on again: the fixed point of one period."""
    off_s = drive.period_s - drive.on_s
    if drive.off is None:
        return 0.0 if off_s > 0.0 else drive.on.final_a
    if off_s == 0.0:
        return drive.on.final_a
    falls = math.exp(-off_s * drive.off.ohm / drive.inductance_h)
    low_a, high_a = drive.off.final_a, drive.on.final_a
    # Written with what the exponentials lack to 1, so that short times lose no digits.
    rise_lack = -math.expm1(-drive.on_s * drive.on.ohm / drive.inductance_h)
    fall_lack = -math.expm1(-off_s * drive.off.ohm / drive.inductance_h)
    both_lack = -math.expm1(-(drive.on_s * drive.on.ohm + off_s * drive.off.ohm) / drive.inductance_h)
    return max((low_a * fall_lack + falls * high_a * rise_lack) / both_lack, 0.0)


def _fall(drive: Drive, from_a: float) -> tuple[Segment, ...]:
    """What is left of the period once the output is off: the current falls, and ends if it comes to nothing."""
    off_s = drive.period_s - drive.on_s
    if drive.off is None or off_s <= 0.0 or from_a <= 0.0:
        return ()
    return (_falling(drive.off, drive.inductance_h, from_a, min(off_s, fall_time_s(drive, from_a, 0.0))),)


def _falling(loop: Loop, inductance_h: float, start_a: float, duration_s: float) -> Segment:
    return replace(_towards(loop, inductance_h, start_a, duration_s), is_falling=True)


def fall_time_s(drive: Drive, from_a: float, to_a: float) -> float:
    """Time in which the current falls through the off loop; `inf` when it never comes so low, 0 without a loop."""
    if drive.off is None or from_a <= to_a:
        return 0.0
    final_a = drive.off.final_a
    if to_a <= final_a:
        return math.inf
    return drive.inductance_h / drive.off.ohm * math.log((from_a - final_a) / (to_a - final_a))


def rise_time_s(loop: Loop, inductance_h: float, to_a: float, from_a: float = 0.0) -> float:
    """Time in which a loop brings a coil's current up to `to_a`; `inf` when it never comes so high."""
    if to_a <= from_a:
        return 0.0
    if to_a >= loop.final_a:
        return math.inf
    return inductance_h / loop.ohm * math.log((loop.final_a - from_a) / (loop.final_a - to_a))


def _peak_and_hold(drive: Drive, peak_a: float, hold_a: float) -> Wave:
    start_a = 0.0
    for _ in range(_MOST_PERIODS):
        wave = _one_period(drive, peak_a, hold_a, start_a)
        filled_s = math.fsum(each.duration_s for each in wave.segments)
        end_a = wave.segments[-1].end_a if filled_s >= drive.period_s * (1.0 - 1e-12) else 0.0
        if abs(end_a - start_a) <= _SETTLED * max(peak_a, end_a):
            return wave
        start_a = end_a
    return wave


def _one_period(drive: Drive, peak_a: float, hold_a: float, start_a: float) -> Wave:
    """One period from a given current: up to the peak, down to the hold, the hold, then off."""
    left_s, current_a = drive.on_s, start_a
    segments: list[Segment] = []
    rise_s = min(rise_time_s(drive.on, drive.inductance_h, peak_a, current_a), left_s)
    if rise_s > 0.0:
        segments.append(_towards(drive.on, drive.inductance_h, current_a, rise_s))
        current_a, left_s = segments[-1].end_a, left_s - rise_s
    if left_s > 0.0 and drive.off is not None:
        fall_s = min(fall_time_s(drive, current_a, hold_a), left_s)
        if fall_s > 0.0:
            segments.append(_falling(drive.off, drive.inductance_h, current_a, fall_s))
            current_a, left_s = segments[-1].end_a, left_s - fall_s
    if left_s > 0.0:
        # The output holds what the coil can have at all; a weak supply holds less.
        current_a = min(hold_a, drive.on.final_a)
        segments.append(standing(left_s, current_a))
    return Wave(drive.period_s, (*segments, *_fall(drive, current_a)))
