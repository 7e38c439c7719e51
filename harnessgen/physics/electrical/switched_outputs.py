"""Many outputs of one harness, each on by itself: what loads get, and what the output carries, relays followed.

An output adds one element to a network that is the same for all of them. So the network is assembled once for each
set of relays that many outputs leave holding, and each output, or the few relays that it moves, is laid over it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import inf

import numpy as np

from harnessgen.design.records.device import Relay
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.conditions import Conditions
from harnessgen.physics.electrical.conducting_network import LiveNetwork, live_network
from harnessgen.physics.electrical.operating_point import Search, conducting, settled
from harnessgen.physics.nodal.changes import Altered, Bridged, Change, solve_changed
from harnessgen.physics.nodal.elements import Floats
from harnessgen.physics.nodal.single_changes import solve_each

_CONTACTS = (ElementKind.MAKE, ElementKind.BREAK)


@frozen
class SwitchedOn:
    """For each output by itself the volts across each element asked for, from its `a` to its `b`, and its own current.

    Shapes: (outputs, elements) and (outputs); an element with an end that hangs free has no volts across it.
    """

    across_v: Floats
    own_a: Floats


def switched_on(
    network: Network, given: Conditions, outputs: Sequence[Element], asked: Sequence[Element]
) -> SwitchedOn:
    """Solve for `given`, every load a resistor, with each of `outputs` on as well: the same as an operating point each.

    Raises:
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    each = _Each(network, given, tuple(outputs), tuple(asked))
    across_v, own_a = np.zeros((len(outputs), len(each.read))), np.zeros(len(outputs))
    searches = [Search() for _ in outputs]
    left = list(range(len(outputs)))
    while left:
        together: dict[frozenset[str], list[int]] = {}
        for row in left:
            together.setdefault(searches[row].holds, []).append(row)
        for holds, rows in together.items():
            across_v[rows], own_a[rows] = each.solved(holds, rows)
        left = [row for row in left if searches[row].goes_on(each.holding(across_v[row]))]
    return SwitchedOn(across_v[:, : len(asked)], own_a)


@dataclass(frozen=True)
class _Each:
    network: Network
    given: Conditions
    outputs: tuple[Element, ...]
    asked: tuple[Element, ...]
    _assembled: dict[frozenset[str], LiveNetwork] = field(default_factory=dict)

    @cached_property
    def coils(self) -> tuple[Element, ...]:
        elements = self.network.electrical.elements
        return tuple(each for each in elements if each.kind is ElementKind.COIL and isinstance(each.device, Relay))

    @cached_property
    def read(self) -> tuple[Element, ...]:
        """Elements whose volts are wanted: those asked for, then the coils."""
        return (*self.asked, *self.coils)

    @cached_property
    def usual(self) -> frozenset[str]:
        """Relays that hold with no output on."""
        return settled(self.network, self.given).pulled_in

    @cached_property
    def _contacts(self) -> Mapping[str, list[Element]]:
        found: dict[str, list[Element]] = {}
        for each in self.network.electrical.elements:
            if each.kind in _CONTACTS:
                found.setdefault(each.switched_by, []).append(each)
        return found

    @cached_property
    def _place_of(self) -> Mapping[str, int]:
        return {each.name: place for place, each in enumerate(self._live(self.usual).resistive)}

    def holding(self, across_v: Floats) -> frozenset[str]:
        """Relays whose coils get enough, by the volts across everything read."""
        pull_in_v = self.given.pull_in_v
        names = (coil.device.name for coil in self.coils if coil.device is not None)
        volts = zip(names, across_v[len(self.asked) :].tolist(), strict=True)
        return frozenset(name for name, each in volts if abs(each) >= pull_in_v[name])

    def solved(self, holds: frozenset[str], rows: Sequence[int]) -> tuple[Floats, Floats]:
        """Volts across everything read, and own currents, with each of these outputs on and these relays holding."""
        if not holds or holds == self.usual:
            return self._each_alone(self._live(holds), rows)
        found = [self._with_relays(holds, row) for row in rows]
        return np.array([volts for volts, _ in found]), np.array([ampere for _, ampere in found])

    def _live(self, holds: frozenset[str]) -> LiveNetwork:
        if holds not in self._assembled:
            closed = [each for each in self.network.electrical.elements if conducting(each, self.given.on, holds)]
            self._assembled[holds] = live_network(self.network, closed, self.given.ohms, self.given.supply_v)
        return self._assembled[holds]

    def _each_alone(self, live: LiveNetwork, rows: Sequence[int]) -> tuple[Floats, Floats]:
        ends = self._ends(live)
        changes = [self._closed(live, self.outputs[row]) for row in rows]
        found = solve_each(live.nodal, changes, nodes=ends, resistors=())
        return self._across(found.voltages_v), found.changed_a

    def _with_relays(self, holds: frozenset[str], row: int) -> tuple[Floats, float]:
        """An output with the relays that it moves, all laid over what conducts with no output on."""
        live, place_of = self._live(self.usual), self._place_of
        changes: list[Change] = [self._closed(live, self.outputs[row])]
        for name in sorted(holds ^ self.usual):
            for contact in self._contacts[name]:
                place = place_of.get(contact.name)
                changes.append(self._closed(live, contact) if place is None else Altered(place, inf))
        solution = solve_changed(live.nodal, changes)
        volts = self._across(solution.voltages_v[self._ends(live)])
        return volts, float(solution.currents_a[len(live.resistive)])

    def _closed(self, live: LiveNetwork, element: Element) -> Bridged:
        return Bridged(live.index[element.a], live.index[element.b], self.given.ohms[element.name])

    def _ends(self, live: LiveNetwork) -> list[int]:
        return [*(live.index[each.a] for each in self.read), *(live.index[each.b] for each in self.read)]

    def _across(self, volts: Floats) -> Floats:
        count = len(self.read)
        return np.nan_to_num(volts[..., :count] - volts[..., count:], nan=0.0)
