"""The terms of a wire's needed length, each with the figures that it comes from."""

import math
from collections.abc import Iterator
from enum import Enum

from harnessgen.design.limits.table import limit
from harnessgen.design.records.reach import Reach, ServiceLoops
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.lengths.bundles.diameter import bundle_diameter
from harnessgen.lengths.reach import TURN_SOURCE, turn_of
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.network.wires import EndKind, Wire, WireEnd

LENGTH_PRACTICE = common_practice("a wire's length is its way along the route with what its ends add, and its slack")
HELIX_SOURCE = Publication("Length of one turn of a helix, elementary geometry")
ARC_SOURCE = Publication("Length of an arc, elementary geometry")

_Symbols = tuple[tuple[str, str, str], ...]


class TermKind(Enum):
    """What a term stands for, in the words of a length sheet."""

    WAY = "way along"
    END = "end"
    SLACK = "slack on purpose"
    LOOPS = "re-terminations at"
    BUNDLE_SLACK = "slack of the bundle from"
    DRIP_LOOP = "drip loop from"
    MOVEMENT = "movement from"
    BENDS = "outside of the bends from"
    TAKE_UP = "take-up of the lay from"
    CABLE_TAKE_UP = "take-up of the lay in cable"
    TURNED = "turned towards its breakout:"
    MOVED = "moved towards its breakout:"


_SHARED: tuple[str, _Symbols] = (
    "whole * share",
    (("whole", "length set aside in the stretch", "mm"), ("share", "part of the stretch that the wire lies in", "1")),
)
_HELIX: tuple[str, _Symbols] = (
    "way * (sqrt(1 + (pi * (D - d) / p) ** 2) - 1)",
    (
        ("way", "way that is twisted", "mm"),
        ("D", "diameter of what is twisted", "mm"),
        ("d", "diameter of the wire", "mm"),
        ("p", "length of one turn", "mm"),
    ),
)
_FORMULAS: dict[TermKind, tuple[str, _Symbols, Publication]] = {
    TermKind.WAY: (
        "whole * share + shift",
        (
            ("whole", "length of the stretch as measured", "mm"),
            ("share", "part of the stretch that the wire lies in", "1"),
            ("shift", "how far its most likely length lies beside that", "mm"),
        ),
        LENGTH_PRACTICE,
    ),
    TermKind.END: ("end", (("end", "what the end adds", "mm"),), LENGTH_PRACTICE),
    TermKind.SLACK: ("slack", (("slack", "slack of the circuit", "mm"),), LENGTH_PRACTICE),
    TermKind.LOOPS: (
        "n * each",
        (("n", "re-terminations", "1"), ("each", "length that one takes", "mm")),
        LENGTH_PRACTICE,
    ),
    TermKind.BUNDLE_SLACK: (*_SHARED, LENGTH_PRACTICE),
    TermKind.DRIP_LOOP: (*_SHARED, LENGTH_PRACTICE),
    TermKind.MOVEMENT: (*_SHARED, LENGTH_PRACTICE),
    TermKind.BENDS: (
        "angle * pi / 180 * (D - d) / 2 * share",
        (
            ("angle", "sum of the bends", "deg"),
            ("D", "diameter of the bundle", "mm"),
            ("d", "diameter of the wire", "mm"),
            ("share", "part of the stretch that the wire lies in", "1"),
        ),
        ARC_SOURCE,
    ),
    TermKind.TAKE_UP: (*_HELIX, HELIX_SOURCE),
    TermKind.CABLE_TAKE_UP: (*_HELIX, HELIX_SOURCE),
    TermKind.TURNED: (
        "sqrt(max(a ** 2 + r ** 2 - 2 * a * r * c, 0)) - leg",
        (
            ("a", "distance from the breakout to the axis", "mm"),
            ("r", "distance from the axis to the face", "mm"),
            ("c", "cosine of the bearing that is left", "1"),
            ("leg", "leg before it is turned", "mm"),
        ),
        TURN_SOURCE,
    ),
    TermKind.MOVED: ("-moved", (("moved", "way of the bracket", "mm"),), LENGTH_PRACTICE),
}


@frozen
class LengthTerm:
    """One term: what it stands for, the stretch or end that it belongs to, its length in mm, and its figures.

    `figures` stand in the order in which the term's formula names them.
    """

    kind: TermKind
    where: str
    length_mm: float
    figures: tuple[float, ...]

    def __str__(self) -> str:
        """As a length sheet says it: `way along b1 to lb1`."""
        return self.where if self.kind is TermKind.END else f"{self.kind.value} {self.where}".rstrip()

    @property
    def derivation(self) -> Evaluated:
        """The term with its formula, in mm."""
        formula, symbols, source = _FORMULAS[self.kind]
        given = zip(symbols, self.figures, strict=True)
        inputs = tuple(Input(symbol, meaning, value, unit) for (symbol, meaning, unit), value in given)
        return evaluated(str(self), formula, inputs, "mm", source)


def way_terms(network: Network, wire: Wire) -> Iterator[LengthTerm]:
    """What the stretches of its way add beyond their length: slack, drip loops, movement, bends, lay."""
    for leg in wire.way:
        stretch = leg.stretch
        for kind, whole in (
            (TermKind.BUNDLE_SLACK, stretch.slack_mm),
            (TermKind.DRIP_LOOP, stretch.drip_loop_mm),
            (TermKind.MOVEMENT, stretch.movement_mm),
        ):
            if whole.value:
                yield LengthTerm(kind, leg.name, whole.value * leg.share, (whole.value, leg.share))
        if stretch.bends:
            yield _bends(network, wire, leg)
        if stretch.lay_length_mm is not None:
            figures = leg.length_mm, _bundle_mm(network, leg), _diameter_mm(wire), stretch.lay_length_mm.value
            yield LengthTerm(TermKind.TAKE_UP, leg.name, _take_up_mm(*figures), figures)
    if wire.cable and wire.way and network.design.cables[wire.cable].lay == "twisted":
        yield _cable_take_up(network, wire)


def end_terms(network: Network, wire: Wire) -> Iterator[LengthTerm]:
    """What its ends add beyond their place: spare for re-terminations; and take off: what is used of their freedom."""
    for end, way in ((wire.a, wire.way[:1]), (wire.b, wire.way[-1:])):
        if end.kind is EndKind.SPLICE:
            continue
        count, each_mm = service_loops(network, wire, end)
        if count:
            yield LengthTerm(TermKind.LOOPS, end.node, count * each_mm, (count, each_mm))
        reach = reach_of(network, end)
        if reach is not None and way:
            yield from _freedom(reach, end, way[0].stretch.length_mm.value)


def reach_of(network: Network, end: WireEnd) -> Reach | None:
    """Freedom of the connector that a wire ends in; None where it has none."""
    connector = network.design.connectors.get(end.designator) if end.kind is EndKind.CAVITY else None
    return connector.reach if connector is not None else None


def service_loops(network: Network, wire: Wire, end: WireEnd) -> tuple[float, float]:
    """Re-terminations that a crimped end of a wire has spare length for, and the length of one in mm."""
    tables = (wire.limits, network.design.limits)
    loops = _declared_loops(network, end)
    count = float(loops.count) if loops is not None else limit("service-loops", *tables).value.value
    own = loops.each_mm if loops is not None else None
    return count, (own or limit("retermination", *tables).value).value


def _declared_loops(network: Network, end: WireEnd) -> ServiceLoops | None:
    if end.kind is not EndKind.CAVITY:
        return None
    connector = network.design.connectors.get(end.designator)
    if connector is not None:
        return connector.service_loops
    return network.design.disconnects[end.designator[:-1]].service_loops


def _freedom(reach: Reach, end: WireEnd, leg_mm: float) -> Iterator[LengthTerm]:
    if reach.turned_deg.value:
        turn = turn_of(reach, leg_mm)
        turned = reach.turned_deg.value
        if turn.axis_mm is not None:
            figures = turn.axis_mm, turn.radius_mm, turn.facing(turned), leg_mm
            yield LengthTerm(TermKind.TURNED, end.designator, -turn.gain_mm(turned), figures)
    if reach.moved_mm.value:
        moved_mm = reach.moved_mm.value
        yield LengthTerm(TermKind.MOVED, end.designator, -moved_mm, (moved_mm,))


def _bends(network: Network, wire: Wire, leg: Leg) -> LengthTerm:
    angle_deg = math.fsum(bend.angle_deg.value for bend in leg.stretch.bends)
    bundle_mm, own_mm = _bundle_mm(network, leg), _diameter_mm(wire)
    # The wire may lie on the outside all the way around.
    length_mm = angle_deg * math.pi / 180.0 * (bundle_mm - own_mm) / 2.0 * leg.share
    return LengthTerm(TermKind.BENDS, leg.name, length_mm, (angle_deg, bundle_mm, own_mm, leg.share))


def _cable_take_up(network: Network, wire: Wire) -> LengthTerm:
    cable = network.design.cables[wire.cable]
    own_mm = _diameter_mm(wire)
    cores = [each for each in network.wires_by_leg[wire.way[0].start, wire.way[0].end] if each.cable == wire.cable]
    whole_mm = bundle_diameter([_diameter_mm(each) for each in cores]).diameter_mm
    ratio = limit("lay-ratio", wire.limits, network.design.limits).value.value
    turn_mm = cable.lay_length_mm.value if cable.lay_length_mm is not None else ratio * whole_mm
    figures = math.fsum(leg.length_mm for leg in wire.way), whole_mm, own_mm, turn_mm
    return LengthTerm(TermKind.CABLE_TAKE_UP, wire.cable, _take_up_mm(*figures), figures)


def _take_up_mm(way_mm: float, bundle_mm: float, own_mm: float, turn_mm: float) -> float:
    """How much longer a wire on the outside of a twisted bundle is than the bundle: a turn is a helix unrolled."""
    return way_mm * (math.sqrt(1.0 + (math.pi * (bundle_mm - own_mm) / turn_mm) ** 2) - 1.0)


def _bundle_mm(network: Network, leg: Leg) -> float:
    return bundle_diameter([_diameter_mm(each) for each in network.wires_by_leg[leg.start, leg.end]]).diameter_mm


def _diameter_mm(wire: Wire) -> float:
    return wire.figures.diameter_mm.value
