"""Currents that repeat: waves made of exponential pieces, with their peak, average and RMS in closed form."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from harnessgen.measures.frozen import frozen


@frozen
class Segment:
    """A piece of a wave: from `start_a` the current moves towards `final_a`; with a `tau_s` of 0 it stands still."""

    duration_s: float
    start_a: float
    final_a: float
    tau_s: float
    is_falling: bool = False
    """True once the output is off and something else has taken the current over."""

    def at(self, time_s: float) -> float:
        """Current at a time since the piece began, in A."""
        if self.tau_s == 0.0:
            return self.start_a
        return self.final_a + (self.start_a - self.final_a) * math.exp(-time_s / self.tau_s)

    @property
    def end_a(self) -> float:
        """Current at its end."""
        return self.at(self.duration_s)

    @property
    def charge_c(self) -> float:
        """Current over time, in A s."""
        if self.tau_s == 0.0:
            return self.start_a * self.duration_s
        fall = -math.expm1(-self.duration_s / self.tau_s)
        return self.final_a * self.duration_s + (self.start_a - self.final_a) * self.tau_s * fall

    @property
    def square_a2s(self) -> float:
        """Square of the current over time, in A2 s."""
        return product_a2s(self, self)

    def reversed(self) -> "Segment":
        """The piece with its current the other way round."""
        return replace(self, start_a=-self.start_a, final_a=-self.final_a)

    def part(self, from_s: float, to_s: float) -> "Segment":
        """The piece between two times since it began."""
        return replace(self, duration_s=to_s - from_s, start_a=self.at(from_s))


def standing(duration_s: float, current_a: float) -> Segment:
    """A piece in which the current stands still."""
    return Segment(duration_s, current_a, current_a, 0.0)


def product_a2s(one: Segment, other: Segment) -> float:
    """Product of two currents over the same time, in A2 s; the two pieces are equally long."""
    time_s = one.duration_s
    finals, moves, rates = [], [], []
    for each in (one, other):
        is_still = each.tau_s == 0.0
        finals.append(each.start_a if is_still else each.final_a)
        moves.append(0.0 if is_still else each.start_a - each.final_a)
        rates.append(0.0 if is_still else 1.0 / each.tau_s)
    total = finals[0] * finals[1] * time_s
    for first, second in ((0, 1), (1, 0)):
        total += finals[first] * moves[second] * _faded_s(rates[second], time_s)
    return total + moves[0] * moves[1] * _faded_s(rates[0] + rates[1], time_s)


def _faded_s(rate_per_s: float, time_s: float) -> float:
    """Integral of exp(-rate t) from 0 to `time_s`."""
    return time_s if rate_per_s == 0.0 else -math.expm1(-rate_per_s * time_s) / rate_per_s


@frozen
class Wave:
    """A current that repeats with `period_s`: its pieces one behind the other from the switching on, then nothing."""

    period_s: float
    segments: tuple[Segment, ...]

    @property
    def peak_a(self) -> float:
        """Highest current either way; every piece moves one way only, so it stands at an end of one."""
        return max((max(abs(each.start_a), abs(each.end_a)) for each in self.segments), default=0.0)

    @property
    def mean_a(self) -> float:
        """Average over a period."""
        return math.fsum(each.charge_c for each in self.segments) / self.period_s

    @property
    def rms_a(self) -> float:
        """Root of the average of the square over a period."""
        return math.sqrt(max(math.fsum(each.square_a2s for each in self.segments), 0.0) / self.period_s)

    def at(self, time_s: float) -> float:
        """Current at a time since a switching on, in A."""
        rest_s = time_s % self.period_s
        for each in self.segments:
            if rest_s < each.duration_s:
                return each.at(rest_s)
            rest_s -= each.duration_s
        return 0.0

    def delayed(self, delay_s: float) -> "Wave":
        """The same wave, begun later: what runs over the end of the period stands at its beginning."""
        shift_s = delay_s % self.period_s
        if shift_s == 0.0:
            return self
        early: list[Segment] = []
        late: list[Segment] = []
        at_s = shift_s
        filled_s = math.fsum(each.duration_s for each in self.segments)
        for each in (*self.segments, standing(max(self.period_s - filled_s, 0.0), 0.0)):
            over_s = at_s + each.duration_s - self.period_s
            if at_s >= self.period_s:
                early.append(each)
            elif over_s > 0.0:
                late.append(each.part(0.0, each.duration_s - over_s))
                early.append(each.part(each.duration_s - over_s, each.duration_s))
            else:
                late.append(each)
            at_s += each.duration_s
        return Wave(self.period_s, tuple(each for each in (*early, *late) if each.duration_s > 0.0))

    @property
    def while_on(self) -> "Wave":
        """The wave with nothing where the current falls: what flows outside a coil that has its own diode."""
        kept = (standing(each.duration_s, 0.0) if each.is_falling else each for each in self.segments)
        return Wave(self.period_s, tuple(kept))

    @property
    def falling_c(self) -> float:
        """Charge of a period that flows while the current falls, in A s."""
        return math.fsum(each.charge_c for each in self.segments if each.is_falling)

    @property
    def breaks_s(self) -> list[float]:
        """Times at which a piece begins or ends, from 0 to the period."""
        times = [0.0]
        for each in self.segments:
            times.append(min(times[-1] + each.duration_s, self.period_s))
        return [*times, self.period_s]


def mean_product_a2(one: Wave, other: Wave) -> float:
    """Average of the product of two waves, in A2; exact for equal periods.

    Waves of different periods have no lasting relation: over a long time their product averages to that of their means.
    """
    if one.period_s != other.period_s:
        return one.mean_a * other.mean_a
    return math.fsum(product_a2s(first, second) for first, second in _side_by_side(one, other)) / one.period_s


def _side_by_side(one: Wave, other: Wave) -> Iterator[tuple[Segment, Segment]]:
    """Pieces of two waves of one period, cut so that each pair lasts equally long; what is nothing is left out."""
    cuts = sorted({*one.breaks_s, *other.breaks_s})
    first, second = _cut(one, cuts), _cut(other, cuts)
    for a, b in zip(first, second, strict=True):
        if a is not None and b is not None:
            yield a, b


def _cut(wave: Wave, cuts: Sequence[float]) -> list[Segment | None]:
    pieces: list[Segment | None] = []
    begins_s, which = 0.0, 0
    for low, high in pairwise(cuts):
        middle_s = (low + high) / 2.0
        while which < len(wave.segments) and middle_s >= begins_s + wave.segments[which].duration_s:
            begins_s += wave.segments[which].duration_s
            which += 1
        if which == len(wave.segments):
            pieces.append(None)
        else:
            piece = wave.segments[which].part(low - begins_s, high - begins_s)
            pieces.append(replace(piece, duration_s=high - low))
    return pieces
