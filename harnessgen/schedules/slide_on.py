"""What has to be on a wire before one of its ends is finished, as far as the design tells."""

from collections import Counter

from harnessgen.measures.designator import natural_key
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.schedules.splice_schedule import leaves_towards


def closed_coverings(network: Network, wire: Wire, end: WireEnd) -> tuple[str, ...]:
    """Closed coverings on the way of `wire` that lie nearer to `end` than to its other end, in words, nearest first.

    How large a finished end is the data do not say, so each of them goes on first.
    """
    way = wire.way if end is wire.a else wire.way[::-1]
    whole_mm = sum(leg.length_mm for leg in way)
    words: list[str] = []
    before_mm = 0.0
    for leg in way:
        middle_mm = before_mm + leg.length_mm / 2
        before_mm += leg.length_mm
        # The middle of the way belongs to end a alone, so that no piece is told twice.
        is_nearer = middle_mm < whole_mm / 2 or (middle_mm == whole_mm / 2 and end is wire.a)
        text = _closed_words(network, leg)
        if is_nearer and text and text not in words:
            words.append(text)
    return tuple(words)


def _closed_words(network: Network, leg: Leg) -> str:
    part = network.parts.coverings[leg.stretch.covering] if leg.stretch.covering else None
    return f"{part.name} of {leg.name}" if part is not None and part.is_closed else ""


def slide_on_words(network: Network, wire: Wire, end: WireEnd) -> str:
    """All that goes on before the end is finished: `seal-1.5; shrink-6.4 of b1 to c2`; empty where nothing does."""
    seal = network.seal_at(end)
    own = [seal.name] if seal else []
    if end.kind is EndKind.SPLICE and leaves_towards(network, wire, end.node) == sleeve_side(network, end.designator):
        own.append(f"{network.splice_part(end.designator).sleeve} of {end.designator}")
    return "; ".join([*own, *closed_coverings(network, wire, end)])


def sleeve_side(network: Network, splice: str) -> str | None:
    """The side of a splice on which its sleeve waits while it is crimped: that with the fewest wires.

    None where the splice's family has no sleeve.
    """
    if not network.splice_part(splice).sleeve:
        return None
    sides = Counter(leaves_towards(network, wire, splice) for wire in network.wires_at.get(splice, ()))
    return min(sides, key=lambda side: (sides[side], natural_key(side)), default=None)
