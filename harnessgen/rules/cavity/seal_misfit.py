"""A wire whose insulation is too thick or too thin for the seal in its cavity."""

from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire, WireEnd

RULE = "seal-misfit"


def check(network: Network) -> list[Finding]:
    """One finding for each sealed end of a wire that its seal does not fit."""
    found = (_misfit(network, wire, end) for wire in network.wires for end in wire.ends)
    return [finding for finding in found if finding is not None]


def _misfit(network: Network, wire: Wire, end: WireEnd) -> Finding | None:
    seal = network.seal_at(end)
    if seal is None:
        return None
    diameter = wire.figures.diameter_mm.value
    lowest, highest = seal.from_mm.value, seal.to_mm.value
    if lowest <= diameter <= highest:
        return None
    is_thick = diameter > highest
    message = f"Wire {wire.mark} is too {'thick' if is_thick else 'thin'} for the {seal.name} in {end}."
    numbers = (
        Number("insulation", diameter, "mm", f"{wire.size}, {wire.family.origin(wire.figures)}"),
        Number(
            "seals",
            highest if is_thick else lowest,
            "mm",
            f"{'at most' if is_thick else 'at least'}, {seal.publication}",
        ),
    )
    mend = f"a wire of {lowest:g} to {highest:g} mm over the insulation, or a seal that fits this one"
    return Finding(RULE, Severity.ERROR, wire.mark, wire.size_place, message, numbers, mend=mend)
