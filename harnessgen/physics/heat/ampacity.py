"""The current that a wire may carry for ever, by heat balance, in the bundle and the zone of each stretch.

Every wire of a stretch is taken to be like this one and as loaded: the hardest case that the bundle allows. It is the
heat balance's, whatever published table the design names for its loads: those say nothing of a fault.
"""

import math
from functools import lru_cache

from harnessgen.design.limits.table import limit
from harnessgen.evidence.derivation import Solved
from harnessgen.lengths.bundles.diameter import bundle_diameter
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import quantised
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.network.vehicle_wires import VehicleWire
from harnessgen.network.wires import Wire
from harnessgen.physics.electrical.element_resistance import ambient_degc, given_degc
from harnessgen.physics.heat.air import STANDARD_PRESSURE_PA
from harnessgen.physics.heat.bundle import BUNDLE_W_PER_M_K, allowed_current_in_bundle_a, bundle_temperatures
from harnessgen.physics.heat.derivation import bundle_derivation
from harnessgen.physics.heat.single_wire import PLASTIC_EMISSIVITY, HeatedWire
from harnessgen.physics.heat.surroundings import surrounding_pressure_pa

INSULATION_W_PER_M_K = 0.2
"""Thermal conductivity of solid plastic insulation (common practice, no source: 0.17 to 0.4)."""


@frozen
class AllowedCurrent:
    """The least current that brings a wire to its insulation's rating anywhere on its way, and where that is.

    `leg` is None for a wire that lies in no stretch; `wires_there` counts the wires of the bundle in that leg.
    """

    mark: str
    allowed_a: float
    leg: Leg | None
    wires_there: int
    ambient_degc: float
    rating_degc: float
    pressure_pa: float = STANDARD_PRESSURE_PA


def heated(wire: Wire | VehicleWire) -> HeatedWire:
    """The wire as its heat sees it."""
    conductor = math.sqrt(4.0 * wire.figures.area_mm2.value / math.pi)
    outside = max(wire.figures.diameter_mm.value, conductor)
    return HeatedWire(wire.figures.resistance_ohm_per_m.value, conductor, outside, INSULATION_W_PER_M_K)


def allowed_current(network: Network, wire: Wire) -> AllowedCurrent:
    """Allowed current of `wire` in the worst part of its way; 0 where the zone is hotter than its insulation stands."""
    pressure_pa = surrounding_pressure_pa(network.design)
    if not wire.way:
        return _allowed_in(wire, None, 1, limit("ambient", network.design.limits).value.value, pressure_pa)
    found = (
        _allowed_in(wire, leg, len(network.wires_by_leg[leg.start, leg.end]), ambient_degc(network, leg), pressure_pa)
        for leg in wire.way
    )
    return min(found, key=lambda each: quantised(each.allowed_a))


def allowed_given_a(network: Network, wire: VehicleWire) -> float:
    """What a wire of the vehicle may carry for ever, alone in the still air of its zone, in A: at most that."""
    body, rating, pressure_pa = heated(wire), wire.family.rating_degc.value, surrounding_pressure_pa(network.design)
    envelope, ambient = _envelope_mm(body.outside_diameter_mm, 1), given_degc(network, wire)
    return allowed_current_in_bundle_a(body, 1, envelope, rating, ambient, pressure_pa=pressure_pa)


def _allowed_in(wire: Wire, leg: Leg | None, sharing: int, ambient: float, pressure_pa: float) -> AllowedCurrent:
    body, rating = heated(wire), wire.family.rating_degc.value
    envelope = _envelope_mm(body.outside_diameter_mm, sharing)
    allowed = allowed_current_in_bundle_a(body, sharing, envelope, rating, ambient, pressure_pa=pressure_pa)
    return AllowedCurrent(wire.mark, allowed, leg, sharing, ambient, rating, pressure_pa)


@lru_cache(maxsize=1024)
def _envelope_mm(outside_mm: float, sharing: int) -> float:
    """Diameter of a bundle of equal wires: many of a harness are asked for the same one."""
    return bundle_diameter([outside_mm] * sharing).diameter_mm


def allowed_current_derivation(wire: Wire, allowed: AllowedCurrent) -> Solved:
    """Where the allowed current comes from: with it in every wire of the bundle, the balances hold at the rating.

    Raises:
        ValueError: the zone is hotter than the insulation stands, so that no current is allowed.
    """
    body, count = heated(wire), allowed.wires_there
    bodies, currents = [body] * count, [allowed.allowed_a] * count
    envelope = _envelope_mm(body.outside_diameter_mm, count)
    state = bundle_temperatures(bodies, currents, envelope, allowed.ambient_degc, pressure_pa=allowed.pressure_pa)
    title = f"allowed current of {allowed.mark}"
    found = bundle_derivation(
        title,
        state,
        0,
        bodies,
        envelope,
        allowed.ambient_degc,
        BUNDLE_W_PER_M_K,
        PLASTIC_EMISSIVITY,
        allowed.pressure_pa,
    )
    return Solved(title, found.equations, found.balances, allowed.allowed_a, "A", found.sources)
