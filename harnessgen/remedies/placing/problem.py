"""The places that the splices of a network may have, as a problem to solve."""

import math
from collections.abc import Mapping

from harnessgen.design.limits.table import limit
from harnessgen.lengths.bundles.stretch import diameter_mm
from harnessgen.lengths.wire_length import WireLength
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.remedies.placing.model import PlacementProblem, SpliceWire
from harnessgen.remedies.placing.text import is_writable
from harnessgen.remedies.placing.tree import (
    PlaceTree,
    Span,
    TreePlace,
    name_of,
    spacing_of,
    spans_of,
    spots_on,
    stands,
)

Stretch = tuple[str, str]


@frozen
class FixedSplice:
    """A splice that stays, and why."""

    splice: str
    why: str


@frozen
class Posed:
    """A problem with the splices that stay, and the stretches whose bundles it can change."""

    problem: PlacementProblem
    fixed: tuple[FixedSplice, ...]
    stretches: frozenset[Stretch]


def pose(
    network: Network,
    lengths: Mapping[str, WireLength],
    texts: Mapping[str, str],
    banned: frozenset[tuple[str, Stretch]] = frozenset(),
    spare_less_mm: Mapping[str, float] | None = None,
) -> Posed:
    """The places of all splices: on their allowed stretches, clear of ends and bends, where everything stands the zone.

    A splice may not go to a stretch for which it is `banned`. `spare_less_mm` takes something off what a wire of stated
    length may become longer.
    """
    spans, spacing = spans_of(network), spacing_of(network)
    today = {name: _today(network, name) for name in network.design.splices if network.wires_at.get(name)}
    fixed: list[FixedSplice] = []
    wanted: dict[str, list[Stretch]] = {}
    for name in today:
        why = _stays(network, name, texts)
        if why:
            fixed.append(FixedSplice(name, why))
        allowed = [] if why else _stretches(network, name)
        wanted[name] = [each for each in allowed if (name, each) not in banned and stands(network, spans[each], name)]
    spots = {name: (spot, *_others(name, spot, wanted, spans, today, network)) for name, spot in today.items()}
    tree = PlaceTree(spans.values(), (spot for own in spots.values() for spot in own))
    runs = tuple(_run(network, wire, lengths[wire.mark], today, spare_less_mm or {}) for wire in network.wires)
    own_runs = tuple(run for run in runs if any(end in spots for end in run.ends))
    held: dict[str, float] = {}
    for run in runs:
        if run not in own_runs:
            for segment in tree.path(*run.ends):
                held[segment.lower] = held.get(segment.lower, 0.0) + run.square_mm2
    problem = PlacementProblem(tree, spots, own_runs, spacing.splices_mm, held)
    return Posed(problem, tuple(fixed), frozenset(each for own in wanted.values() for each in own))


def _today(network: Network, name: str) -> TreePlace:
    splice = network.design.splices[name]
    node = network.route.splice_node(name)
    if not network.route.points[node].splice:
        return TreePlace("", "", 0.0, node)
    leg = next(each for each in network.route.legs if each.end == node)
    at_mm = (
        splice.offset_mm.value if splice.at == leg.from_point else leg.stretch.length_mm.value - splice.offset_mm.value
    )
    return TreePlace(leg.from_point, leg.to_point, at_mm)


def _stays(network: Network, name: str, texts: Mapping[str, str]) -> str:
    splice = network.design.splices[name]
    if not is_writable(splice, texts):
        return "its place stands in a pattern"
    if name in network.design.vehicle.taps:
        return "it sits on a wire of the vehicle"
    if any(wire.cable for wire in network.wires_at[name]):
        return "a cable ends in it"
    if splice.within and not _stretches(network, name):
        return "the design keeps it in place"
    return ""


def _stretches(network: Network, name: str) -> list[Stretch]:
    """Stretches on which a splice may sit, in its own section, in the order of the route."""
    splice, wires = network.design.splices[name], network.wires_at[name]
    if splice.within:
        letter = wires[0].section
        section = next(each for each in network.sections.sections if each.letter == letter)
        found = [
            (leg.from_point, leg.to_point)
            for leg in section.legs
            if leg.from_point in splice.within and leg.to_point in splice.within
        ]
    else:
        way = {(leg.from_point, leg.to_point) for wire in wires for leg in wire.way}
        found = [each for leg in network.route.legs if (each := (leg.from_point, leg.to_point)) in way]
    return list(dict.fromkeys(found))


def _others(
    name: str,
    own: TreePlace,
    wanted: Mapping[str, list[Stretch]],
    spans: Mapping[Stretch, Span],
    today: Mapping[str, TreePlace],
    network: Network,
) -> list[TreePlace]:
    spacing = spacing_of(network)
    found: list[TreePlace] = []
    for stretch in wanted[name]:
        here = [spot.offset_mm for spot in today.values() if spot.stretch == stretch]
        # As many splices as could come to this stretch, or stay on it.
        count = sum(stretch in each for each in wanted.values()) + len(here)
        found += (spot for spot in spots_on(spans[stretch], spacing, count, here) if name_of(spot) != name_of(own))
    return found


def _run(
    network: Network, wire: Wire, length: WireLength, today: Mapping[str, TreePlace], less_mm: Mapping[str, float]
) -> SpliceWire:
    spare_mm = length.margin_mm - less_mm.get(wire.mark, 0.0) if length.given_mm is not None else None
    ends = (_end(network, wire.a, today), _end(network, wire.b, today))
    most_mm = limit("most-slack", wire.limits, network.design.limits).value.value
    least_mm = min(length.margin_mm - most_mm, 0.0) if length.given_mm is not None else -math.inf
    return SpliceWire(wire.mark, ends, wire.figures.area_mm2.value, diameter_mm(wire) ** 2, spare_mm, least_mm)


def _end(network: Network, end: WireEnd, today: Mapping[str, TreePlace]) -> str:
    if end.kind is EndKind.SPLICE and end.designator in today:
        return end.designator
    return end.route_node
