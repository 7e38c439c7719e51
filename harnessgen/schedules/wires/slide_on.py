"""What has to be on a wire before one of its ends is finished."""

from collections import Counter
from collections.abc import Mapping

from harnessgen.lengths.bundles.grommets import all_slides
from harnessgen.measures.designator import natural_key
from harnessgen.network.network import HarnessSection, Network
from harnessgen.network.splices import leaves_towards
from harnessgen.network.wires import EndKind, Wire, WireEnd


def covering_words(network: Network, section: HarnessSection) -> Mapping[tuple[str, str], tuple[str, ...]]:
    """Closed coverings and grommets that do not pass a finished end, by its mark and node: `shrink-6.4 of b1 to c2`."""
    found: dict[tuple[str, str], list[str]] = {}
    for slide in all_slides(network, section):
        for obstacle in slide.ends:
            for end in obstacle.ends:
                found.setdefault(end, []).append(slide.words)
    return {end: tuple(dict.fromkeys(words)) for end, words in found.items()}


def slide_on_words(
    network: Network, wire: Wire, end: WireEnd, coverings: Mapping[tuple[str, str], tuple[str, ...]]
) -> str:
    """All that goes on before the end is finished: `seal-1.5; shrink-6.4 of b1 to c2`; empty where nothing does.

    `coverings` are those of the wire's section.
    """
    seal = network.seal_at(end)
    own = [seal.name] if seal else []
    if end.kind is EndKind.SPLICE and leaves_towards(network, wire, end.node) == sleeve_side(network, end.designator):
        own.append(f"{network.splice_part(end.designator).sleeve} of {end.designator}")
    return "; ".join([*own, *coverings.get((wire.mark, end.node), ())])


def sleeve_side(network: Network, splice: str) -> str | None:
    """The side of a splice on which its sleeve waits while it is crimped: that with the fewest wires.

    None where the splice's family has no sleeve.
    """
    if not network.splice_part(splice).sleeve:
        return None
    sides = Counter(leaves_towards(network, wire, splice) for wire in network.wires_at.get(splice, ()))
    return min(sides, key=lambda side: (sides[side], natural_key(side)), default=None)
