"""What every fault does to the voltages and currents of a powered harness, each fault alone.

Faults are laid over one factorised network, all at once. Where one of them moves a relay or blows a fuse, it is laid
over the network as it then stands, together with all others that leave it so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from harnessgen.bench.fault import Change
from harnessgen.bench.powered_rig import BLOWS_AT, PoweredRig
from harnessgen.bench.powered_standing import Standing
from harnessgen.design.device import Relay
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics import nodal_changes as nodal
from harnessgen.physics.live_network import LiveNetwork
from harnessgen.physics.nodal_elements import Flags, Floats
from harnessgen.physics.operating_point import OperatingPoint, Search


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


@dataclass
class _Course:
    """The way of one fault to rest: that of the relays, and the fuses that it blew."""

    relays: Search = field(default_factory=Search)
    blown: frozenset[str] = frozenset()

    @property
    def stands(self) -> tuple[frozenset[str], frozenset[str]]:
        """Relays that hold, and fuses that are out."""
        return self.relays.holds, self.blown

    def goes_on(self, holding: frozenset[str], blowing: frozenset[str]) -> bool:
        """Take what the relays do and, once they rest, which fuses blow; whether that changes anything.

        Relays that do not come to rest are left as they are when they begin anew, like those of an operating point.
        """
        if self.relays.goes_on(holding):
            return True
        if blowing:
            self.relays, self.blown = Search(), self.blown | blowing
        return bool(blowing)


@dataclass(frozen=True)
class PoweredSet:
    """A harness with some connectors apart and these switches and outputs on."""

    rig: PoweredRig
    on: tuple[str, ...]
    nodes: tuple[str, ...]
    """The nodes that are asked for."""
    _standings: dict[tuple[frozenset[str], frozenset[str]], Standing] = field(default_factory=dict)

    @cached_property
    def base(self) -> OperatingPoint:
        """The harness without a fault."""
        return self.rig.solve(self.on)

    @property
    def live(self) -> LiveNetwork:
        """What conducts without a fault."""
        return self._standing(self._holds, frozenset()).live

    def single(self, change: Change) -> nodal.Change | None:
        """The one element that a change alters or adds, relays and fuses as they are without it; None without one."""
        made = self._standing(self._holds, frozenset()).made(change)
        return made[0] if len(made) == 1 else None

    @cached_property
    def _holds(self) -> frozenset[str]:
        """Relays that hold without a fault."""
        return self.base.pulled_in

    def _standing(self, holds: frozenset[str], blown: frozenset[str]) -> Standing:
        if (holds, blown) not in self._standings:
            self._standings[holds, blown] = Standing(self.rig, frozenset(self.on), holds, blown)
        return self._standings[holds, blown]

    @cached_property
    def _elements(self) -> tuple[str, ...]:
        """What currents are asked of: fuses, outputs."""
        kinds = (ElementKind.FUSE, ElementKind.DRIVER)
        return tuple(each.name for each in self.rig.network.electrical.elements if each.kind in kinds)

    @cached_property
    def _coils(self) -> tuple[Element, ...]:
        return tuple(each for each in self.rig.network.electrical.elements if each.kind is ElementKind.COIL)

    @cached_property
    def _all_nodes(self) -> tuple[str, ...]:
        ends = [node for each in self._coils for node in (each.a, each.b)]
        return tuple(dict.fromkeys((*self.nodes, *ends)))

    def readings(self, changes: Sequence[Change]) -> Readings:
        """Volts and amperes with each change made alone."""
        node_of = {name: place for place, name in enumerate(self._all_nodes)}
        element_of = {name: place for place, name in enumerate(self._elements)}
        volts = np.full((len(changes), len(node_of)), np.nan)
        amperes = np.zeros((len(changes), len(element_of)))
        found = Readings(volts, amperes, node_of, element_of, np.ones(len(changes), dtype=np.bool_))
        usual = self._standing(self._holds, frozenset())
        made = [usual.made(change) for change in changes]
        self._lay(usual, changes, [row for row, each in enumerate(made) if len(each) <= 1], found)
        holding, blowing = self._moves(found)
        left = {
            row: _Course()
            for row, each in enumerate(made)
            if len(each) > 1 or (each and (holding[row] != self._holds or blowing[row]))
        }
        found.is_single[list(left)] = False
        while left:
            together: dict[tuple[frozenset[str], frozenset[str]], list[int]] = {}
            for row, course in left.items():
                together.setdefault(course.stands, []).append(row)
            for (holds, blown), rows in together.items():
                self._lay(self._standing(holds, blown), changes, rows, found)
            holding, blowing = self._moves(found)
            left = {row: course for row, course in left.items() if course.goes_on(holding[row], blowing[row])}
        return found

    def _lay(self, standing: Standing, changes: Sequence[Change], rows: Sequence[int], found: Readings) -> None:
        own = [changes[row] for row in rows]
        found.volts[rows], found.amperes[rows] = standing.readings(own, self._all_nodes, self._elements)

    def _moves(self, found: Readings) -> tuple[list[frozenset[str]], list[frozenset[str]]]:
        """Relays that pull in, and fuses that blow, with each change."""
        design, parts = self.rig.network.design, self.rig.network.parts
        holding: list[set[str]] = [set() for _ in found.volts]
        blowing: list[set[str]] = [set() for _ in found.volts]
        for coil in self._coils:
            if isinstance(coil.device, Relay):
                least_v = parts.relays[coil.device.part].pull_in_v.value
                for row in np.nonzero(np.abs(found.between(coil.a, coil.b)) >= least_v)[0].tolist():
                    holding[row].add(coil.device.name)
        for name, fuse in design.fuses.items():
            for row in np.nonzero(found.ampere(name) >= BLOWS_AT * fuse.rating_a.value)[0].tolist():
                blowing[row].add(name)
        return list(map(frozenset, holding)), list(map(frozenset, blowing))
