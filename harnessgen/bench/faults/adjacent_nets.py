"""Which nets lie side by side along the route: each pair once, however many stretches the two share."""

from collections.abc import Iterator, Sequence

from harnessgen.bench.faults.bits import bits_of
from harnessgen.bench.setup.section_nets import point_of
from harnessgen.measures.frozen import frozen
from harnessgen.network.joined import joined
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.network.wires import Wire


@frozen
class SideBySide:
    """A wire of each of two nets in `leg`, the first stretch that these share.

    A net here is what hangs together on the bench, with every terminal off its stud. `others` is the number of
    stretches, or parts of one between splices, in which the two nets lie side by side too.
    """

    one: Wire
    other: Wire
    leg: Leg
    others: int


def side_by_side(network: Network) -> Iterator[SideBySide]:
    """Each pair of nets that share a stretch, once in each section, since a section is proved by itself.

    Nets and stretches are bits of whole numbers, so that a stretch costs what its nets and its new pairs are, and not
    the pairs that other stretches had before.
    """
    apart = joined((point_of(wire, wire.a), point_of(wire, wire.b)) for wire in network.wires)
    slots: dict[tuple[str, int], int] = {}
    nets_in: list[dict[int, Wire]] = []
    for wires in network.wires_by_leg.values():
        firsts = _first_wires(network, wires)
        keys = ((wire.section, apart[point_of(wire, wire.a)]) for wire in firsts)
        nets_in.append({slots.setdefault(key, len(slots)): wire for key, wire in zip(keys, firsts, strict=True)})
    stretches_of = [0] * len(slots)
    for number, of_slot in enumerate(nets_in):
        for slot in of_slot:
            stretches_of[slot] |= 1 << number
    met = [0] * len(slots)
    legs = {(leg.start, leg.end): leg for leg in network.route.legs}
    for ends, of_slot in zip(network.wires_by_leg, nets_in, strict=True):
        here = sum(1 << slot for slot in of_slot)
        place = {slot: at for at, slot in enumerate(of_slot)}
        after = here
        for slot, one in of_slot.items():
            after ^= 1 << slot
            for new in sorted(bits_of(after & ~met[slot]), key=place.__getitem__):
                shared = (stretches_of[slot] & stretches_of[new]).bit_count()
                yield SideBySide(one, of_slot[new], legs[ends], shared - 1)
            met[slot] |= here


def _first_wires(network: Network, wires: Sequence[Wire]) -> tuple[Wire, ...]:
    """One wire of each net of the whole harness in a stretch: what touches within a net does no harm."""
    found: dict[int, Wire] = {}
    for wire in wires:
        found.setdefault(network.net_of[wire.a.node], wire)
    return tuple(found.values())
