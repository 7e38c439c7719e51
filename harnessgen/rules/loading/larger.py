"""The larger sizes that a wire could be made of, as proposals."""

from harnessgen.evidence.finding import Proposal
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.network.wires import Wire

_MOST = 4


def larger_sizes(wire: Wire) -> tuple[Proposal, ...]:
    """The next sizes of the wire's family, the least first."""
    area_mm2 = wire.figures.area_mm2.value
    by_area = sorted(wire.family.sizes.items(), key=lambda each: each[1].area_mm2.value)
    sizes = [ConductorSize(wire.family.system, label) for label, each in by_area if each.area_mm2.value > area_mm2]
    return tuple(Proposal(wire.size_place, str(size), f"{size} for {wire.mark}") for size in sizes[:_MOST])
