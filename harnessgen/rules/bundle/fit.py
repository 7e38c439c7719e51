"""Words and proposals that the rules on coverings share."""

from collections.abc import Callable, Iterator

from harnessgen.evidence.finding import Proposal
from harnessgen.lengths.bundles.stretch import StretchBundle, stretch_bundles
from harnessgen.network.network import Network
from harnessgen.parts.covering import CoveringPart
from harnessgen.physics.electrical.element_resistance import ambient_degc


def has_grommets(network: Network) -> bool:
    """Whether any stretch has one; without, what they need is not loaded, since that costs a start."""
    return any(leg.stretch.grommets for leg in network.route.legs)


def covered(network: Network) -> Iterator[StretchBundle]:
    """The bundles that something covers."""
    yield from stretch_bundles(network, only_covered=True)


def bundle_words(bundle: StretchBundle) -> str:
    """How a bundle's diameter was found: `5 wires, rule of the trade, within -4 and +20 % of the best packing`."""
    found = bundle.diameter
    count = len(found.diameters_mm)
    words = f"{count} {'wire' if count == 1 else 'wires'}, {found.method.value}"
    if found.error == (0.0, 0.0):
        return words
    low, high = (round(100.0 * each) for each in found.error)
    return f"{words}, within {low:+d} and {high:+d} % of the best packing"


def other_coverings(
    network: Network, bundle: StretchBundle, fits: Callable[[CoveringPart], bool], most: int = 3
) -> tuple[Proposal, ...]:
    """Coverings that fit and stand the zone: those of the same make first, the narrowest of them first."""
    part = bundle.covering
    assert part is not None
    place = bundle.leg.stretch.where("covering")
    ambient = ambient_degc(network, bundle.leg)
    make = part.name.partition("-")[0]
    fitting = sorted(
        (name.partition("-")[0] != make, each.inside_mm.value, name)
        for name, each in network.parts.coverings.items()
        if each.rating_degc.value >= ambient and fits(each)
    )
    return tuple(Proposal(place, name, f"covering: {name}") for _, _, name in fitting[:most])
