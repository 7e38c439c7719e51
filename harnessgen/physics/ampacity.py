"""The current that a wire may carry for ever, by heat balance, in the bundle and the zone of each stretch.

Every wire of a stretch is taken to be like this one and as hot: the hardest case that the bundle allows.
"""

import math
from dataclasses import dataclass

from harnessgen.evidence.derivation import Balance, Solved
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.network.wires import Wire
from harnessgen.physics.bundle import bundle_diameter
from harnessgen.physics.element_resistance import ambient_degc
from harnessgen.physics.heat_balance import HeatedWire, heat_lost_w_per_m

INSULATION_W_PER_M_K = 0.2
"""Thermal conductivity of solid plastic insulation (common practice, no source: 0.17 to 0.4)."""

CONVECTION = Publication(
    "Churchill, Chu: Correlating equations for laminar and turbulent free convection from a horizontal cylinder (1975)"
)
PRACTICE = common_practice("insulation conductivity 0.2 W/(m K), emissivity 0.9; every wire of the bundle equally hot")


@dataclass(frozen=True, slots=True)
class AllowedCurrent:
    """The least current that brings a wire to its insulation's rating anywhere on its way, and where that is."""

    mark: str
    allowed_a: float
    leg: Leg | None
    wires_there: int
    ambient_degc: float
    rating_degc: float
    heat_w_per_m: float
    ohm_per_m: float


def heated(wire: Wire) -> HeatedWire:
    """The wire as its heat sees it."""
    conductor = math.sqrt(4.0 * wire.figures.area_mm2.value / math.pi)
    return HeatedWire(
        wire.figures.resistance_ohm_per_m.value,
        conductor,
        max(wire.figures.diameter_mm.value, conductor),
        INSULATION_W_PER_M_K,
    )


def allowed_current(network: Network, wire: Wire) -> AllowedCurrent:
    """Allowed current of `wire` in the worst part of its way; 0 where the zone is hotter than its insulation stands."""
    worst: AllowedCurrent | None = None
    for leg in wire.way:
        sharing = len(network.wires_by_leg[leg.start, leg.end])
        found = _allowed_in(wire, leg, sharing, ambient_degc(network, leg))
        if worst is None or found.allowed_a < worst.allowed_a:
            worst = found
    return worst or _allowed_in(wire, None, 1, 40.0)


def _allowed_in(wire: Wire, leg: Leg | None, sharing: int, ambient: float) -> AllowedCurrent:
    body = heated(wire)
    rating = wire.family.rating_degc.value
    # The heat of a conductor passes its insulation, and that of all wires the envelope of the bundle.
    envelope = bundle_diameter([body.outside_diameter_mm] * sharing).diameter_mm
    heat = _heat_that_holds(rating, ambient, envelope, sharing, body.insulation_k_m_per_w)
    ohm_per_m = body.heat_made_w_per_m(1.0, rating)
    allowed = math.sqrt(heat / ohm_per_m)
    return AllowedCurrent(wire.mark, allowed, leg, sharing, ambient, rating, heat, ohm_per_m)


def _heat_that_holds(rating: float, ambient: float, envelope_mm: float, sharing: int, insulation: float) -> float:
    """Heat of one wire, in W/m, at which its conductor comes to `rating`."""
    if rating <= ambient:
        return 0.0
    low, high = ambient, rating
    for _ in range(60):
        surface = (low + high) / 2
        heat = heat_lost_w_per_m(surface, ambient, envelope_mm) / sharing
        low, high = (surface, high) if surface + heat * insulation < rating else (low, surface)
    return heat_lost_w_per_m(low, ambient, envelope_mm) / sharing


def allowed_current_derivation(allowed: AllowedCurrent) -> Solved:
    """Where the allowed current comes from: heat made in the conductor equals heat lost by its share of the bundle."""
    made = allowed.allowed_a**2 * allowed.ohm_per_m
    balance = Balance(
        "heat made in a metre of conductor, and heat that leaves it",
        (("made", made), ("lost", -allowed.heat_w_per_m)),
        "W/m",
    )
    equations = (
        f"I^2 * r(T) = q / n with the conductor at T = {allowed.rating_degc:g} degC,"
        f" ambient {allowed.ambient_degc:g} degC, n = {allowed.wires_there} equal wires in the bundle; q by natural convection and radiation from its envelope"
    )
    title = f"allowed current of {allowed.mark}"
    return Solved(title, equations, (balance,), allowed.allowed_a, "A", (CONVECTION, PRACTICE))
