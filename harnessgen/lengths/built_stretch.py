"""Finished stretches of bundle: the length that was or will be built, against what the route needs."""

import math

from harnessgen.design.limits.table import Limit, limit
from harnessgen.evidence.publication import Publication
from harnessgen.lengths.measured_length import Doubt, combined_mm, stretch_known
from harnessgen.lengths.reach import used_mm
from harnessgen.lengths.uncertainty import expanded
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity
from harnessgen.network.network import Network
from harnessgen.network.route import Leg

WORKMANSHIP_SOURCE = Publication("IPC/WHMA-A-620", "length of a cable assembly where the drawing gives no tolerance")

_WORKMANSHIP = ((300.0, 25.0), (1500.0, 50.0), (3000.0, 100.0), (7500.0, 150.0))
"""Length up to which, and what an assembly may be longer, in mm; it may never be shorter."""

_WORKMANSHIP_SHARE = 0.05
"""Above the last length, as a share of it."""


@frozen
class BuiltLength:
    """A finished stretch: the length of bundle that the route needs and the one that was built, in mm.

    `built_mm` carries the build tolerance (or, where the bundle was measured, that of its measurement); `why` says
    where that comes from.
    """

    name: str
    needed_mm: float
    doubts: tuple[Doubt, ...]
    coverage: Limit
    built_mm: Quantity
    why: str

    @property
    def expanded_mm(self) -> float:
        """Expanded uncertainty of the needed length."""
        return expanded(combined_mm(self.doubts), self.coverage.value.value)

    @property
    def longest_need_mm(self) -> float:
        """The longest that it may turn out to need, within the stated coverage."""
        return self.needed_mm + self.expanded_mm

    @property
    def shortest_built_mm(self) -> float:
        """The shortest that it may have turned out."""
        if self.built_mm.coverage is None:
            return self.built_mm.lowest
        return self.built_mm.value - self.built_mm.minus * self.coverage.value.value / self.built_mm.coverage

    @property
    def margin_mm(self) -> float:
        """What is left when need is longest and the bundle shortest; negative when it is too short."""
        return self.shortest_built_mm - self.longest_need_mm


def workmanship_tolerance(length_mm: float) -> Quantity:
    """What a finished assembly may differ where its drawing gives no tolerance: plus only, by its length."""
    for up_to_mm, plus_mm in _WORKMANSHIP:
        if length_mm <= up_to_mm:
            return Quantity(0.0, plus_mm, 0.0)
    return Quantity(0.0, _WORKMANSHIP_SHARE * length_mm, 0.0)


def built_length(network: Network, leg: Leg) -> BuiltLength | None:
    """The finished stretch that a part of the route belongs to; None where the design does not say what was built."""
    stretch = leg.stretch
    built = stretch.built_mm
    if built is None:
        return None
    known = stretch_known(network.design, leg.from_point, leg.to_point, stretch)
    extra = math.fsum((stretch.slack_mm.value, stretch.drip_loop_mm.value, stretch.movement_mm.value))
    needed_mm = stretch.length_mm.value + known.shift_mm + extra - _nearer_mm(network, leg)
    why = "its own tolerance"
    if not built.plus and not built.minus:
        tolerance = stretch.build or workmanship_tolerance(built.value)
        why = "build tolerance" if stretch.build else f"build tolerance, {WORKMANSHIP_SOURCE}"
        built = Quantity(built.value, tolerance.plus, tolerance.minus)
    coverage = limit("coverage-factor", network.design.limits)
    return BuiltLength(leg.name, needed_mm, known.doubts, coverage, built, why)


def built_lengths(network: Network) -> list[tuple[Leg, BuiltLength]]:
    """Every finished stretch of the design, once each, with a part of the route that lies in it."""
    found: dict[str, tuple[Leg, BuiltLength]] = {}
    for leg in network.route.legs:
        if leg.stretch.built_mm is not None and leg.name not in found:
            length = built_length(network, leg)
            if length is not None:
                found[leg.name] = (leg, length)
    return list(found.values())


def _nearer_mm(network: Network, leg: Leg) -> float:
    """How much nearer the connectors at its ends lie by what is used of their freedom; of several, the least."""
    nearer_mm = 0.0
    for point in (leg.from_point, leg.to_point):
        here = [each.reach for each in network.design.connectors.values() if each.at == point]
        used = [used_mm(reach, leg.stretch.length_mm.value) if reach is not None else 0.0 for reach in here]
        nearer_mm += min(used, default=0.0)
    return nearer_mm
