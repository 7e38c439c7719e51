"""A wire whose copper the terminal at its end, or the barrel of its splice, does not hold."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_least, at_most
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.parts.covering import SplicePart
from harnessgen.parts.terminal import Contact

RULE = "terminal-misfit"
_MOST_PROPOSALS = 3


@frozen
class Misfit:
    """An end of a wire that does not fit: too thick or too thin, and the bound that it misses, in mm2."""

    end: WireEnd
    part: Contact | SplicePart
    is_thick: bool
    bound_mm2: float


def check(network: Network) -> list[Finding]:
    """One finding for each wire with an end that does not fit, with the bound that it misses most."""
    found = ((wire, misfits(network, wire)) for wire in network.wires)
    return [_finding(network, wire, missed) for wire, missed in found if missed]


def misfits(network: Network, wire: Wire) -> list[Misfit]:
    """The ends of `wire` that do not fit, the worst first."""
    area = wire.figures.area_mm2.value
    missed = [each for end in wire.ends for each in _misfit(network, wire, end)]
    return sorted(missed, key=lambda each: abs(each.bound_mm2 - area), reverse=True)


def _misfit(network: Network, wire: Wire, end: WireEnd) -> Iterator[Misfit]:
    part = _part_at(network, end)
    if part is None:
        # A shield's free end is cut back and crimped to nothing.
        return
    area = wire.figures.area_mm2.value
    lowest, highest = _bounds(part, end)
    if area > highest:
        yield Misfit(end, part, True, highest)
    elif area < lowest:
        yield Misfit(end, part, False, lowest)


def _part_at(network: Network, end: WireEnd) -> Contact | SplicePart | None:
    return network.splice_part(end.designator) if end.kind is EndKind.SPLICE else network.contact_at(end)


def _bounds(part: Contact | SplicePart, end: WireEnd) -> tuple[float, float]:
    """Least and most copper, in mm2."""
    # Of a splice only one side's sum has to reach the lower bound, so that a thin branch alone is no misfit.
    return 0.0 if end.kind is EndKind.SPLICE else part.from_mm2.value, part.to_mm2.value


def _finding(network: Network, wire: Wire, missed: list[Misfit]) -> Finding:
    worst = missed[0]
    word, bound = ("thick", "at most") if worst.is_thick else ("thin", "at least")
    # The end is named with the numbers, so that wires of one size written once fold into one finding.
    numbers = (
        Number("copper", wire.figures.area_mm2.value, "mm2", f"{wire.size} of {wire.family.name}"),
        Number(
            "takes",
            worst.bound_mm2,
            "mm2",
            f"{bound}, {worst.part.name} at {worst.end}; {worst.part.publication}",
        ),
    )
    return Finding(
        RULE,
        Severity.ERROR,
        wire.mark,
        wire.size_place,
        f"Wire {wire.mark} is too {word} to be crimped into what it ends in.",
        numbers,
        proposals=(*_sizes(network, wire), *_connectors(network, wire, worst.end)),
        deciding=at_most(*numbers) if worst.is_thick else at_least(*numbers),
    )


def _sizes(network: Network, wire: Wire) -> tuple[Proposal, ...]:
    """Sizes of the wire's family that fit both of its ends, the nearest first."""
    parts = [(part, end) for end in wire.ends if (part := _part_at(network, end)) is not None]
    bounds = [_bounds(part, end) for part, end in parts]
    area = wire.figures.area_mm2.value
    fitting = [
        (abs(each.area_mm2.value - area), label)
        for label, each in wire.family.sizes.items()
        if all(lowest <= each.area_mm2.value <= highest for lowest, highest in bounds)
    ]
    sizes = [ConductorSize(wire.family.system, label) for _, label in sorted(fitting)[:_MOST_PROPOSALS]]
    return tuple(Proposal(wire.size_place, str(size), f"{size} for {wire.mark}") for size in sizes)


def _connectors(network: Network, wire: Wire, end: WireEnd) -> Iterator[Proposal]:
    """Connector families with the same cavities whose contact takes the wire, in place of the one that it ends in."""
    connector = network.design.connectors.get(end.designator)
    if connector is None or "part" not in connector.places:
        return
    cavities = network.connector_part(end.designator).cavities
    area = wire.figures.area_mm2.value
    for name, family in network.parts.connectors.items():
        contact = network.parts.contacts[family.contact]
        if family.cavities == cavities and contact.from_mm2.value <= area <= contact.to_mm2.value:
            yield Proposal(connector.where("part"), name, f"{name} for {connector.name}", is_other_way=True)
