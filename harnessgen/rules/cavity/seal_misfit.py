"""A wire whose insulation is too thick or too thin for the seal in its cavity."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_least, at_most
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire, WireEnd
from harnessgen.parts.terminal import Seal
from harnessgen.rules.cavity.terminal_misfit import misfits

RULE = "seal-misfit"
_MOST_PROPOSALS = 3


def check(network: Network) -> list[Finding]:
    """One finding for each wire that the seal at one of its ends does not fit.

    A wire that does not fit its terminals either is told there alone: with another wire, another seal may fit.
    """
    found = (_misfit(network, wire) for wire in network.wires if not misfits(network, wire))
    return [finding for finding in found if finding is not None]


def _misfit(network: Network, wire: Wire) -> Finding | None:
    diameter = wire.figures.diameter_mm.value
    seals = [(seal, end) for end in wire.ends if (seal := network.seal_at(end)) is not None]
    for seal, end in seals:
        if _fits(seal, diameter):
            continue
        is_thick = diameter > seal.to_mm.value
        word, bound = ("thick", "at most") if is_thick else ("thin", "at least")
        closes_on = seal.to_mm.value if is_thick else seal.from_mm.value
        numbers = (
            Number("insulation", diameter, "mm", f"{wire.size}, {wire.family.origin(wire.figures)}"),
            Number("seals", closes_on, "mm", f"{bound}, {seal.name} at {end}; {seal.publication}"),
        )
        message = f"Wire {wire.mark} is too {word} over its insulation for the seal in its cavity."
        proposals = (*_sizes(wire, [each for each, _ in seals]), *_seals(network, end, diameter))
        deciding = at_most(*numbers) if is_thick else at_least(*numbers)
        place = wire.size_place
        return Finding(RULE, Severity.ERROR, wire.mark, place, message, numbers, proposals=proposals, deciding=deciding)
    return None


def _fits(seal: Seal, diameter_mm: float) -> bool:
    return seal.from_mm.value <= diameter_mm <= seal.to_mm.value


def _sizes(wire: Wire, seals: list[Seal]) -> tuple[Proposal, ...]:
    """Sizes of the wire's family that fit all of its seals, the nearest first."""
    diameter = wire.figures.diameter_mm.value
    fitting = [
        (abs(each.diameter_mm.value - diameter), label)
        for label, each in wire.family.sizes.items()
        if all(_fits(seal, each.diameter_mm.value) for seal in seals)
    ]
    sizes = [ConductorSize(wire.family.system, label) for _, label in sorted(fitting)[:_MOST_PROPOSALS]]
    return tuple(Proposal(wire.size_place, str(size), f"{size} for {wire.mark}") for size in sizes)


def _seals(network: Network, end: WireEnd, diameter_mm: float) -> Iterator[Proposal]:
    """Seals of the same hole that fit the wire, for all cavities of its connector."""
    connector = network.design.connectors.get(end.designator)
    own = network.seal_at(end)
    if connector is None or own is None or "part" not in connector.places:
        return
    for name, seal in network.parts.seals.items():
        # What fits the same cavity is named alike: seal-1.5, seal-1.5-thick.
        is_like = name.startswith(own.name) or own.name.startswith(name)
        if is_like and _fits(seal, diameter_mm):
            words = f"seal: {name} for {connector.name}"
            if connector.seal and "seal" in connector.places:
                yield Proposal(connector.where("seal"), name, words, is_other_way=True)
            else:
                place = connector.where("part")
                yield Proposal(place, f"{connector.part}, seal: {name}", words, is_other_way=True)
