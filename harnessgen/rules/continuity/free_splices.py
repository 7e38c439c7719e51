"""Splices that a wire may have been meant for, in place of one at which two circuits meet."""

from collections.abc import Iterable, Iterator

from harnessgen.evidence.finding import Proposal
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire
from harnessgen.rules.wording.places import end_place


def free_splices(network: Network, wires: Iterable[Wire]) -> Iterator[Proposal]:
    """For each splice at which a wire meets another circuit: the splices without a wire, where its circuit names it."""
    design = network.design
    free = [name for name in design.splices if name not in network.wires_at]
    for wire in wires:
        for end in wire.ends:
            is_shared = any(other.circuit != wire.circuit for other in network.wires_at[end.node])
            if end.kind is EndKind.SPLICE and is_shared:
                for name in free:
                    words = f"{name} in place of {end.node} for circuit {wire.circuit}: no wire is there yet"
                    yield Proposal(end_place(design, wire, end), name, words)


def splices_of_its_own(network: Network, wires: Iterable[Wire], others: Iterable[Wire]) -> Iterator[Proposal]:
    """For each splice at which one of `wires` meets another circuit: those at which `others` of its circuit end."""
    own = dict.fromkeys(end.node for wire in others for end in wire.ends if end.kind is EndKind.SPLICE)
    for wire in wires:
        for end in wire.ends:
            is_shared = any(other.circuit != wire.circuit for other in network.wires_at[end.node])
            if end.kind is EndKind.SPLICE and is_shared and end.node not in own:
                for name in own:
                    words = (
                        f"{name} in place of {end.node} for {wire.mark}: circuit {wire.circuit} has its splice there"
                    )
                    yield Proposal(end_place(network.design, wire, end), name, words)
