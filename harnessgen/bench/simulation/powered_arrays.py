"""A powered harness with some connectors apart, as arrays: every element, what closes it, and what faults do to it.

All elements are in it, also those that are open; a standing (what is on, which relays hold, which fuses are out) is a
list of elements that conduct otherwise than they do in a network that was solved once.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from math import inf, isinf

import numpy as np

from harnessgen.bench.faults.fault import (
    TOUCH_OHM,
    Alteration,
    Exchanged,
    Gone,
    Series,
    Shorted,
    Stuck,
    Swapped,
    Thinner,
)
from harnessgen.bench.simulation.powered import PoweredRig
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics.electrical.conducting_network import LiveNetwork, live_network
from harnessgen.physics.electrical.operating_point import conducting
from harnessgen.physics.nodal.elements import Ints, connected
from harnessgen.physics.partitioned.partition import Parted, hubs_of, parted


@frozen
class Bridge:
    """Two nodes that touch through so many ohms."""

    a: int
    b: int
    ohm: float


@frozen
class Made:
    """What a fault alters: elements by their numbers with their siemens, and bridges."""

    siemens: Mapping[int, float]
    bridges: tuple[Bridge, ...]


_NOTHING = Made({}, ())


@dataclass(frozen=True)
class PoweredGrid:
    """The harness with these connectors apart."""

    rig: PoweredRig
    _solved: dict[tuple[frozenset[str], frozenset[str]], Parted] = field(default_factory=dict)

    @cached_property
    def _closed(self) -> LiveNetwork:
        """The harness with every switch, output and contact closed."""
        return self._live(None, frozenset())

    @property
    def index(self) -> Mapping[str, int]:
        """Number of each node."""
        return self._closed.index

    @property
    def elements(self) -> tuple[Element, ...]:
        """The elements that have a resistance, in the order of the solver."""
        return self._closed.resistive

    @cached_property
    def place_of(self) -> Mapping[str, int]:
        """Number of each element, by name."""
        return {element.name: place for place, element in enumerate(self.elements)}

    @cached_property
    def of_device(self) -> Mapping[str, list[int]]:
        """Elements of each device."""
        found: dict[str, list[int]] = {}
        for place, element in enumerate(self.elements):
            if element.device is not None:
                found.setdefault(element.device.name, []).append(place)
        return found

    @cached_property
    def _hubs(self) -> Ints:
        return hubs_of(self._closed.nodal)

    @cached_property
    def zones(self) -> Ints:
        """What each node may share a part with, whatever is switched; -1 where it is fixed (shape: nodes).

        A hub is a zone by itself, behind all others.
        """
        network = self._closed.nodal
        held = network.fixed.copy()
        held[self._hubs] = True
        have = network.elements
        inner = ~held[have.a] & ~held[have.b]
        label = connected(have.node_count, have.a[inner], have.b[inner])
        numbers = np.full(have.node_count, -1, dtype=np.intp)
        numbers[~held] = np.unique(label[~held], return_inverse=True)[1]
        numbers[self._hubs] = int(numbers.max(initial=-1)) + 1 + np.arange(len(self._hubs))
        return numbers

    @property
    def hub_count(self) -> int:
        """Number of hubs."""
        return len(self._hubs)

    @cached_property
    def zone_count(self) -> int:
        """Number of zones."""
        return int(self.zones.max(initial=-1)) + 1

    def solved(self, on: frozenset[str], holds: frozenset[str]) -> Parted:
        """The harness with these switches and outputs on and these relays holding."""
        if (on, holds) not in self._solved:
            self._solved[on, holds] = parted(self._live(on, holds).nodal, self._hubs)
        return self._solved[on, holds]

    def _live(self, on: frozenset[str] | None, holds: frozenset[str]) -> LiveNetwork:
        network, ohms = self.rig.network, self.rig.fitted.physics.ohms
        open_ohm = {
            each.name: inf
            for each in network.electrical.elements
            if on is not None and ohms[each.name] > 0 and not conducting(each, on, holds)
        }
        return live_network(network, network.electrical.elements, {**ohms, **open_ohm}, self.rig.supply_v)

    def siemens(self, place: int) -> float:
        """Conductance of an element while it conducts."""
        return 1.0 / self.rig.fitted.physics.ohms[self.elements[place].name]

    def switched(self, devices: Iterable[str], on: frozenset[str], holds: frozenset[str]) -> dict[int, float]:
        """Siemens of the elements that switches, outputs and relays open and close, as these now stand."""
        return {
            place: self.siemens(place) if conducting(self.elements[place], on, holds) else 0.0
            for name in devices
            for place in self.of_device.get(name, ())
            if self.elements[place].switched_by
        }

    def out(self, fuses: Iterable[str]) -> dict[int, float]:
        """Siemens of fuses that are out."""
        return {self.place_of[name]: 0.0 for name in fuses if name in self.place_of}

    def made(self, change: Alteration, on: frozenset[str]) -> Made:
        """A fault as the solver takes it, while these switches and outputs are on."""
        ohms = self.rig.fitted.physics.ohms
        match change:
            case Series(spot=spot, ohm=ohm):
                if spot.mark not in self.place_of:
                    return _NOTHING
                total = ohms[spot.mark] + ohm
                return Made({self.place_of[spot.mark]: 0.0 if isinf(total) else 1.0 / total}, ())
            case Thinner(mark=mark, times=times):
                return (
                    Made({self.place_of[mark]: 1.0 / (ohms[mark] * times)}, ()) if mark in self.place_of else _NOTHING
                )
            case Gone(device=device):
                places = self.of_device.get(device, ())
                return Made({each: 0.0 for each in places if conducting(self.elements[each], on, frozenset())}, ())
            case Shorted(device=device):
                coils = (self.elements[each] for each in self.of_device.get(device, ()))
                ends_of = ((self.index[each.a], self.index[each.b]) for each in coils if each.kind.does_work)
                return Made({}, tuple(Bridge(a, b, TOUCH_OHM) for a, b in ends_of))
            case Stuck(device=device):
                return Made({} if device in on else {self.place_of[device]: 1.0 / ohms[device]}, ())
            case Swapped(one=one, other=other):
                moves = ((one.mark, one, other), (other.mark, other, one))
                return self._all_moved((mark, self.rig.node(left), self.rig.node(taken)) for mark, left, taken in moves)
            case Exchanged(one=one, other=other):
                return self._all_moved(
                    (each.name, each.a, f"{far}/{each.a.partition('/')[2]}")
                    for name, far in ((one, other), (other, one))
                    for each in self._contacts.get(name, ())
                )

    @cached_property
    def _contacts(self) -> Mapping[str, list[Element]]:
        """Contacts of each connector."""
        found: dict[str, list[Element]] = {}
        for each in self.elements:
            if each.kind is ElementKind.CONTACT:
                found.setdefault(each.a.partition("/")[0], []).append(each)
        return found

    def _all_moved(self, moves: Iterable[tuple[str, str, str]]) -> Made:
        """Elements that hang at another node than before, each by its name, the node left and the node taken."""
        siemens: dict[int, float] = {}
        bridges: list[Bridge] = []
        for name, left, taken in moves:
            if name in self.place_of:
                place = self.place_of[name]
                element = self.elements[place]
                kept = element.b if element.a == left else element.a
                siemens[place] = 0.0
                bridges.append(Bridge(self.index[taken], self.index[kept], self.rig.fitted.physics.ohms[name]))
        return Made(siemens, tuple(bridges))
