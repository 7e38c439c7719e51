"""Insulation, a covering, a connector, a splice or a contact that does not stand its zone, or the heat in it."""

from collections.abc import Iterator
from dataclasses import replace

from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_most
from harnessgen.measures.quantity import plain_number
from harnessgen.network.fixings import stretches_of
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.parts.covering import CoveringPart
from harnessgen.parts.part import Part
from harnessgen.physics.electrical.element_resistance import ambient_degc
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading.hotter_families import families_that_stand, standing_families
from harnessgen.rules.loading.warmed_through import warmed_through
from harnessgen.source.place import Place

RULE = "over-temperature"


def check(physics: Physics) -> list[Finding]:
    """One finding for each thing whose rating lies below the ambient of where it is, or what the currents add to it."""
    network = physics.network
    by_zone = [*_wires(network), *_coverings(network), *_tapes(network), *_ends(network)]
    told = {finding.subject for finding in by_zone}
    return [*by_zone, *(each for each in warmed_through(physics) if each.subject.partition("/")[0] not in told)]


def _wires(network: Network) -> Iterator[Finding]:
    for wire in network.wires:
        hottest = max(wire.way, key=lambda leg: ambient_degc(network, leg), default=None)
        if hottest is not None:
            for finding in _judged(
                network, hottest, wire.mark, f"The insulation of wire {wire.mark}", wire.family,
                wire.family.rating_degc.value, wire.size_place,
            ):  # fmt: skip
                families = families_that_stand(network, wire, ambient_degc(network, hottest))
                ambient = ambient_degc(network, hottest)
                yield replace(finding, proposals=(*families, standing_families(network, wire, ambient)))


def _coverings(network: Network) -> Iterator[Finding]:
    told: set[str] = set()
    for leg in network.route.legs:
        part = network.parts.coverings.get(leg.stretch.covering)
        if part is not None and leg.name not in told:
            told.add(leg.name)
            place = leg.stretch.where("covering")
            said = f"The {part.name} from {leg.name}"
            for finding in _judged(network, leg, leg.name, said, part, part.rating_degc.value, place):
                yield replace(
                    finding, proposals=_coverings_that_stand(network, part, ambient_degc(network, leg), place)
                )


def _tapes(network: Network) -> Iterator[Finding]:
    for legs in stretches_of(network):
        leg = legs[0]
        for tape in leg.stretch.tape:
            part, place = network.parts.tapes[tape.part], tape.where("part")
            said, rating = f"The {part.name} on {leg.name}", part.rating_degc.value
            for finding in _judged(network, leg, f"{part.name} on {leg.name}", said, part, rating, place):
                standing = sorted(
                    (each.rating_degc.value, name)
                    for name, each in network.parts.tapes.items()
                    if each.rating_degc.value >= ambient_degc(network, leg)
                )
                yield replace(finding, proposals=tuple(Proposal(place, name, name) for _, name in standing[:2]))


def _coverings_that_stand(network: Network, part: CoveringPart, ambient: float, place: Place) -> tuple[Proposal, ...]:
    """Coverings at least as wide that stand the zone, the narrowest first."""
    fitting = sorted(
        (each.inside_mm.value, name)
        for name, each in network.parts.coverings.items()
        if each.rating_degc.value >= ambient and each.inside_mm.value >= part.inside_mm.value
    )
    return tuple(Proposal(place, name, name) for _, name in fitting[:2])


def _ends(network: Network) -> Iterator[Finding]:
    """Connectors, halves of disconnects and splices, each at the hottest stretch that ends there."""
    design = network.design
    legs: dict[str, list[Leg]] = {}
    for leg in network.route.legs:
        for node in (leg.start, leg.end):
            legs.setdefault(node, []).append(leg)
    at = {
        end.designator: end.route_node
        for wire in network.wires
        for end in wire.ends
        if end.designator not in design.devices
    }
    for designator, node in at.items():
        hottest = max(legs.get(node, ()), key=lambda leg: ambient_degc(network, leg), default=None)
        if hottest is None:
            continue
        if designator in design.splices:
            splice = network.splice_part(designator)
            place = design.splices[designator].place
            yield from _judged(
                network, hottest, designator, f"Splice {designator}", splice, splice.rating_degc.value, place
            )
        else:
            part = network.connector_part(designator)
            thing = design.connectors.get(designator) or design.disconnects[designator[:-1]]
            rating = part.rating_degc.value
            yield from _judged(network, hottest, designator, designator, part, rating, thing.where("part"))


def _judged(
    network: Network, leg: Leg, subject: str, said: str, part: Part, rating: float, place: Place
) -> Iterator[Finding]:
    ambient = ambient_degc(network, leg)
    if ambient <= rating:
        return
    excess = f"{plain_number(ambient - rating, 1)} K less than its zone has, whatever is on"
    zone = f"zone {leg.zone}, from {leg.name}" if leg.zone else f"from {leg.name}"
    numbers = (
        Number("ambient", ambient, "degC", zone, 0),
        Number("stands", rating, "degC", f"{part.name}, {part.publication}; {excess}", 0),
    )
    see = ((network.design.zones[leg.zone].where("ambient_degc"), f"zone {leg.zone}"),) if leg.zone else ()
    message, deciding = f"{said} does not stand its zone.", at_most(*numbers)
    yield Finding(RULE, Severity.ERROR, subject, place, message, numbers, see=see, deciding=deciding)
