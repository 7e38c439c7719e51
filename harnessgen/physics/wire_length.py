"""The length that each wire needs: its way along the route, what its ends add or take, and slack on purpose."""

import math
from dataclasses import dataclass

from harnessgen.design.limits import Limit, limit
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.measures.quantity import Quantity, plain_number
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.physics.gum import Bound, expanded, rectangular, root_sum_of_squares

GUM = Publication("JCGM 100:2008 (GUM)", "4.3.7 rectangular bounds, 5.1.2 combination, 6.2.1 expanded uncertainty")
LENGTH_PRACTICE = common_practice("a wire's length is its way along the route with what its ends add, and its slack")


@dataclass(frozen=True, slots=True)
class EndTerm:
    """What one end adds to the way along the route (negative: takes off), in mm, and why."""

    end: str
    why: str
    length_mm: float


@dataclass(frozen=True, slots=True)
class WireLength:
    """The needed length of a wire and what is available, all in mm.

    `needed_mm` is the most likely value, `expanded_mm` its expanded uncertainty with the limits' coverage factor.
    `cut_mm` is the length to cut: rounded up so that the wire still reaches at the far end of every tolerance; where
    the design says the wire is cut already, that length.
    """

    mark: str
    route_mm: float
    ends: tuple[EndTerm, EndTerm]
    slack_mm: float
    needed_mm: float
    expanded_mm: float
    cutting: Limit
    coverage: Limit
    step: Limit
    given_mm: Quantity | None
    cut_mm: float

    @property
    def longest_need_mm(self) -> float:
        """The longest that it may turn out to need, within the stated coverage."""
        return self.needed_mm + self.expanded_mm

    @property
    def shortest_available_mm(self) -> float:
        """The shortest that it may turn out, cut within its tolerance."""
        if self.given_mm is None:
            return self.cut_mm - self.cutting.value.minus
        own = self.given_mm.plus or self.given_mm.minus
        return self.given_mm.value - (self.given_mm.minus if own else self.cutting.value.minus)

    @property
    def margin_mm(self) -> float:
        """What is left when need is longest and wire shortest; negative when it is too short."""
        return self.shortest_available_mm - self.longest_need_mm


def wire_length(network: Network, wire: Wire) -> WireLength:
    """Length of `wire` by the route, its ends and its slack."""
    tables = (wire.limits, network.design.limits)
    coverage, cutting = limit("coverage-factor", *tables), limit("cutting-tolerance", *tables)
    step = limit("cutting-step", *tables)
    bounds = _measured_bounds(wire)
    ends = end_term(network, wire.a), end_term(network, wire.b)
    route = math.fsum(leg.length_mm for leg in wire.way)
    # A one-sided tolerance puts the most likely length beside the value that was written.
    shift = math.fsum(bound.shift for bound in bounds)
    needed = route + shift + ends[0].length_mm + ends[1].length_mm + wire.slack_mm.value
    wide = expanded(root_sum_of_squares(bound.uncertainty for bound in bounds), coverage.value.value)
    return WireLength(
        wire.mark,
        route + shift,
        ends,
        wire.slack_mm.value,
        needed,
        wide,
        cutting,
        coverage,
        step,
        wire.cut_mm,
        wire.cut_mm.value if wire.cut_mm else _rounded_up(needed + wide + cutting.value.minus, step.value.value),
    )


def _measured_bounds(wire: Wire) -> list[Bound]:
    """Bound of the measurement of each stretch of the way; parts of one stretch share its one reading."""
    by_stretch: dict[str, tuple[float, float]] = {}
    for leg in wire.way:
        plus, minus = by_stretch.get(leg.name, (0.0, 0.0))
        by_stretch[leg.name] = (plus + leg.measured.plus, minus + leg.measured.minus)
    return [rectangular(plus, minus) for plus, minus in by_stretch.values()]


def _rounded_up(length_mm: float, step_mm: float) -> float:
    # A hair above a step is rounding of the arithmetic, not length.
    return max(math.ceil(length_mm / step_mm - 1e-9), 1) * step_mm


def end_term(network: Network, end: WireEnd) -> EndTerm:
    """What the end adds beyond its place on the route."""
    if end.kind is EndKind.SPLICE:
        return EndTerm(end.node, "overlap in the splice", network.splice_part(end.designator).overlap_mm.value)
    if end.kind is EndKind.LANDING:
        return EndTerm(end.node, "reach to the terminal", network.design.devices[end.designator].wire_end_mm.value)
    connector = network.design.connectors.get(end.designator)
    own = connector.wire_end_mm if connector is not None else None
    part = network.connector_part(end.designator)
    return EndTerm(end.node, "wire end inside the connector", (own or part.wire_end_mm).value)


def needed_length_derivation(length: WireLength) -> Evaluated:
    """Where the needed length comes from, in mm."""
    a, b = length.ends
    inputs = (
        Input("route", "way along the route, at its most likely", length.route_mm, "mm"),
        Input("a", f"{a.why} at {a.end}", a.length_mm, "mm"),
        Input("b", f"{b.why} at {b.end}", b.length_mm, "mm"),
        Input("slack", "slack on purpose", length.slack_mm, "mm"),
    )
    return evaluated(f"needed length of {length.mark}", "route + a + b + slack", inputs, "mm", LENGTH_PRACTICE)


def margin_derivation(length: WireLength) -> Evaluated:
    """Where the margin of length comes from, in mm."""
    inputs = (
        Input("available", "shortest that the wire may turn out", length.shortest_available_mm, "mm"),
        Input("needed", "needed length", length.needed_mm, "mm"),
        Input("U", f"expanded uncertainty, k = {plain_number(length.coverage.value.value)}", length.expanded_mm, "mm"),
    )
    return evaluated(
        f"length to spare of {length.mark}", "available - needed - U", inputs, "mm", GUM, length.cutting.source
    )
