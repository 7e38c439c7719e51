"""Currents of all elements of a state with pulsed outputs: peak, average and RMS over a period.

By the theorem of substitution each pulsed load is a source of its own current; the rest of the network is resistive, so
every element's current is a steady part and a fixed share of each of those currents. Products of two currents have a
closed form, and with them the RMS.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from harnessgen.design.records.state import State
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import settled_number
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.conditions import Conditions
from harnessgen.physics.electrical.conducting_network import LiveNetwork, live_network
from harnessgen.physics.electrical.element_current import ElementCurrent, steady
from harnessgen.physics.electrical.operating_point import OperatingPoint, conducting
from harnessgen.physics.loads.pulsed_load import PulsedLoad, Seen, Timing, pulsed_load, timings
from harnessgen.physics.loads.waveform import Wave, mean_product_a2, standing
from harnessgen.physics.nodal.changes import Altered, solve_changed
from harnessgen.physics.nodal.elements import Floats

OPEN_OHM = 1e9
"""In place of a pulsed load, so that what hangs between it and its driver keeps a path; it carries nanoamperes."""

# A load belongs to a driver when it loses all but this share of its current with it.
_LEFT_WITHOUT = 0.01
# The steady currents have to come out again from the shares, to this share of the highest of them.
_AGREES = 2e-3
_SAMPLES = 9
# Times that the loads of several drivers are found anew with what the others draw meanwhile; each brings it a
# hundred times nearer, since they share only a feed's few milliohms.
_PASSES = 3


@frozen
class Pulsating:
    """A current with a steady part beside pulses, in A: their average, in A, and the average of their square, in A2."""

    steady_a: float
    pulses_mean_a: float
    pulses_square_a2: float


@frozen
class StateCurrents:
    """Currents of a state in one case: every element by name, and the pulsed loads by name.

    `pulsating` are the parts that the current of each element other than these loads is made of. `remark` says where
    something was simplified; empty where all is exact.
    """

    elements: Mapping[str, ElementCurrent]
    pulsed: Mapping[str, PulsedLoad]
    pulsating: Mapping[str, Pulsating]
    remark: str = ""


def state_currents(network: Network, given: Conditions, point: OperatingPoint, state: State | None) -> StateCurrents:
    """Currents in the state that `point` is the solution of, outputs pulsed as `state` says.

    Raises:
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    flat = {name: steady(current, given.case) for name, current in point.amperes.items()}
    pulsing = timings(state) if state is not None else {}
    pulsing = {name: timing for name, timing in pulsing.items() if name in point.on}
    if not pulsing:
        return StateCurrents(flat, {}, {})
    return _Pulsed(network, given, point).currents(flat, pulsing)


@frozen
class _LoadPorts:
    """The network as the pulsed loads see it, with all of them open.

    `base_a` is the steady part of each element, `shares` its part of each load's current; `open_v` the voltage that
    waits at each load, `falls_ohm[k, l]` by how much that of load `k` falls for each ampere of load `l`.
    """

    base_a: Floats
    shares: Floats
    open_v: Floats
    falls_ohm: Floats


def _meanwhile(loads: Sequence[PulsedLoad]) -> Floats:
    """Average current of each load (columns), with its sign, while the driver of each load (rows) is on."""
    lines = [each.line.delayed(each.timing.delay_s) for each in loads]
    found = np.zeros((len(loads), len(loads)))
    for row, each in enumerate(loads):
        timing = each.timing
        window = Wave(timing.period_s, (standing(timing.on_s, 1.0),)).delayed(timing.delay_s)
        for column, line in enumerate(lines):
            found[row, column] = loads[column].sign * mean_product_a2(window, line) / timing.duty
    return found


def _seen(open_v: float, steady_a: float, all_a: float) -> Seen:
    """What a load sees, its driver carrying `all_a`; a current that is nought in nine decimals stays as it is."""
    steady_a = settled_number(steady_a) or steady_a
    return Seen(settled_number(open_v), steady_a, settled_number(all_a / abs(steady_a)))


@dataclass(slots=True)
class _Pulsed:
    network: Network
    given: Conditions
    point: OperatingPoint

    def currents(self, flat: dict[str, ElementCurrent], pulsing: Mapping[str, Timing]) -> StateCurrents:
        """Currents of every element; as with steady outputs where the shares do not explain the steady currents."""
        closed = [
            each
            for each in self.network.electrical.elements
            if conducting(each, self.point.on, self.point.pulled_in) and each.name in self.point.ohms
        ]
        driven_by = self._driven_by(closed, pulsing)
        if not driven_by:
            return StateCurrents(flat, {}, {})
        loads = [each for each in closed if each.name in driven_by]
        ohms = {**self.point.ohms, **dict.fromkeys(driven_by, OPEN_OHM)}
        live = live_network(self.network, closed, ohms, self.given.supply_v)
        ports = self._ports(live, loads)
        names = [each.name for each in live.elements]
        if not self._explains(ports, names, loads):
            remark = "pulsed loads depend on each other in series or on a reversed diode; all is taken as steadily on"
            return StateCurrents(flat, {}, {}, remark)
        pulsed = self._pulsed_loads(ports, loads, [pulsing[driven_by[each.name]] for each in loads])
        lines = [each.line.delayed(each.timing.delay_s) for each in pulsed]
        signed = ports.shares * np.array([each.sign for each in pulsed])[None, :]
        parts = dict(zip(names, self._parts(ports.base_a, signed, lines), strict=True))
        peaks = dict(zip(names, self._peaks(ports.base_a, signed, lines).tolist(), strict=True))
        flat.update({name: self._whole(part, peaks[name]) for name, part in parts.items()})
        pulsed = self._taking_over(loads, pulsed)
        flat.update({each.name: self._own(each.coil) for each in pulsed})
        by_name = {each.name: each for each in pulsed}
        others = {name: part for name, part in parts.items() if name not in by_name}
        return StateCurrents(flat, by_name, others, self._remark(driven_by, lines))

    def _explains(self, ports: "_LoadPorts", names: Sequence[str], loads: Sequence[Element]) -> bool:
        """Whether the steady currents come out again from the shares of the loads' steady currents."""
        driven = {each.name for each in loads}
        steady_a = np.array([self.point.amperes[each.name] for each in loads])
        stated_a = np.array([self.point.amperes[name] for name in names])
        others = np.array([name not in driven for name in names])
        wrong = np.abs(ports.base_a + ports.shares @ steady_a - stated_a)[others]
        return bool(np.max(wrong, initial=0.0) <= _AGREES * np.max(np.abs(stated_a), initial=1e-12))

    def _own(self, wave: Wave) -> ElementCurrent:
        return ElementCurrent(wave.peak_a, abs(wave.mean_a), wave.rms_a, self.given.case, self.given.case)

    def _taking_over(self, loads: Sequence[Element], pulsed: Sequence[PulsedLoad]) -> list[PulsedLoad]:
        """The pulsed loads, each resistor across a coil with what it takes over of the coil, the other way round."""
        coils = {
            each.device.name: found
            for each, found in zip(loads, pulsed, strict=True)
            if each.device is not None and each.kind.does_work
        }
        found: list[PulsedLoad] = []
        for element, own in zip(loads, pulsed, strict=True):
            coil = coils.get(element.device.name) if element.device is not None else None
            if element.kind is ElementKind.SUPPRESSOR and coil is not None:
                falls = (each.reversed() for each in coil.coil.segments if each.is_falling)
                own = replace(own, coil=Wave(own.coil.period_s, (*own.coil.segments, *falls)))
            found.append(own)
        return found

    def _driven_by(self, closed: Sequence[Element], pulsing: Mapping[str, Timing]) -> dict[str, str]:
        """The pulsed driver of each load and relay coil that has one."""
        live = live_network(self.network, closed, self.point.ohms, self.given.supply_v)
        works = [
            (index, each)
            for index, each in enumerate(live.resistive)
            if each.kind.limits_current and abs(self.point.amperes[each.name]) > 1e-9
        ]
        found: dict[str, str] = {}
        for index, driver in enumerate(live.resistive):
            if driver.kind is not ElementKind.DRIVER or driver.name not in pulsing:
                continue
            without = solve_changed(live.nodal, [Altered(index, np.inf)]).currents_a
            for at, each in works:
                if abs(without[at]) < _LEFT_WITHOUT * abs(self.point.amperes[each.name]):
                    found.setdefault(each.name, driver.name)
        return found

    def _ports(self, live: LiveNetwork, loads: Sequence[Element]) -> "_LoadPorts":
        a = np.array([live.index[each.a] for each in loads])
        b = np.array([live.index[each.b] for each in loads])
        rest = live.nodal.solve()
        drawn = np.zeros((live.nodal.elements.node_count, len(loads)))
        np.subtract.at(drawn, (a, np.arange(len(loads))), 1.0)
        np.add.at(drawn, (b, np.arange(len(loads))), 1.0)
        quiet = dict.fromkeys(np.nonzero(live.nodal.fixed)[0].tolist(), 0.0)
        response = live.nodal.solve(drawn, quiet)
        falls = response.voltages_v[b] - response.voltages_v[a]
        open_v = rest.voltages_v[a] - rest.voltages_v[b]
        return _LoadPorts(live.currents_a(rest), live.currents_a(response), open_v, falls)

    def _pulsed_loads(
        self, ports: "_LoadPorts", loads: Sequence[Element], timing: Sequence[Timing]
    ) -> list[PulsedLoad]:
        """The current of each pulsed load: those of one driver together, other drivers' by their average meanwhile."""
        ohms = np.array([self.point.ohms[each.name] for each in loads])
        together = np.array([[one.driver == other.driver for other in timing] for one in timing])
        settled = np.linalg.inv(np.where(together, ports.falls_ohm, 0.0) + np.diag(ohms))
        foreign = np.where(together, 0.0, ports.falls_ohm)
        found: list[PulsedLoad] = []
        taken_v = np.zeros(len(loads))
        for _ in range(_PASSES if foreign.any() else 1):
            # What other drivers' loads draw meanwhile differs from load to load, and so does what is left of the feed.
            met_v = ports.open_v - taken_v
            steady_a = settled @ met_v
            sums = together @ np.abs(steady_a)
            found = [
                self._pulsed_load(element, each, _seen(float(volts), float(current), float(total)))
                for element, each, volts, current, total in zip(loads, timing, met_v, steady_a, sums, strict=True)
            ]
            taken_v = np.sum(foreign * _meanwhile(found), axis=1)
        return found

    def _pulsed_load(self, element: Element, timing: Timing, seen: Seen) -> PulsedLoad:
        driver = self.network.design.drivers[timing.driver]
        return pulsed_load(self.network, element, self.point.ohms[element.name], driver, timing, seen)

    def _parts(self, base_a: Floats, signed: Floats, lines: Sequence[Wave]) -> list[Pulsating]:
        means = signed @ np.array([line.mean_a for line in lines])
        products = np.array([[mean_product_a2(one, other) for other in lines] for one in lines])
        squares = np.maximum(np.sum((signed @ products) * signed, axis=1), 0.0)
        rows = zip(base_a.tolist(), means.tolist(), squares.tolist(), strict=True)
        return [Pulsating(*map(settled_number, each)) for each in rows]

    def _whole(self, part: Pulsating, peak_a: float) -> ElementCurrent:
        square = part.steady_a**2 + 2.0 * part.steady_a * part.pulses_mean_a + part.pulses_square_a2
        mean_a = abs(part.steady_a + part.pulses_mean_a)
        rms_a = settled_number(math.sqrt(max(square, 0.0)))
        return ElementCurrent(settled_number(peak_a), mean_a, rms_a, self.given.case, self.given.case)

    def _peaks(self, base_a: Floats, signed: Floats, lines: Sequence[Wave]) -> Floats:
        """Highest current of each element; where periods differ, as if all peaks met once."""
        periods = {line.period_s for line in lines}
        if len(periods) > 1:
            return np.asarray(np.abs(base_a) + np.abs(signed) @ np.array([line.peak_a for line in lines]))
        cuts = sorted({each for line in lines for each in line.breaks_s})
        # A sum of exponentials may turn once between two cuts; just before a cut the current is still there.
        times = [
            low + (high - low) * step / (_SAMPLES - 1) * (1.0 - 1e-12)
            for low, high in pairwise(cuts)
            for step in range(_SAMPLES)
        ]
        sampled = np.array([[line.at(time) for time in times] for line in lines])
        return np.asarray(np.max(np.abs(base_a[:, None] + signed @ sampled), axis=1, initial=0.0))

    def _remark(self, driven_by: Mapping[str, str], lines: Sequence[Wave]) -> str:
        remarks = []
        if len(set(driven_by.values())) > 1:
            remarks.append("outputs that share a feed are taken to see each other's average current meanwhile")
        if len({line.period_s for line in lines}) > 1:
            remarks.append("outputs of different periods are taken to reach their peaks together once")
        if self.given.characters:
            remarks.append("loads that keep their power or current are taken as resistors around the steady state")
        return "; ".join(remarks)
