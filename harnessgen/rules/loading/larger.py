"""The larger sizes that wires could be made of, as proposals."""

from collections.abc import Sequence

from harnessgen.evidence.finding import Proposal
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.network.wires import Wire
from harnessgen.source.kind import names_in

_MOST = 4


def larger_sizes(wire: Wire) -> tuple[Proposal, ...]:
    """The next sizes of the wire's family, the least first."""
    area_mm2 = wire.figures.area_mm2.value
    by_area = sorted(wire.family.sizes.items(), key=lambda each: each[1].area_mm2.value)
    sizes = [ConductorSize(wire.family.system, label) for label, each in by_area if each.area_mm2.value > area_mm2]
    return tuple(Proposal(wire.size_place, str(size), f"{size} for {wire.mark}") for size in sizes[:_MOST])


def larger_sizes_of_all(wires: Sequence[Wire]) -> tuple[Proposal, ...]:
    """The next sizes for several wires at once, each written where its circuit says its size, as another way."""
    first = wires[0]
    proposals: list[Proposal] = []
    for each in larger_sizes(first):
        area_mm2 = first.family.sizes[each.text.partition(" ")[0]].area_mm2.value
        thinner = [wire for wire in wires if wire.figures.area_mm2.value < area_mm2]
        # Wires of a bank's pattern, and those of one circuit, share the place where their size is written.
        places = {wire.size_place._replace(pattern=""): wire.mark for wire in reversed(thinner)}
        own = first.size_place._replace(pattern="")
        besides = tuple((place, each.text) for place in places if place != own)
        words = f"{each.text} for {names_in(reversed(places.values()))}"
        proposals.append(Proposal(each.place, each.text, words, besides, is_other_way=True))
    return tuple(proposals)
