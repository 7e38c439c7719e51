"""How long a wire in its bundle stands a current, from where it starts to what its insulation stands.

The heat equation of the conductor: copper times rise per second is heat made less heat lost. The loss is the steady
one of the bundle at that conductor temperature, so that a current for ever gives the heat balance; a short one loses
nothing to speak of, and gives k2S2 (IEC 60364-5-54, annex A). Insulation, bundle and air take up no heat: that is the
safe side.
"""

import math
from collections.abc import Callable
from itertools import pairwise

from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication
from harnessgen.measures.frozen import frozen
from harnessgen.physics.heat.bundle import even_rise, own_rise
from harnessgen.physics.heat.covering import Shell
from harnessgen.physics.heat.single_wire import HeatedWire, crossing
from harnessgen.physics.protection.sources import ADIABATIC_SOURCE, CAPACITY_SOURCE, OVERLOAD_SOURCE

COPPER_J_PER_MM3_K = 3.45e-3
COPPER_OHM_MM = 17.241e-6
_PIECES = 10


@frozen
class Surroundings:
    """Where a wire lies: its bundle (1 wire: its own diameter), the steady heat of the others in it, and the ambient.

    `state` is the state that the heat of the others, and the wire's own start, come from.
    """

    bundle_mm: float
    others_w_per_m: float
    ambient_degc: float
    start_degc: float
    state: str
    shell: Shell | None = None
    """What lies round the bundle; None where it lies bare in air of standard pressure."""

    @property
    def round_it(self) -> Shell:
        """What its heat has to leave through."""
        return self.shell if self.shell is not None else Shell(self.bundle_mm, self.bundle_mm, self.bundle_mm)


@frozen
class Heating:
    """A wire on its way from its starting temperature to the most that it stands.

    `losses` are conductor temperatures (degC) with the heat that it then loses for ever (W/m), rising;
    `capacity_j_per_m_k` is its copper's.
    """

    ohm_per_m: float
    copper_mm2: float
    start_degc: float
    most_degc: float
    losses: tuple[tuple[float, float], ...]

    @property
    def capacity_j_per_m_k(self) -> float:
        """Heat that one metre of its copper takes up for one kelvin."""
        return COPPER_J_PER_MM3_K * 1000.0 * self.copper_mm2

    def made_w_per_m(self, current_a: float, degc: float) -> float:
        """Heat made in one metre."""
        return current_a**2 * self.ohm_per_m * (234.5 + degc) / 254.5

    @property
    def k2s2_a2s(self) -> float:
        """Largest I2t that it stands without losing any heat."""
        return self.k2s2_derivation("the wire").result

    def stands_s(self, current_a: float) -> float:
        """Time in which a current brings it to the most that it stands; 0 if it is there, `inf` if never."""
        if self.start_degc >= self.most_degc:
            return 0.0
        total = 0.0
        for (low, lost_low), (high, lost_high) in pairwise(self.losses):
            first, last = self.made_w_per_m(current_a, low) - lost_low, self.made_w_per_m(current_a, high) - lost_high
            if first <= 0.0 or last <= 0.0:
                return math.inf
            step = (last - first) / first
            grown = math.log1p(step) / step if abs(step) > 1e-9 else 1.0
            total += self.capacity_j_per_m_k * (high - low) / first * grown
        return total

    def k2s2_derivation(self, name: str, source: Publication | None = None) -> Evaluated:
        """Where the largest I2t without loss comes from."""
        inputs = (
            Input("c", "heat that copper takes up", COPPER_J_PER_MM3_K, "J/(K mm3)"),
            Input("S", "copper", self.copper_mm2, "mm2", source),
            Input("r", "conductor at 20 degC", self.ohm_per_m, "ohm/m", source),
            Input("T0", "temperature at which it starts", self.start_degc, "degC"),
            Input("T1", "most that the insulation stands until a fuse has opened", self.most_degc, "degC"),
        )
        formula = "c * 1000 * S * 254.5 / r * ln((234.5 + T1) / (234.5 + T0))"
        return evaluated(f"k2S2 of {name}", formula, inputs, "A2s", ADIABATIC_SOURCE, OVERLOAD_SOURCE)

    def stands_derivation(self, name: str, current_a: float) -> Evaluated:
        """Where a finite time comes from: the time of each piece of the way, added up.

        Raises:
            ValueError: the current never brings it there, or it starts there.
        """
        if not 0.0 < self.stands_s(current_a) < math.inf:
            raise ValueError(f"{current_a} A takes no finite time")
        inputs = [
            Input("I", "current", current_a, "A"),
            Input("r", "conductor at 20 degC", self.ohm_per_m, "ohm/m"),
            Input("C", "heat that its copper takes up", self.capacity_j_per_m_k, "J/(K m)"),
        ]
        for number, (degc, lost) in enumerate(self.losses):
            inputs.append(Input(f"T{number}", f"conductor temperature {number}", degc, "degC"))
            inputs.append(Input(f"q{number}", f"heat lost at it {number}", lost, "W/m"))
        terms: list[str] = []
        for number in range(len(self.losses) - 1):
            first, last = (f"(I**2 * r * (234.5 + T{n}) / 254.5 - q{n})" for n in (number, number + 1))
            terms.append(f"(T{number + 1} - T{number}) / ({last} - {first}) * ln({last} / {first})")
        formula = f"C * ({' + '.join(terms)})"
        title = f"time that {name} stands {current_a:.4g} A"
        return evaluated(title, formula, tuple(inputs), "s", ADIABATIC_SOURCE, OVERLOAD_SOURCE, CAPACITY_SOURCE)


def steady_loss_w_per_m(body: HeatedWire, around: Surroundings, conductor_degc: float) -> float:
    """Heat of its own that holds a conductor at a temperature for ever, with the others in its bundle as they are.

    Below zero where the others alone hold it hotter.
    """
    way = _way_out(body, around)
    return way(_outer_degc(way, around, conductor_degc))[1]


_WayOut = Callable[[float], tuple[float, float]]
"""From the temperature of the outside, of a bundle or its covering, to that of a conductor and its own heat in W/m."""


def _way_out(body: HeatedWire, around: Surroundings) -> _WayOut:
    even, own = even_rise(), own_rise(body, around.bundle_mm)
    ambient, others = around.ambient_degc, around.others_w_per_m

    round_it = around.round_it

    def way(outer_degc: float) -> tuple[float, float]:
        lost = round_it.lost_w_per_m(outer_degc, ambient)
        return round_it.surface_degc(outer_degc, lost) + (lost - others) * own + others * even, lost - others

    return way


def _outer_degc(way: _WayOut, around: Surroundings, conductor_degc: float) -> float:
    """Temperature of the outside; the ambient's where the conductor is colder than the others hold it."""

    def excess(outer_degc: float) -> float:
        return way(outer_degc)[0] - conductor_degc

    ambient = around.ambient_degc
    return crossing(excess, ambient, conductor_degc) if conductor_degc > ambient else ambient


def steady_outer_degc(body: HeatedWire, around: Surroundings, conductor_degc: float) -> float | None:
    """Temperature of the outside, of the bundle or its covering, at which a conductor has a temperature for ever.

    None where the others alone hold it hotter.
    """
    outer_degc = _outer_degc(_way_out(body, around), around, conductor_degc)
    return outer_degc if outer_degc > around.ambient_degc else None


def without_loss(body: HeatedWire, copper_mm2: float, around: Surroundings, most_degc: float) -> Heating:
    """The same way for a wire that keeps all its heat: it is never slower."""
    start = around.start_degc
    return Heating(body.ohm_per_m, _copper(body, copper_mm2), start, most_degc, ((start, 0.0), (most_degc, 0.0)))


def heating(body: HeatedWire, copper_mm2: float, around: Surroundings, most_degc: float) -> Heating:
    """The way of a wire from where it starts to `most_degc`."""
    copper, start = _copper(body, copper_mm2), around.start_degc
    if most_degc <= start:
        return Heating(body.ohm_per_m, copper, start, most_degc, ())
    # Even pieces of the outside's way are nearly even ones of the conductor's, and none but the ends need be sought.
    way = _way_out(body, around)
    first, last = _outer_degc(way, around, start), _outer_degc(way, around, most_degc)
    between = (way(first + (last - first) * number / _PIECES) for number in range(1, _PIECES))
    points = [(start, way(first)[1]), *between, (most_degc, way(last)[1])]
    losses = tuple((degc, max(lost, 0.0)) for degc, lost in points if start <= degc <= most_degc)
    return Heating(body.ohm_per_m, copper, start, most_degc, losses)


def _copper(body: HeatedWire, copper_mm2: float) -> float:
    """The copper that takes up heat: no more than what its highest resistance stands for, in mm2."""
    return min(copper_mm2, COPPER_OHM_MM * 1000.0 / body.ohm_per_m)


def steady_current_a(body: HeatedWire, around: Surroundings, most_degc: float) -> float:
    """Current that a wire stands for ever at `most_degc` while the others in its bundle stay as they are."""
    lost = steady_loss_w_per_m(body, around, most_degc)
    return math.sqrt(lost / body.heat_made_w_per_m(1.0, most_degc)) if lost > 0.0 else 0.0
