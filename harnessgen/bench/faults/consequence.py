"""What a fault leads to: told from the loads that hang on the wire, and from whether a fuse would see it.

A bank of like coils that loses one of its number, or is fed when it should not be, gives no sign until the engine is at
full load: that is taken as engine damage. A short before any fuse, and heat in a joint, are taken as fire.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from harnessgen.bench.faults.fault import Consequence
from harnessgen.bench.setup.installed import Fitted
from harnessgen.network.electrical import ElementKind
from harnessgen.network.wires import Wire
from harnessgen.rules.protection.fused import behind_fuses, unfused

HOT_JOINT_W = 5.0
"""A joint that takes so much heats what is around it beyond what insulation stands (common practice, no source)."""
_SILENT_KINDS = ("coil",)
_ORDER = tuple(Consequence)
"""From the least to the gravest."""


@dataclass(frozen=True)
class Consequences:
    """Consequences of the faults of one harness."""

    fitted: Fitted

    @cached_property
    def _loads_on(self) -> Mapping[int, frozenset[str]]:
        """Loads that each net feeds or returns, those behind relays and switches left out."""
        found: dict[int, set[str]] = {}
        net_of = self.fitted.network.net_of
        for element in self.fitted.network.electrical.elements:
            if element.kind is ElementKind.LOAD and element.device is not None:
                for node in (element.a, element.b):
                    found.setdefault(net_of[node], set()).add(element.device.name)
        return {net: frozenset(names) for net, names in found.items()}

    @cached_property
    def _highest_a(self) -> Mapping[str, float]:
        """Highest current of each element in any declared state."""
        found: dict[str, float] = {}
        for point in self.fitted.physics.points.values():
            for name, ampere in point.amperes.items():
                found[name] = max(found.get(name, 0.0), abs(ampere))
        return found

    @cached_property
    def _silent_nets(self) -> frozenset[int]:
        """Nets with a load on them whose fault gives no sign."""
        figures = self.fitted.figures
        return frozenset(
            net for net, loads in self._loads_on.items() if any(figures[each].kind in _SILENT_KINDS for each in loads)
        )

    @cached_property
    def _fed_by(self) -> Mapping[str, tuple[str, ...]]:
        """Marks of the wires that each fuse feeds."""
        return {each.fuse.name: tuple(wire.name for wire in each.wires) for each in behind_fuses(self.fitted.network)}

    @cached_property
    def _fed_by_fuse(self) -> frozenset[str]:
        return frozenset(mark for marks in self._fed_by.values() for mark in marks)

    @cached_property
    def _unfused(self) -> frozenset[str]:
        return frozenset(each.wire.name for each in unfused(self.fitted.network))

    @cached_property
    def _unfused_nets(self) -> frozenset[int]:
        net_of, wires = self.fitted.network.net_of, self.fitted.network.wire_of
        return frozenset(net_of[wires[mark].a.node] for mark in self._unfused)

    @cached_property
    def _ground_nets(self) -> frozenset[int]:
        return self.fitted.ground_nets

    def _net(self, wire: Wire) -> int:
        return self.fitted.network.net_of[wire.a.node]

    def _grave(self, loads: Iterable[str]) -> Consequence:
        """What it means that these loads do not work, or work when they should not."""
        kinds = [self.fitted.figures[name].kind for name in loads]
        silent = [kind for kind in kinds if kind in _SILENT_KINDS]
        return Consequence.ENGINE_DAMAGE if silent else Consequence.LIMP

    def _grave_on(self, net: int) -> Consequence:
        """What it means that the loads on a net do not work, or work when they should not."""
        return Consequence.ENGINE_DAMAGE if net in self._silent_nets else Consequence.LIMP

    def load_out(self, names: Iterable[str]) -> Consequence:
        """These loads, or the loads behind these relays, do not work."""
        return self._grave(name for name in names if name in self.fitted.figures)

    def exchanged(self, names: Iterable[str]) -> Consequence:
        """These loads work at each other's time."""
        return self._grave(names)

    def opened(self, wire: Wire) -> Consequence:
        """The wire does not conduct."""
        return self._grave_on(self._net(wire))

    def poor_joint(self, wire: Wire, ohm: float) -> Consequence:
        """The wire conducts through so many ohms more."""
        ampere = self._highest_a.get(wire.mark, 0.0)
        if ampere * ampere * ohm >= HOT_JOINT_W:
            return Consequence.FIRE
        return self.opened(wire)

    def too_thin(self, wire: Wire) -> Consequence:
        """The wire is a size too small: it may run hot, and what it feeds gets less."""
        return Consequence.FIRE if wire.mark in self._fed_by_fuse else self.opened(wire)

    def chafed(self, wire: Wire) -> Consequence:
        """The wire touches ground."""
        if wire.mark in self._unfused:
            return Consequence.FIRE
        net = self._net(wire)
        return Consequence.HARMLESS if net in self._ground_nets else self._grave_on(net)

    def joined(self, one: Wire, other: Wire) -> Consequence:
        """Two nets touch, wherever they do."""
        first, second = self._net(one), self._net(other)
        if first == second:
            return Consequence.HARMLESS
        if first in self._ground_nets:
            first, second = second, first
        if second in self._ground_nets:
            if first in self._unfused_nets:
                return Consequence.FIRE
            return Consequence.HARMLESS if first in self._ground_nets else self._grave_on(first)
        return max(self._grave_on(first), self._grave_on(second), key=_ORDER.index)

    def swapped(self, one: Wire, other: Wire) -> Consequence:
        """Each of two wires does the other's work."""
        return max(self.opened(one), self.opened(other), self.joined(one, other), key=_ORDER.index)

    def fuse_out(self, name: str) -> Consequence:
        """A fuse does not conduct."""
        fed = self._fed_by.get(name, ())
        net_of, wires = self.fitted.network.net_of, self.fitted.network.wire_of
        return self._grave(load for mark in fed for load in self._loads_on.get(net_of[wires[mark].a.node], ()))

    def output(self, name: str) -> tuple[Consequence, Consequence]:
        """An output is on for good, or off for good."""
        grave = self._grave_on(self.fitted.network.net_of[self.fitted.element_of[name].a])
        return grave, grave
