"""Wire families that stand a temperature, as proposals for one circuit, or for the whole design."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from harnessgen.evidence.finding import Proposal
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.source.kind import names_in

_MOST = 3


def families_that_stand(network: Network, wire: Wire, ambient_degc: float) -> Iterator[Proposal]:
    """Families on the shelf that have the size of `wire` and stand `ambient_degc`, the least rating first."""
    fitting = sorted(
        (family.rating_degc.value, name)
        for name, family in network.parts.wires.items()
        if family.rating_degc.value > ambient_degc and family.size(wire.size) is not None
    )
    names = [name for _, name in fitting[:_MOST]]
    for name in names:
        # Where the circuit names no family, one is written behind its size; where it does, that is no mapping any more.
        words = f"wire: {name} for circuit {wire.circuit}"
        yield Proposal(wire.size_place, f"{wire.size}, wire: {name}", words)
    yield from _for_the_whole_design(network, names)


def standing_families(network: Network, wire: Wire, ambient_degc: float) -> Proposal:
    """What the library has in the size of `wire` that stands a temperature, as advice; that there is none, too."""
    names = sorted(
        name
        for name, family in network.parts.wires.items()
        if family.rating_degc.value > ambient_degc and family.size(wire.size) is not None
    )
    words = f"in {wire.size} these families stand it: {names_in(names)}"
    if not names:
        words = f"no family of the library stands it in {wire.size}; lead the wire around, or state a family that does"
    return Proposal(wire.size_place, "", words, is_advice=True)


def families_that_carry(network: Network, wire: Wire, carries: Callable[[Wire], bool]) -> Iterator[Proposal]:
    """Families of a higher rating, each in the least size not below its own in which `wire` would carry its current.

    The last proposal is advice that names them all, where the file has no place to name one.
    """
    found: list[str] = []
    for rating, name in sorted((each.rating_degc.value, name) for name, each in network.parts.wires.items()):
        family = network.parts.wires[name]
        by_area = sorted(family.sizes.items(), key=lambda each: each[1].area_mm2.value)
        larger = [each for each in by_area if each[1].area_mm2.value >= wire.figures.area_mm2.value]
        for label, figures in larger[:_MOST] if rating > wire.family.rating_degc.value else ():
            size = ConductorSize(family.system, label)
            if carries(replace(wire, family=family, size=size, figures=figures)):
                words = f"{size} of {name} for {wire.mark}"
                found.append(f"{size} of {name}")
                yield Proposal(wire.size_place, f"{size}, wire: {name}", words)
                break
    if found:
        words = f"{wire.family.name} is too thin here in every size that fits; {' or '.join(found)} would carry it"
        yield Proposal(wire.size_place, "", words, is_advice=True)


def families_for_all(network: Network) -> Iterator[Proposal]:
    """Families that stand more heat than the design's own and have all sizes of its wires, the least rating first."""
    ratings = [wire.family.rating_degc.value for wire in network.wires]
    sizes = {wire.size for wire in network.wires}
    fitting = sorted(
        (family.rating_degc.value, name)
        for name, family in network.parts.wires.items()
        if family.rating_degc.value > min(ratings) and all(family.size(size) is not None for size in sizes)
    )
    yield from _for_the_whole_design(network, [name for _, name in fitting[:_MOST]])


def _for_the_whole_design(network: Network, names: Iterable[str]) -> Iterator[Proposal]:
    title = network.design.harness
    if title is not None and "wire" in title.places and len(title.wire) == 1:
        for name in names:
            yield Proposal(title.where("wire"), name, f"wire: {name} for the whole design", is_other_way=True)
