"""What every fault does to the voltages and currents of a powered harness, each fault alone.

Faults that change one element are laid over one factorised network, all at once. Where one of them would move a relay
or blow a fuse, and where it changes more than one element, the changed harness is solved by itself.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harnessgen.bench.fault import TOUCH_OHM, Change, Gone, Meets, Series, Shorted, Stuck, Thinner
from harnessgen.bench.powered_rig import BLOWS_AT, PoweredRig
from harnessgen.design.device import Relay
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics import nodal_changes as nodal
from harnessgen.physics.live_network import LiveNetwork, live_network
from harnessgen.physics.nodal_each import solve_each
from harnessgen.physics.nodal_elements import Flags, Floats
from harnessgen.physics.operating_point import OperatingPoint, conducting

_CHUNK = 512
"""Faults whose voltages are held at one time."""


@dataclass(frozen=True)
class Readings:
    """Volts (changes, nodes) against the reference, nan where a node hangs free, and amperes (changes, elements).

    `is_single` is true for each change that left all but one element as it was, relays and fuses too.
    """

    volts: Floats
    amperes: Floats
    node_of: Mapping[str, int]
    element_of: Mapping[str, int]
    is_single: Flags

    def between(self, a: str, b: str) -> Floats:
        """What a meter reads from `a` to `b`, in volts: nothing where one of them hangs free. Shape: changes."""
        return np.nan_to_num(self.volts[:, self.node_of[a]] - self.volts[:, self.node_of[b]], nan=0.0)

    def ampere(self, name: str) -> Floats:
        """Current of an element without its sign, in A; nothing for one that does not conduct. Shape: changes."""
        at = self.element_of.get(name)
        return np.abs(self.amperes[:, at]) if at is not None else np.zeros(len(self.amperes))


@dataclass(frozen=True)
class PoweredSet:
    """A harness with some connectors apart and these switches and outputs on."""

    rig: PoweredRig
    on: tuple[str, ...]
    nodes: tuple[str, ...]
    """The nodes that are asked for."""

    @cached_property
    def base(self) -> OperatingPoint:
        """Without a fault."""
        return self.rig.solve(self.on)

    @cached_property
    def live(self) -> LiveNetwork:
        """What conducts without a fault."""
        network, on = self.rig.network, frozenset(self.on)
        closed = [each for each in network.electrical.elements if conducting(each, on, self.base.pulled_in)]
        supply_v = {name: supply.voltage_v.value for name, supply in network.design.supplies.items()}
        return live_network(network, closed, self.rig.fitted.physics.ohms, supply_v)

    @cached_property
    def _place_of(self) -> Mapping[str, int]:
        return {element.name: place for place, element in enumerate(self.live.resistive)}

    @cached_property
    def _elements(self) -> tuple[Element, ...]:
        """What currents are asked of: fuses, outputs."""
        kinds = (ElementKind.FUSE, ElementKind.DRIVER)
        return tuple(each for each in self.live.resistive if each.kind in kinds)

    @cached_property
    def _coils(self) -> tuple[Element, ...]:
        return tuple(each for each in self.live.resistive if each.kind is ElementKind.COIL)

    @cached_property
    def _all_nodes(self) -> tuple[str, ...]:
        ends = [node for each in self._coils for node in (each.a, each.b)]
        return tuple(dict.fromkeys((*self.nodes, *ends)))

    def readings(self, changes: Sequence[Change]) -> Readings:
        """Volts and amperes with each change made alone."""
        node_of = {name: place for place, name in enumerate(self._all_nodes)}
        element_of = {element.name: place for place, element in enumerate(self._elements)}
        volts = np.full((len(changes), len(node_of)), np.nan)
        amperes = np.zeros((len(changes), len(element_of)))
        alone = list(range(len(changes)))
        single = [(row, change) for row, each in enumerate(changes) if (change := self.single(each)) is not None]
        for first in range(0, len(single), _CHUNK):
            rows = [row for row, _ in single[first : first + _CHUNK]]
            found = solve_each(
                self.live.nodal,
                [change for _, change in single[first : first + _CHUNK]],
                nodes=[self.live.index[name] for name in self._all_nodes],
                resistors=[self._place_of[element.name] for element in self._elements],
            )
            volts[rows], amperes[rows] = found.voltages_v, found.currents_a
        settled = Readings(volts, amperes, node_of, element_of, np.zeros(len(changes), dtype=np.bool_))
        is_same = self._is_settled(settled)
        done = {row for row, _ in single if is_same[row]}
        settled.is_single[[row for row in alone if row in done or self._is_idle(changes[row])]] = True
        for row in alone:
            if row not in done:
                point = self.base if self._is_idle(changes[row]) else self.rig.solve(self.on, changes[row])
                volts[row] = [point.volts[name] for name in self._all_nodes]
                amperes[row] = [point.amperes.get(element.name, 0.0) for element in self._elements]
        return settled

    def _is_settled(self, readings: Readings) -> Flags:
        """Whether every relay stays as it was and no fuse blows. Shape: changes."""
        is_settled = np.ones(len(readings.volts), dtype=np.bool_)
        design, parts = self.rig.network.design, self.rig.network.parts
        for coil in self._coils:
            if isinstance(coil.device, Relay):
                holds = np.abs(readings.between(coil.a, coil.b)) >= parts.relays[coil.device.part].pull_in_v.value
                is_settled &= holds == (coil.device.name in self.base.pulled_in)
        for name, fuse in design.fuses.items():
            is_settled &= readings.ampere(name) < BLOWS_AT * fuse.rating_a.value
        return is_settled

    def _is_idle(self, change: Change) -> bool:
        """Whether a change alters nothing of what conducts."""
        if isinstance(change, Gone):
            return not any(self._of_device(change.device))
        if isinstance(change, Series):
            return change.spot.mark not in self._place_of
        if isinstance(change, Thinner):
            return change.mark not in self._place_of
        return False

    def _of_device(self, name: str) -> list[Element]:
        return [each for each in self.live.resistive if each.device is not None and each.device.name == name]

    def single(self, change: Change) -> nodal.Change | None:
        """A change of one element as the solver takes it; None where it is idle or changes more than that."""
        index, ohms = self.live.index, self.rig.fitted.physics.ohms
        match change:
            case Series(spot=spot, ohm=ohm) if spot.mark in self._place_of:
                return nodal.Altered(self._place_of[spot.mark], ohms[spot.mark] + ohm)
            case Thinner(mark=mark, times=times) if mark in self._place_of:
                return nodal.Altered(self._place_of[mark], ohms[mark] * times)
            case Meets(one=one, other=other, ohm=ohm):
                a, b = index[self.rig.node(one)], index[self.rig.node(other)]
                return nodal.Bridged(a, b, max(ohm, TOUCH_OHM))
            case Gone(device=device):
                held = self._of_device(device)
                return nodal.Altered(self._place_of[held[0].name], np.inf) if len(held) == 1 else None
            case Shorted(device=device):
                coils = [each for each in self._of_device(device) if each.kind.does_work]
                return nodal.Bridged(index[coils[0].a], index[coils[0].b], TOUCH_OHM) if len(coils) == 1 else None
            case Stuck(device=device):
                element = self.rig.fitted.element_of[device]
                if self._of_device(device):
                    return None
                return nodal.Bridged(index[element.a], index[element.b], ohms[device])
            case _:
                return None
