"""Which nets of a harness a fault is at, and which of them steps read or work something on."""

from collections.abc import Iterable, Mapping
from functools import cached_property

from harnessgen.bench.faults.fault import Change, Exchanged, Gone, Meets, Series, Shorted, Stuck, Swapped, Thinner
from harnessgen.bench.setup.step import Block, Phase
from harnessgen.network.network import Network


class Touched:
    """The nets of a network by the wires, devices and connectors that are on them."""

    def __init__(self, network: Network) -> None:
        """Take the network as it is; what is asked for is looked up once."""
        self.network = network

    @cached_property
    def _of_device(self) -> Mapping[str, frozenset[int]]:
        found: dict[str, set[int]] = {}
        for element in self.network.electrical.elements:
            if element.device is not None:
                ends = (self.network.net_of[element.a], self.network.net_of[element.b])
                found.setdefault(element.device.name, set()).update(ends)
        return {name: frozenset(nets) for name, nets in found.items()}

    @cached_property
    def _of_connector(self) -> Mapping[str, frozenset[int]]:
        found: dict[str, set[int]] = {}
        for node, net in self.network.net_of.items():
            found.setdefault(node.partition("/")[0], set()).add(net)
        return {name: frozenset(nets) for name, nets in found.items()}

    def _of_wire(self, mark: str) -> int:
        return self.network.net_of[self.network.wire_of[mark].a.node]

    def nets_of(self, change: Change) -> frozenset[int]:
        """The nets that a fault is at."""
        match change:
            case Series(spot=spot):
                return frozenset((self._of_wire(spot.mark),))
            case Thinner(mark=mark):
                return frozenset((self._of_wire(mark),))
            case Meets(one=one, other=other) | Swapped(one=one, other=other):
                return frozenset(self._of_wire(spot.mark) for spot in (one, other) if spot.mark)
            case Exchanged(one=name, other=second):
                return self._of_connector.get(name, frozenset()) | self._of_connector.get(second, frozenset())
            case Gone(device=device) | Stuck(device=device) | Shorted(device=device):
                return self._of_device.get(device, frozenset())

    def read_by(self, blocks: Iterable[Block]) -> frozenset[int]:
        """Nets that any step of these blocks reads, or works a load or an output of."""
        marks, nodes, devices = set[str](), set[str](), set[str]()
        for block in blocks:
            for step in block.steps if block.setup.phase is not Phase.LOOK else ():
                marks.update(step.covers)
                devices.update(step.on)
                # A wire off its stud is named after the stud and itself.
                nodes.update(point.partition(" ")[0] for point in step.joined)
                for place in (step.a, step.b):
                    if place is not None:
                        nodes.add(place.node)
                        marks.update(place.wires)
                if step.reactions is not None:
                    devices.update(step.reactions.work, step.reactions.rest)
        nets = {self._of_wire(mark) for mark in marks if mark in self.network.wire_of}
        nets.update(self.network.net_of[node] for node in nodes if node in self.network.net_of)
        return frozenset(nets.union(*(self._of_device.get(device, ()) for device in devices)))
