"""The wires on the ways from one node to any of many ends, asked of many nodes of the same network."""

from collections.abc import Container, Iterator
from dataclasses import dataclass, field

from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import Element
from harnessgen.rules.continuity.conduction import Conduction


@frozen
class _Part:
    """What hangs together: its wires on ways between ends or in loops, and for every other node the way towards them.

    `is_barred` is true where a way leads to what must not be met.
    """

    is_barred: bool
    inner: frozenset[str]
    wires: tuple[Element, ...]
    onward: dict[str, tuple[str, Element]]


@dataclass(frozen=True)
class WaysBetween:
    """Ways from any node to `ends`; where a way leads to one of `never` too there is none. Each part is walked once."""

    ways: Conduction
    ends: Container[str]
    never: Container[str]
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
            node, element = part.onward[node]
            if element.wire is not None:
                yield element
        yield from part.wires

    def _part(self, start: str) -> _Part:
        if start not in self._part_of:
            reached = list(self.ways.ways_from(start, avoid=self.never))
            self._part_of.update(dict.fromkeys(reached, self._walked(reached)))
        return self._part_of[start]

    def _walked(self, reached: list[str]) -> _Part:
        neighbours = self.ways.neighbours
        is_barred = any(after in self.never for node in reached for after, _ in neighbours.get(node, ()))
        kept = dict.fromkeys(reached)
        onward: dict[str, tuple[str, Element]] = {}
        # What leads nowhere carries nothing: it is taken off from its tips.
        tips = list(reached)
        while tips:
            node = tips.pop()
            beside = [each for each in neighbours.get(node, ()) if each[0] in kept]
            if node in kept and node not in self.ends and len(beside) <= 1:
                del kept[node]
                for after in beside:
                    onward[node] = after
                    tips.append(after[0])
        inner = (each for node in kept for each in neighbours.get(node, ()))
        wires = {each.name: each for after, each in inner if after in kept and each.wire is not None}
        return _Part(is_barred, frozenset(kept), tuple(wires.values()), onward)
