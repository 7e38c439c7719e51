"""A cavity of a disconnect that has a wire in one half and none in the other."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.electrical import Element, ElementKind, end_of
from harnessgen.network.network import Network
from harnessgen.rules.places import end_place

RULE = "mate-mismatch"


def check(network: Network) -> list[Finding]:
    """One finding for each such cavity, at the wire that finds no other."""
    return [_finding(network, mating, wired, empty) for mating, wired, empty in lone_halves(network)]


def lone_halves(network: Network) -> Iterator[tuple[Element, str, str]]:
    """Each cavity of a disconnect with a wire in one half only: the mated contact, the wired half, the empty half."""
    for element in network.electrical.elements:
        if element.kind is ElementKind.MATING:
            wired = [half for half in (element.a, element.b) if half in network.wires_at]
            if len(wired) == 1:
                yield element, wired[0], element.b if wired[0] == element.a else element.a


def _finding(network: Network, mating: Element, wired: str, empty: str) -> Finding:
    wire = network.wires_at[wired][0]
    message = f"Wire {wire.mark} ends in {wired}, and {empty}, which it meets, has no wire."
    mend = f"lead a wire to {empty}, or {wire.mark} to the cavity that its other half is wired to"
    place = end_place(network.design, wire, end_of(wire, wired))
    return Finding(RULE, Severity.ERROR, mating.name, place, message, mend=mend)
