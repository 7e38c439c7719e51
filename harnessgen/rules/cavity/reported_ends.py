"""Where ways end for want of a wire, as the rules on cavities tell it."""

from harnessgen.network.electrical import mate_of
from harnessgen.network.network import Network
from harnessgen.rules.cavity.mate_mismatch import lone_halves
from harnessgen.rules.cavity.pins import empty_pins, is_behind_nothing


def told_ends(network: Network) -> set[str]:
    """Nodes of cavities that `mate-mismatch` or `orphan-cavity` tells: what hangs at one needs no other finding."""
    ends = {node for _, *halves in lone_halves(network) for node in halves}
    ends |= {mate_of(pin.cavity) for pin in empty_pins(network)}
    return ends | {end.node for wire in network.wires for end in wire.ends if is_behind_nothing(network, end)}
