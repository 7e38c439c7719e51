"""Steady temperature of contacts: the wires at their ends, and what the contact's own resistance adds.

The heat of a contact leaves along its wires, each a long fin that loses by metre and kelvin what it loses in its
bundle; what a contact with one wire is plugged into, or bolted to, leads as much away as the wire does, and a housing
nothing. States with an end are left out: a contact's mass is not known. A device stands where its stretches meet, and
its terminals are taken to lie in the coolest of the zones that meet there; a connector lies in that of its own stretch.
"""

import math
from collections.abc import Sequence

from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import common_practice
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import quantised
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.parts.connector import ConnectorPart
from harnessgen.parts.terminal import Contact
from harnessgen.physics.electrical.element_resistance import ambient_degc
from harnessgen.physics.heat.bundle import even_rise, own_rise
from harnessgen.physics.heat.harness import HarnessHeat, WireHeat

COPPER_W_PER_M_K = 390.0
"""Thermal conductivity of warm copper: 400 at 20 degC, 385 at 150 degC (common practice, no source)."""

_LEAST_K = 1e-6

FIN_SOURCE = common_practice(
    "a contact's own heat leaves along its wire and as much along its mate, as through long fins, and nowhere else"
)


@frozen
class ContactHeat:
    """A contact in a state: the wires that lead its heat away, each beside it, and its temperature."""

    contact: "WiredContact"
    state: str
    wires: tuple[WireHeat, ...]

    @property
    def degc(self) -> float:
        """Its temperature."""
        leads = [_leads_w_per_k(each) for each in self.wires]
        heat = self.wires[0].current_a ** 2 * self.contact.part.resistance_ohm.value
        brought = math.fsum(lead * self._beside_degc(each) for lead, each in zip(leads, self.wires, strict=True))
        return (heat * self._share + brought) / math.fsum(leads)

    @property
    def _share(self) -> float:
        """Share of its heat that its wires lead away; the mate of a single one takes the other half."""
        return 0.5 if len(self.wires) == 1 else 1.0

    def _beside_degc(self, each: WireHeat) -> float:
        """The conductor of a wire beside the contact: its rise over its stretch's ambient, over that of the contact."""
        cooler = self.contact.ambient_degc
        beside = each.conductor_degc
        return beside if cooler is None else beside - max(each.stretch.bundle.ambient_degc - cooler, 0.0)

    def derivation(self) -> Evaluated:
        """Where its temperature comes from."""
        part = self.contact.part
        inputs = [
            Input("I", "RMS current", self.wires[0].current_a, "A"),
            Input("R", "resistance of the contact", part.resistance_ohm.value, "ohm", part.publication),
            Input(
                "s",
                "share of its heat that its wires lead away, the rest being its mate's",
                self._share,
                "1",
                FIN_SOURCE,
            ),
            Input("k", "conductivity of copper", COPPER_W_PER_M_K, "W/(m K)", FIN_SOURCE),
        ]
        leads: list[str] = []
        for number, each in enumerate(self.wires, start=1):
            figures, mark = each.wire.figures, each.wire.mark
            area_mm2, origin = figures.area_mm2.value, each.wire.family.origin(figures)
            inputs += (
                Input(f"T{number}", f"conductor of {mark} there", self._beside_degc(each), "degC"),
                Input(f"g{number}", f"loss of {mark} by metre and kelvin there", _loses_w_per_m_k(each), "W/(m K)"),
                Input(f"A{number}", f"copper of {mark}", area_mm2, "mm2", origin),
            )
            leads.append(f"sqrt(k * A{number} / 1000000 * g{number})")
        brought = " + ".join(f"{lead} * T{number}" for number, lead in enumerate(leads, start=1))
        formula = f"(s * I**2 * R + {brought}) / ({' + '.join(leads)})"
        title = f"contact at {self.contact.name} in state {self.state}"
        return evaluated(title, formula, tuple(inputs), "degC", FIN_SOURCE)


@frozen
class WiredContact:
    """A contact of the harness with the wires that end in it: one, or one on either side of a disconnect's cavity.

    `stands_degc` is the lowest rating of contact and housing, `stands_by` says whose it is. `ambient_degc` is the
    ambient of a device's terminal; None for what lies in the ambient of the wire's own stretch.
    """

    name: str
    part: Contact
    wires: tuple[tuple[Wire, WireEnd], ...]
    stands_degc: float
    stands_by: str
    ambient_degc: float | None = None

    def hottest(self, heat: HarnessHeat) -> ContactHeat | None:
        """The endless state in which it is hottest; None where it carries nothing in any, or a wire melts."""
        return max(self.in_states(heat), key=lambda each: quantised(each.degc), default=None)

    def in_states(self, heat: HarnessHeat) -> list[ContactHeat]:
        """Each endless state in which it carries something and no wire melts."""
        beside = [_beside(heat, wire, end) for wire, end in self.wires]
        return [
            ContactHeat(self, together[0].stretch.state, together)
            for together in zip(*beside, strict=True)
            if together[0].stretch.lasts_s is None
            and all(_LEAST_K < each.conductor_degc - each.stretch.bundle.ambient_degc < math.inf for each in together)
            and together[0].current_a > 0.0
        ]


def contacts_of(network: Network) -> Sequence[WiredContact]:
    """Contacts of all wire ends in the order of the wires; those of a disconnect's cavity once."""
    found: dict[str, list[tuple[Wire, WireEnd]]] = {}
    for wire in network.wires:
        for end in wire.ends:
            if network.contact_at(end) is not None:
                is_half = end.designator[:-1] in network.design.disconnects and end.kind is EndKind.CAVITY
                key = f"{end.designator[:-1]}/{end.terminal}" if is_half else f"{end.node} {wire.mark}"
                found.setdefault(key, []).append((wire, end))
    return [_wired(network, ends) for ends in found.values()]


def _wired(network: Network, ends: list[tuple[Wire, WireEnd]]) -> WiredContact:
    end = ends[0][1]
    part = network.contact_at(end)
    assert part is not None
    rated: list[Contact | ConnectorPart] = [part]
    if end.kind is EndKind.CAVITY:
        rated.append(network.connector_part(end.designator))
    least = min(rated, key=lambda each: each.rating_degc.value)
    cooler = None
    if end.kind is EndKind.LANDING:
        # The point of the route whatever wire leads there: its stretches are the legs at its node.
        meeting = [leg for leg in network.route.legs if end.route_node in (leg.start, leg.end)]
        cooler = min((ambient_degc(network, leg) for leg in meeting), default=None)
    named = f"{least.name}, {least.publication}"
    return WiredContact(end.node, part, tuple(ends), least.rating_degc.value, named, cooler)


def _beside(heat: HarnessHeat, wire: Wire, end: WireEnd) -> list[WireHeat]:
    """A wire in the stretch beside one of its ends, in each state."""
    leg = (wire.way[0] if end is wire.a else wire.way[-1]) if wire.way else None
    ends = (leg.start, leg.end) if leg is not None else None
    return [
        each
        for each in heat.by_wire[wire.mark]
        if (None if (lies := each.stretch.bundle.leg) is None else (lies.start, lies.end)) == ends
    ]


def _leads_w_per_k(each: WireHeat) -> float:
    """What a wire leads away from its end for each kelvin that the end lies above it: a long fin."""
    return math.sqrt(COPPER_W_PER_M_K * each.wire.figures.area_mm2.value / 1e6 * _loses_w_per_m_k(each))


def _loses_w_per_m_k(each: WireHeat) -> float:
    """What a metre of wire loses for each kelvin that it is hotter than it is, less what hotter copper makes more.

    Every loaded wire of its bundle is taken to be hotter by as much, as where all of them end in one connector.
    """
    found, bundle = each.stretch.found, each.stretch.bundle
    body, count = bundle.bodies[each.index], len(found.deciding)
    own = own_rise(body, max(found.across_mm, body.outside_diameter_mm))
    outward = (found.surface_degc - bundle.ambient_degc) / math.fsum(found.heats_w_per_m)
    made = each.current_a**2 * body.ohm_per_m / 254.5
    return max(1.0 / (own + (count - 1) * even_rise() + count * outward) - made, 1e-6)
