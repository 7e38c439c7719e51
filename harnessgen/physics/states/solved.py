"""Lengths, resistances and operating points of a network in its declared states, each solved when first asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from harnessgen.lengths.wire_length import WireLength, wire_length
from harnessgen.measures.quantised import quantised
from harnessgen.network.electrical import Element
from harnessgen.network.network import Network
from harnessgen.physics.electrical.conditions import Case, Conditions
from harnessgen.physics.electrical.element_current import ElementCurrent, worst
from harnessgen.physics.electrical.element_resistance import element_ohm
from harnessgen.physics.electrical.operating_point import OperatingPoint, settled
from harnessgen.physics.electrical.shorted import is_shorted
from harnessgen.physics.states.carried import carried_amperes
from harnessgen.physics.states.conditions import case_ohms, state_conditions

# Loaded when it is asked for: a check of a small design should not wait for it.
if TYPE_CHECKING:
    from harnessgen.physics.loads.pulsed_currents import StateCurrents


@dataclass(frozen=True)
class SolvedStates:
    """Lengths, resistances and operating points of a network: what all other physics is computed from."""

    network: Network
    _conditions: dict[tuple[str, Case], Conditions] = field(default_factory=dict, init=False, repr=False, compare=False)
    _points: dict[tuple[str, Case], OperatingPoint] = field(default_factory=dict, init=False, repr=False, compare=False)
    _ohms: dict[Case, Mapping[str, float]] = field(default_factory=dict, init=False, repr=False, compare=False)
    _currents: dict[tuple[str, Case], StateCurrents] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    kept: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    """What a later part worked out from it once and asks for again, by a name of that part's own."""

    @cached_property
    def lengths(self) -> Mapping[str, WireLength]:
        """Length of each wire, by mark."""
        return {wire.mark: wire_length(self.network, wire) for wire in self.network.wires}

    @cached_property
    def ohms(self) -> Mapping[str, float]:
        """Resistance of each element while it conducts, by name, in ohm."""
        return {each.name: element_ohm(self.network, each, self.lengths) for each in self.network.electrical.elements}

    @cached_property
    def carried(self) -> Mapping[str, float | None]:
        """Current that what is the vehicle's carries already beside ours, by element, in A; None: nobody says."""
        return carried_amperes(self.network)

    @cached_property
    def points(self) -> Mapping[str, OperatingPoint]:
        """Operating point of each declared state, with everything as stated and the outputs that are on steadily on."""
        return {name: self.point_in(name, Case.STATED) for name in self.network.design.states}

    @cached_property
    def shorted(self) -> frozenset[str]:
        """Declared states in which a supply reaches ground without a load: what they give is the short's."""
        electrical = self.network.electrical
        return frozenset(name for name, point in self.points.items() if is_shorted(electrical, point))

    @cached_property
    def lasting(self) -> Mapping[str, OperatingPoint]:
        """Operating points of the declared states that stand for a steady load: no short, and no moment."""
        states = self.network.design.states
        return {
            name: point
            for name, point in self.points.items()
            if name not in self.shorted and not states[name].is_momentary
        }

    def solve(self, state: str, on: frozenset[str]) -> OperatingPoint:
        """Operating point with these switches and drivers on and supplies as they state, under the name `state`."""
        return settled(self.network, state_conditions(self.network, Case.STATED, self.ohms, state, on, None))

    def followed(self, state: str, begin: frozenset[str]) -> OperatingPoint:
        """Operating point of a declared state as stated, entered while the relays of `begin` hold.

        Raises:
            KeyError: no state has this name.
        """
        return settled(self.network, self.conditions_in(state, Case.STATED), None, begin)

    def ohms_in(self, case: Case) -> Mapping[str, float]:
        """Resistance of each element in a case, before what a state changes, by name, in ohm."""
        if case not in self._ohms:
            self._ohms[case] = case_ohms(self.network, self.ohms, self.lengths, case)
        return self._ohms[case]

    def conditions_in(self, state: str, case: Case) -> Conditions:
        """What a declared state is solved for in a case.

        Raises:
            KeyError: no state has this name.
        """
        if (state, case) not in self._conditions:
            declared = self.network.design.states[state]
            on = frozenset(declared.on)
            made = state_conditions(self.network, case, self.ohms_in(case), state, on, declared)
            self._conditions[state, case] = made
        return self._conditions[state, case]

    def point_in(self, state: str, case: Case) -> OperatingPoint:
        """Operating point of a declared state in a case; which relays hold is settled with everything as stated.

        A state that follows another begins with the relays as they stand there.

        Raises:
            KeyError: no state has this name.
        """
        if (state, case) not in self._points:
            given = self.conditions_in(state, case)
            holding = None if case is Case.STATED else self.point_in(state, Case.STATED).pulled_in
            before = self.network.design.states[state].after if holding is None else ""
            begin = self.point_in(before, Case.STATED).pulled_in if before else frozenset[str]()
            self._points[state, case] = settled(self.network, given, holding, begin)
        return self._points[state, case]

    def currents_in(self, state: str, case: Case) -> StateCurrents:
        """Peak, average and RMS current of every element of a declared state in a case.

        Raises:
            KeyError: no state has this name.
        """
        if (state, case) not in self._currents:
            from harnessgen.physics.loads.pulsed_currents import state_currents

            declared = self.network.design.states[state]
            given, point = self.conditions_in(state, case), self.point_in(state, case)
            self._currents[state, case] = state_currents(self.network, given, point, declared)
        return self._currents[state, case]

    @cached_property
    def currents(self) -> Mapping[str, Mapping[str, ElementCurrent]]:
        """Highest peak, average and RMS current over the three cases, by state and element."""
        found: dict[str, Mapping[str, ElementCurrent]] = {}
        for state in self.network.design.states:
            cases = [self.currents_in(state, case).elements for case in Case]
            found[state] = {name: worst(case[name] for case in cases) for name in cases[0]}
        return found

    def highest_current(self, element: Element) -> tuple[float, str]:
        """Highest current of an element over all declared states, in A, and the state that it flows in."""
        currents = ((abs(point.amperes[element.name]), name) for name, point in self.points.items())
        return max(currents, default=(0.0, ""), key=lambda each: quantised(each[0]))

    def deciding_state(self, element: str, figure: str = "rms_a") -> tuple[str, ElementCurrent] | None:
        """The state in which a figure (`rms_a`, `peak_a`, `mean_a`) of an element is highest, and its current there.

        None where there is no state, or the element carries no current in any. Of equal states it is the first.

        Raises:
            KeyError: no element has this name.
        """
        found = [(name, currents[element]) for name, currents in self.currents.items()]
        deciding = max(found, default=None, key=lambda each: quantised(getattr(each[1], figure)))
        return deciding if deciding is not None and getattr(deciding[1], figure) > 0.0 else None
