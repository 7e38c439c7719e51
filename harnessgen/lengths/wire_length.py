"""The length that each wire needs: its way along the route, what its ends add or take, and slack on purpose."""

import math

from harnessgen.design.limits.table import Limit, limit
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication
from harnessgen.lengths.measured_length import Doubt, Known, combined_mm, merged, stated, stretch_known
from harnessgen.lengths.uncertainty import effective_freedom, expanded, expanded_derivation
from harnessgen.lengths.wire_length_terms import (
    LENGTH_PRACTICE,
    LengthTerm,
    TermKind,
    end_terms,
    way_terms,
)
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity, plain_number
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire, WireEnd

GUM = Publication("JCGM 100:2008 (GUM)", "4.3.7 rectangular bounds, 5.1.2 combination, 6.2.1 expanded uncertainty")

ROUNDING_MM = 1e-6
"""Lengths are sums of floats; a millionth of a millimetre is rounding."""


@frozen
class EndTerm:
    """What one end adds to the way along the route (negative: takes off), in mm, and why."""

    end: str
    why: str
    length_mm: float


@frozen
class WireLength:
    """The needed length of a wire and what is available, all in mm.

    `needed_mm` is the most likely value, `expanded_mm` its expanded uncertainty with the limits' coverage factor.
    `cut_mm` is the length to cut: rounded up so that the wire still reaches at the far end of every tolerance; where
    the wire is there already (`given_mm`), its length as cut or, with `is_measured`, as measured on the wire.

    `extra_mm` is what the stretches and ends add beside way, end terms and slack: loops, movement, bends, lay, and,
    negative, what is used of a connector's freedom. `terms` are all of them, one by one. Three tolerances stay apart:
    `doubts` of the measurement, `build_mm` (what a bundle built to the long end of its tolerance would take more, or
    at the short end less), and `cutting` of the shop.
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
    extra_mm: float = 0.0
    terms: tuple[LengthTerm, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    build_mm: Quantity = Quantity(0.0)
    is_measured: bool = False

    @property
    def uncertainty_mm(self) -> float:
        """Combined standard uncertainty of the needed length."""
        return combined_mm(self.doubts)

    @property
    def freedom(self) -> float:
        """Effective degrees of freedom of that uncertainty; `inf` where every part is known by its bounds."""
        return effective_freedom([each.part for each in self.doubts])

    @property
    def longest_need_mm(self) -> float:
        """The longest that it may turn out to need, within the stated coverage."""
        return self.needed_mm + self.expanded_mm

    @property
    def available_mm(self) -> Quantity:
        """Length that the wire has, with its own tolerance, else the shop's; a measured one has only its own."""
        given = self.given_mm or Quantity(self.cut_mm)
        if given.plus or given.minus or self.is_measured:
            return given
        return Quantity(given.value, self.cutting.value.plus, self.cutting.value.minus)

    @property
    def shortest_available_mm(self) -> float:
        """The shortest that it may turn out: cut within its tolerance, or measured within the stated coverage."""
        available = self.available_mm
        if available.coverage is None:
            return available.lowest
        return available.value - available.minus * self.coverage.value.value / available.coverage

    @property
    def margin_mm(self) -> float:
        """What is left when need is longest and wire shortest; negative when it is too short."""
        return self.shortest_available_mm - self.longest_need_mm


def wire_length(network: Network, wire: Wire) -> WireLength:
    """Length of `wire` by the route, its ends and its slack."""
    tables = (wire.limits, network.design.limits)
    coverage, cutting = limit("coverage-factor", *tables), limit("cutting-tolerance", *tables)
    step = limit("cutting-step", *tables)
    way, known = _way(network, wire)
    ends = end_term(network, wire.a), end_term(network, wire.b)
    extra = (*way_terms(network, wire), *end_terms(network, wire))
    route_mm = math.fsum(term.length_mm for term in way)
    extra_mm = math.fsum(term.length_mm for term in extra)
    needed = route_mm + ends[0].length_mm + ends[1].length_mm + wire.slack_mm.value + extra_mm
    wide = expanded(combined_mm(known.doubts), coverage.value.value)
    return WireLength(
        wire.mark,
        route_mm,
        ends,
        wire.slack_mm.value,
        needed,
        wide,
        cutting,
        coverage,
        step,
        wire.cut_mm,
        wire.cut_mm.value if wire.cut_mm else _rounded_up(needed + wide + cutting.value.minus, step.value.value),
        extra_mm,
        (*way, *_plain_terms(ends, wire), *extra),
        known.doubts,
        _build_mm(wire),
        wire.run.is_cut_measured,
    )


def has_way(wire: Wire, length: WireLength) -> bool:
    """False where both ends lie at one point of the route, and no slack or cut says how far apart they are."""
    return any(leg.length_mm for leg in wire.way) or bool(wire.slack_mm.value) or length.given_mm is not None


def _way(network: Network, wire: Wire) -> tuple[list[LengthTerm], Known]:
    """Its way, stretch by stretch, and what is in doubt of it; parts of one stretch share its one measurement."""
    terms: list[LengthTerm] = []
    knowns: list[Known] = []
    for leg in wire.way:
        known = stretch_known(network.design, leg.from_point, leg.to_point, leg.stretch, leg.share)
        knowns.append(known)
        # A one-sided tolerance puts the most likely length beside the value that was written.
        length_mm = leg.length_mm + known.shift_mm
        figures = leg.stretch.length_mm.value, leg.share, known.shift_mm
        terms.append(LengthTerm(TermKind.WAY, leg.name, length_mm, figures))
    for end in wire.ends:
        splice = network.design.splices.get(end.designator) if end.kind is EndKind.SPLICE else None
        if splice is not None:
            knowns.append(stated(f"place of {splice.name}", f"place of splice {splice.name}", splice.offset_mm))
    return terms, merged(knowns)


def _plain_terms(ends: tuple[EndTerm, EndTerm], wire: Wire) -> list[LengthTerm]:
    terms = [LengthTerm(TermKind.END, f"{end.why} at {end.end}", end.length_mm, (end.length_mm,)) for end in ends]
    if wire.slack_mm.value:
        terms.append(LengthTerm(TermKind.SLACK, "", wire.slack_mm.value, (wire.slack_mm.value,)))
    return terms


def _build_mm(wire: Wire) -> Quantity:
    builds = [(leg.stretch.build, leg.share) for leg in wire.way if leg.stretch.build is not None]
    plus = math.fsum(build.plus * share for build, share in builds)
    return Quantity(0.0, plus, math.fsum(build.minus * share for build, share in builds))


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
    inputs = [
        Input("route", "way along the route, at its most likely", length.route_mm, "mm"),
        Input("a", f"{a.why} at {a.end}", a.length_mm, "mm"),
        Input("b", f"{b.why} at {b.end}", b.length_mm, "mm"),
        Input("slack", "slack on purpose", length.slack_mm, "mm"),
    ]
    plain = (TermKind.WAY, TermKind.END, TermKind.SLACK)
    extra = [term for term in length.terms if term.kind not in plain]
    inputs += [Input(f"t{number}", str(term), term.length_mm, "mm") for number, term in enumerate(extra, start=1)]
    formula = " + ".join(["route + a + b + slack", *(f"t{number}" for number in range(1, len(extra) + 1))])
    sources = dict.fromkeys([LENGTH_PRACTICE, *(source for term in extra for source in term.derivation.sources)])
    return evaluated(f"needed length of {length.mark}", formula, tuple(inputs), "mm", *sources)


def needed_uncertainty_derivation(length: WireLength) -> Evaluated:
    """Where the expanded uncertainty of the needed length comes from, in mm."""
    parts = [each.part for each in length.doubts]
    return expanded_derivation(f"uncertainty of {length.mark}", parts, "mm", length.coverage.value.value)


def cut_length_derivation(length: WireLength) -> Evaluated:
    """Where the length to cut comes from, in mm: the design, or what still reaches, up to the step of the bench."""
    title = f"cut length of {length.mark}"
    if length.given_mm is not None:
        return evaluated(title, "given", (Input("given", "as the design says", length.cut_mm, "mm"),), "mm", GUM)
    inputs = (
        Input("needed", "needed length", length.needed_mm, "mm"),
        Input("U", f"expanded uncertainty, k = {plain_number(length.coverage.value.value)}", length.expanded_mm, "mm"),
        Input("minus", "what the cutting may fall short", length.cutting.value.minus, "mm", length.cutting.source),
        Input("step", "step of the bench", length.step.value.value, "mm", length.step.source),
    )
    formula = "max(ceil((needed + U + minus) / step - 1e-9), 1) * step"
    return evaluated(title, formula, inputs, "mm", length.step.source)


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
