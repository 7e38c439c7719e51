"""What the currents of a state heat above its rating: insulation by its neighbours, coverings, contacts."""

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from harnessgen.evidence.finding import Finding, Later, Number, Proposal, Severity, at_most, worst_first
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.physics.heat.contacts import ContactHeat, WiredContact, contacts_of
from harnessgen.physics.heat.harness import StretchHeat, WireHeat
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading.hotter_families import families_for_all, standing_families
from harnessgen.rules.loading.wire_overload import heat_words, overloaded
from harnessgen.rules.wording.places import node_place

RULE = "over-temperature"


def warmed_through(physics: Physics) -> Iterator[Finding]:
    """Each such thing in the state that makes it hottest.

    A wire that its own current heats is told by `wire-overload`, and what lies in its bundle or at its ends is not told
    again. Where a conductor comes to no temperature at all, that rule tells it alone.
    """
    told = frozenset(each.wire.mark for each in overloaded(physics))
    yield from _insulations(physics, told)
    yield from _coverings(physics)
    yield from _contacts(physics, told)


def _insulations(physics: Physics, told: frozenset[str]) -> Iterator[Finding]:
    for wire in physics.network.wires:
        hottest = physics.heat.hottest(wire.mark, wire.family.rating_degc.value)
        if hottest is None or hottest.margin_k >= 0.0 or math.isinf(hottest.conductor_degc):
            continue
        if not told.isdisjoint(hottest.stretch.bundle.marks):
            continue
        yield replace(
            _insulation(physics, hottest),
            elsewhere=Later(partial(_in_other_states, physics, hottest)),
        )


def _in_other_states(physics: Physics, told: WireHeat) -> list[Finding]:
    hottest: dict[str, WireHeat] = {}
    for each in physics.heat.by_wire[told.wire.mark]:
        state, degc = each.stretch.state, each.conductor_degc
        is_other = state != told.stretch.state and each.margin_k < 0.0 and not math.isinf(degc)
        if is_other and (state not in hottest or degc > hottest[state].conductor_degc):
            hottest[state] = each
    return [_insulation(physics, each) for each in sorted(hottest.values(), key=lambda each: -each.conductor_degc)]


def _insulation(physics: Physics, hottest: WireHeat) -> Finding:
    wire = hottest.wire
    numbers = (
        Number("conductor", hottest.conductor_degc, "degC", heat_words(physics, hottest), 1),
        Number("stands", wire.family.rating_degc.value, "degC", f"{wire.family.name}, {wire.family.publication}", 1),
    )
    said = f"The wires beside {wire.mark} heat its insulation more than it stands."
    return Finding(
        RULE,
        Severity.ERROR,
        wire.mark,
        wire.size_place,
        said,
        numbers,
        state=hottest.stretch.state,
        deciding=at_most(*numbers),
        proposals=Later(partial(_families, physics, wire, hottest.conductor_degc)),
    )


def _families(physics: Physics, wire: Wire, degc: float) -> Iterator[Proposal]:
    yield from families_for_all(physics.network)
    yield standing_families(physics.network, wire, degc)


def _coverings(physics: Physics) -> Iterator[Finding]:
    yield from worst_first(_covered(physics))


def _covered(physics: Physics) -> Iterator[tuple[float, Finding]]:
    for state in physics.heat.durations_s:
        for stretch in physics.heat.in_state(state):
            leg, covering = stretch.bundle.leg, stretch.bundle.covering
            if leg is None or covering is None or stretch.highest_degc <= covering.rating_degc.value:
                continue
            inner = stretch.found.inner_degc
            if not covering.rating_degc.value < inner < math.inf:
                continue
            numbers = (
                Number("inside", inner, "degC", f"{_too_hot(stretch)}, {_where(stretch)}", 1),
                Number("stands", covering.rating_degc.value, "degC", f"{covering.name}, {covering.publication}", 1),
            )
            said = f"The {covering.name} from {leg.name} gets hotter inside than it stands."
            place, deciding = leg.stretch.where("covering"), at_most(*numbers)
            yield (
                inner,
                Finding(RULE, Severity.ERROR, leg.name, place, said, numbers, state=state, deciding=deciding),
            )


def _contacts(physics: Physics, told: frozenset[str]) -> Iterator[Finding]:
    network = physics.network
    for contact in contacts_of(physics.network):
        found = (each for each in contact.in_states(physics.heat) if each.degc > contact.stands_degc)
        hot = sorted(found, key=lambda each: each.degc, reverse=True)
        if not hot or any(not told.isdisjoint(each.stretch.bundle.marks) for each in hot[0].wires):
            continue
        yield from worst_first((each.degc, _contact(network, contact, each)) for each in hot)


def _contact(network: Network, contact: WiredContact, hottest: ContactHeat) -> Finding:
    excess = f"{hottest.degc - contact.stands_degc:.1f} K above what it stands"
    at, degc = hottest.wires[0], hottest.derivation().result
    words = f"in state {hottest.state}: {at.current_a:.2f} A through {1000 * contact.part.resistance_ohm.value:g} mohm"
    numbers = (
        Number("contact", degc, "degC", f"{excess}, {words}, {at.wire.mark} at {at.conductor_degc:.1f} degC", 1),
        Number("stands", contact.stands_degc, "degC", contact.stands_by, 1),
    )
    said = f"The contact of wire {at.wire.mark} at {contact.name} gets hotter than it stands."
    place = node_place(network, contact.name)
    return Finding(
        RULE,
        Severity.ERROR,
        contact.name,
        place,
        said,
        numbers,
        state=hottest.state,
        deciding=at_most(*numbers),
    )


def _too_hot(stretch: StretchHeat) -> str:
    covering = stretch.bundle.covering
    assert covering is not None
    return f"{stretch.found.inner_degc - covering.rating_degc.value:.1f} K above what it stands"


def _where(stretch: StretchHeat) -> str:
    leg, zone = stretch.bundle.leg, stretch.bundle.ambient_degc
    where = f", from {leg.name}" if leg is not None else ""
    return f"in state {stretch.state}{where} at {zone:g} degC"
