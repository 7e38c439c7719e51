"""What would make a wire that is too short reach: each remedy computed on the changed design, with what else changes.

A remedy is listed only if the wire then reaches, and no other wire of stated length that reached before falls short.
"""

from collections.abc import Mapping

from harnessgen.lengths.too_short.move_breakout import breakout_moves
from harnessgen.lengths.too_short.move_ends import brackets, splice_moves, turns
from harnessgen.lengths.too_short.trial import Bench, Remedy, least_cut_mm
from harnessgen.lengths.wire_length import ROUNDING_MM, WireLength
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire


def remedies(network: Network, lengths: Mapping[str, WireLength], wire: Wire) -> tuple[Remedy, ...]:
    """Every remedy of a wire of stated length that is too short, the ones that change least first."""
    length = lengths[wire.mark]
    if length.given_mm is None or length.margin_mm >= -ROUNDING_MM:
        return ()
    bench = Bench(network, lengths, wire)
    found = [*turns(bench), *brackets(bench), bench.longer(), *splice_moves(bench), *breakout_moves(bench)]
    return tuple(each for each in found if each is not None)


def recut_list(network: Network, lengths: Mapping[str, WireLength]) -> tuple[tuple[str, float, float], ...]:
    """The wires to be cut anew: mark, length that is there and length that reaches, in mm."""
    short = (
        (wire, lengths[wire.mark])
        for wire in network.wires
        if lengths[wire.mark].given_mm is not None and lengths[wire.mark].margin_mm < -ROUNDING_MM
    )
    return tuple((wire.mark, length.cut_mm, least_cut_mm(length)) for wire, length in short)
