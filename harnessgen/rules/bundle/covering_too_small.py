"""A covering into which its bundle, or a splice on it, does not go."""

from dataclasses import replace

from harnessgen.evidence.finding import Finding, Number, Severity, at_least
from harnessgen.lengths.bundles.stretch import StretchBundle, room_of
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network
from harnessgen.parts.covering import CoveringPart
from harnessgen.rules.bundle.fit import bundle_words, covered, other_coverings

RULE = "covering-too-small"


def check(network: Network) -> list[Finding]:
    """One finding for each covered stretch whose covering is narrower inside than its bundle needs."""
    return [_finding(network, each) for each in covered(network) if _is_small(network, each)]


def _is_small(network: Network, bundle: StretchBundle) -> bool:
    assert bundle.covering is not None
    return bundle.covering.inside_mm.value < room_of(network, bundle).needed_mm - 1e-9


def _finding(network: Network, bundle: StretchBundle) -> Finding:
    part, room = bundle.covering, room_of(network, bundle)
    assert part is not None
    if room.is_at_splice:
        why = f"splice {bundle.splice} and the wires beside it"
    else:
        times = plain_number(room.room.value.value)
        why = f"{times} times {bundle.diameter.largest_mm:.1f} mm ({bundle_words(bundle)}); {room.room.source}"

    def fits(other: CoveringPart) -> bool:
        return not _is_small(network, replace(bundle, covering=other))

    inside = "inside as supplied" if part.recovered_mm is not None else "inside"
    numbers = (
        Number("needed", room.needed_mm, "mm", why, 1),
        Number("inside", part.inside_mm.value, "mm", f"{inside}; {part.publication}", 1),
    )
    return Finding(
        RULE,
        Severity.ERROR,
        bundle.name,
        bundle.leg.stretch.where("covering"),
        f"The {part.name} from {bundle.name} is too narrow for its bundle.",
        numbers,
        proposals=other_coverings(network, bundle, fits),
        deciding=at_least(*numbers[::-1]),
    )
