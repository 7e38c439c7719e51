"""The wires on the ways from one node to any of many ends, asked of many nodes of the same network."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import networkx

from harnessgen.measures.frozen import frozen
from harnessgen.network.conduction import Conduction
from harnessgen.network.electrical import Element


@frozen
class _Part:
    """What hangs together: its wires on ways between ends or in loops, and for every other node the way towards them.

    `is_barred` is true where a way leads to what must not be met.
    """

    is_barred: bool
    inner: frozenset[str]
    wires: tuple[Element, ...]
    onward: Mapping[str, tuple[str, Element] | None]


@dataclass(frozen=True)
class WaysBetween:
    """Ways from any node to `ends`; where a way leads to one of `never` too there is none. Each part is walked once."""

    ways: Conduction
    ends: frozenset[str]
    never: frozenset[str]
    _part_of: dict[str, _Part] = field(default_factory=dict)

    def wires(self, start: str) -> Iterator[Element]:
        """Wires on the ways from a node, and in loops that hang on them."""
        if start in self.never:
            return
        part = self._part(start)
        if part.is_barred or not part.inner:
            return
        node = start
        while node not in part.inner:
            link = part.onward[node]
            assert link is not None
            node, element = link
            if element.wire is not None:
                yield element
        yield from part.wires

    def _part(self, start: str) -> _Part:
        if start not in self._part_of:
            reached = self.ways.part(start, self.never)
            self._part_of.update(dict.fromkeys(reached, self._walked(reached)))
        return self._part_of[start]

    def _walked(self, reached: tuple[str, ...]) -> _Part:
        beside = {node: self.ways.at(node) for node in reached}
        is_barred = any(after in self.never for found in beside.values() for after, _ in found)
        within: networkx.Graph[object] = networkx.Graph()
        # An element is a node of its own between its two ends, so that twins make a loop; an end is held by a loop.
        for node, found in beside.items():
            within.add_edges_from((node, (element.name, "")) for after, element in found if after not in self.never)
        for end in self.ends.intersection(reached):
            networkx.add_cycle(within, (end, (end, "1"), (end, "2")))
        # What leads nowhere carries nothing: it is taken off from its tips.
        core = networkx.k_core(within, 2)
        inner = dict.fromkeys(node for node in reached if node in core)
        wires = {
            each.name: each
            for node in inner
            for after, each in beside[node]
            if after in inner and each.wire is not None
        }
        onward = self.ways.ways_from(next(iter(inner)), avoid=self.never) if inner else {}
        return _Part(is_barred, frozenset(inner), tuple(wires.values()), onward)
