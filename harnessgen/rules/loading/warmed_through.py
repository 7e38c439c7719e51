"""What the currents of a state heat above its rating: insulation by its neighbours, coverings, contacts."""

import math
from collections.abc import Iterator
from functools import partial

from harnessgen.evidence.finding import Finding, Later, Number, Proposal, Severity
from harnessgen.network.wires import Wire
from harnessgen.physics.heat.contacts import contacts_of
from harnessgen.physics.heat.harness import StretchHeat
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
        numbers = (
            Number("conductor", hottest.conductor_degc, "degC", heat_words(physics, hottest), 1),
            Number(
                "stands", wire.family.rating_degc.value, "degC", f"{wire.family.name}, {wire.family.publication}", 1
            ),
        )
        said = f"The wires beside {wire.mark} heat its insulation more than it stands."
        proposals = Later(partial(_families, physics, wire, hottest.conductor_degc))
        yield Finding(RULE, Severity.ERROR, wire.mark, wire.size_place, said, numbers, proposals=proposals)


def _families(physics: Physics, wire: Wire, degc: float) -> Iterator[Proposal]:
    yield from families_for_all(physics.network)
    yield standing_families(physics.network, wire, degc)


def _coverings(physics: Physics) -> Iterator[Finding]:
    worst: dict[str, StretchHeat] = {}
    for state in physics.heat.durations_s:
        for stretch in physics.heat.in_state(state):
            leg, covering = stretch.bundle.leg, stretch.bundle.covering
            if leg is None or covering is None or stretch.highest_degc <= covering.rating_degc.value:
                continue
            inner = stretch.found.inner_degc
            if not covering.rating_degc.value < inner < math.inf:
                continue
            if leg.name not in worst or inner > worst[leg.name].found.inner_degc:
                worst[leg.name] = stretch
    for name, stretch in worst.items():
        leg, covering = stretch.bundle.leg, stretch.bundle.covering
        assert leg is not None
        assert covering is not None
        numbers = (
            Number("inside", stretch.found.inner_degc, "degC", f"{_too_hot(stretch)}, {_where(stretch)}", 1),
            Number("stands", covering.rating_degc.value, "degC", f"{covering.name}, {covering.publication}", 1),
        )
        said = f"The {covering.name} from {name} gets hotter inside than it stands."
        yield Finding(RULE, Severity.ERROR, name, leg.stretch.where("covering"), said, numbers)


def _contacts(physics: Physics, told: frozenset[str]) -> Iterator[Finding]:
    network = physics.network
    for contact in contacts_of(physics.network):
        hottest = contact.hottest(physics.heat)
        if hottest is None or hottest.degc <= contact.stands_degc:
            continue
        if any(not told.isdisjoint(each.stretch.bundle.marks) for each in hottest.wires):
            continue
        excess = f"{hottest.degc - contact.stands_degc:.1f} K above what it stands"
        at, degc = hottest.wires[0], hottest.derivation().result
        words = (
            f"in state {hottest.state}: {at.current_a:.2f} A through {1000 * contact.part.resistance_ohm.value:g} mohm"
        )
        numbers = (
            Number("contact", degc, "degC", f"{excess}, {words}, {at.wire.mark} at {at.conductor_degc:.1f} degC", 1),
            Number("stands", contact.stands_degc, "degC", contact.stands_by, 1),
        )
        said = f"The contact of wire {at.wire.mark} at {contact.name} gets hotter than it stands."
        place = node_place(network, contact.name)
        yield Finding(RULE, Severity.ERROR, contact.name, place, said, numbers)


def _too_hot(stretch: StretchHeat) -> str:
    covering = stretch.bundle.covering
    assert covering is not None
    return f"{stretch.found.inner_degc - covering.rating_degc.value:.1f} K above what it stands"


def _where(stretch: StretchHeat) -> str:
    leg, zone = stretch.bundle.leg, stretch.bundle.ambient_degc
    where = f", from {leg.name}" if leg is not None else ""
    return f"in state {stretch.state}{where} at {zone:g} degC"
