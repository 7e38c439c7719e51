"""A powered harness as it conducts with certain relays holding and certain fuses out, and what faults do to it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harnessgen.bench.fault import TOUCH_OHM, Change, Exchanged, Gone, Meets, Series, Shorted, Stuck, Swapped, Thinner
from harnessgen.bench.powered_rig import PoweredRig
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics import nodal_changes as nodal
from harnessgen.physics.live_network import LiveNetwork, live_network
from harnessgen.physics.nodal_each import solve_each
from harnessgen.physics.nodal_elements import Floats
from harnessgen.physics.nodal_lists import solve_lists
from harnessgen.physics.operating_point import conducting

_CHUNK = 512
"""Faults whose voltages are held at one time."""


@dataclass(frozen=True)
class Standing:
    """The harness with these switches and outputs on, these relays holding and these fuses out."""

    rig: PoweredRig
    on: frozenset[str]
    holds: frozenset[str]
    blown: frozenset[str]

    @cached_property
    def live(self) -> LiveNetwork:
        """What conducts without a fault."""
        network = self.rig.network
        closed = [
            each
            for each in network.electrical.elements
            if each.name not in self.blown and conducting(each, self.on, self.holds)
        ]
        supply_v = {name: supply.voltage_v.value for name, supply in network.design.supplies.items()}
        return live_network(network, closed, self.rig.fitted.physics.ohms, supply_v)

    @cached_property
    def _place_of(self) -> Mapping[str, int]:
        return {element.name: place for place, element in enumerate(self.live.resistive)}

    @cached_property
    def _of_device(self) -> Mapping[str, list[Element]]:
        found: dict[str, list[Element]] = {}
        for each in self.live.resistive:
            if each.device is not None:
                found.setdefault(each.device.name, []).append(each)
        return found

    def readings(
        self, changes: Sequence[Change], nodes: Sequence[str], elements: Sequence[str]
    ) -> tuple[Floats, Floats]:
        """Volts at `nodes` (changes, nodes) and amperes in `elements` (changes, elements) with each change alone."""
        at = np.array([self.live.index[name] for name in nodes], dtype=np.intp)
        places = np.array([self._place_of.get(name, -1) for name in elements], dtype=np.intp)
        conducts = places >= 0
        volts, amperes = np.zeros((len(changes), len(at))), np.zeros((len(changes), len(places)))
        made = [self.made(change) for change in changes]
        several = [row for row, each in enumerate(made) if len(each) != 1]
        single = [row for row, each in enumerate(made) if len(each) == 1]
        for first in range(0, len(several), _CHUNK):
            rows = np.array(several[first : first + _CHUNK], dtype=np.intp)
            found_v, found_a = solve_lists(
                self.live.nodal, [made[row] for row in rows.tolist()], at.tolist(), places[conducts].tolist()
            )
            volts[rows], amperes[np.ix_(rows, np.nonzero(conducts)[0])] = found_v, found_a
        for first in range(0, len(single), _CHUNK):
            rows = np.array(single[first : first + _CHUNK], dtype=np.intp)
            wanted = [made[row][0] for row in rows.tolist()]
            found = solve_each(self.live.nodal, wanted, nodes=at.tolist(), resistors=places[conducts].tolist())
            volts[rows], amperes[np.ix_(rows, np.nonzero(conducts)[0])] = found.voltages_v, found.currents_a
        return volts, amperes

    def made(self, change: Change) -> tuple[nodal.Change, ...]:
        """A fault as the solver takes it: the elements that it alters and adds; none where nothing that conducts is."""
        place_of, ohms = self._place_of, self.rig.fitted.physics.ohms
        match change:
            case Series(spot=spot, ohm=ohm):
                return (nodal.Altered(place_of[spot.mark], ohms[spot.mark] + ohm),) if spot.mark in place_of else ()
            case Thinner(mark=mark, times=times):
                return (nodal.Altered(place_of[mark], ohms[mark] * times),) if mark in place_of else ()
            case Meets(one=one, other=other, ohm=ohm):
                return (self._touching(self.rig.node(one), self.rig.node(other), max(ohm, TOUCH_OHM)),)
            case Gone(device=device):
                return tuple(nodal.Altered(place_of[each.name], np.inf) for each in self._of_device.get(device, ()))
            case Shorted(device=device):
                coils = (each for each in self._of_device.get(device, ()) if each.kind.does_work)
                return tuple(self._touching(each.a, each.b, TOUCH_OHM) for each in coils)
            case Stuck(device=device):
                element = self.rig.fitted.element_of[device]
                is_on = device in self._of_device
                return () if is_on else (self._touching(element.a, element.b, ohms[device]),)
            case Swapped(one=one, other=other):
                places = {one.mark: (one, other), other.mark: (other, one)}
                return tuple(
                    each
                    for mark, (left, taken) in places.items()
                    for each in self._moved(mark, self.rig.node(left), self.rig.node(taken))
                )
            case Exchanged(one=one, other=other):
                return tuple(each for name, far in ((one, other), (other, one)) for each in self._plugged(name, far))
        return ()

    def _touching(self, a: str, b: str, ohm: float) -> nodal.Change:
        return nodal.Bridged(self.live.index[a], self.live.index[b], ohm)

    def _moved(self, name: str, left: str, taken: str) -> tuple[nodal.Change, ...]:
        """An element that hangs at `taken` in place of `left`."""
        if name not in self._place_of:
            return ()
        element = self.live.resistive[self._place_of[name]]
        kept = element.b if element.a == left else element.a
        away = nodal.Altered(self._place_of[name], np.inf)
        return away, self._touching(taken, kept, self.rig.fitted.physics.ohms[name])

    def _plugged(self, connector: str, other: str) -> tuple[nodal.Change, ...]:
        """What is plugged into a connector plugged into the other."""
        contacts = (
            each
            for each in self.live.resistive
            if each.kind is ElementKind.CONTACT and each.a.partition("/")[0] == connector
        )
        moved = (self._moved(each.name, each.a, f"{other}/{each.a.partition('/')[2]}") for each in contacts)
        return tuple(each for pair in moved for each in pair)
