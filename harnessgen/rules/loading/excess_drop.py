"""A load that gets too little of its supply's volts, because the harness takes too much."""

import math
from collections.abc import Iterator

from harnessgen.design.limits.table import Limit, limit
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.finding import Finding, Number, Severity, at_most, derived, worst_first
from harnessgen.network.electrical import ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.kirchhoff import VOLTAGE_LAW
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.voltage_drop import LoadDrop, PathPart
from harnessgen.rules.loading.larger import larger_sizes
from harnessgen.rules.wording.recalled import recalled_supply, recalled_wires

RULE = "excess-drop"

_OUTSIDE = (ElementKind.DRIVER, ElementKind.GROUND)


def check(physics: Physics) -> list[Finding]:
    """One finding for each load that loses more than its limit on the way out and back, in the state that loses most.

    States that stand for a moment, with a held motor or a cold lamp, are left out: they are for fuses, not for work.
    """
    return worst_first(each for state in working_states(physics) for each in _excesses(physics, state))


def working_states(physics: Physics) -> list[str]:
    """The states in which loads have to work: without a short, a held motor or a cold lamp."""
    states = physics.network.design.states
    return [
        state
        for state in physics.points
        if not (states[state].stalled or states[state].cold or state in physics.shorted)
    ]


def _excesses(physics: Physics, state: str) -> Iterator[tuple[float, Finding]]:
    network = physics.network
    for drop in physics.drops_in(state):
        if drop.load not in network.design.loads:
            continue
        feed_v, return_v = harness_v(drop.feed), harness_v(drop.return_)
        wires = [part for part in (*drop.feed, *drop.return_) if part.element in network.wire_of]
        allowed = drop_limit(network, drop)
        allowed_v = allowed.value.value * drop.supply_v
        if not wires or feed_v + return_v <= allowed_v:
            continue
        worst = network.wire_of[max(wires, key=lambda part: part.drop_v).element]
        named = f"{drop.load} ({drop.title})" if drop.title else drop.load
        recalled = recalled_wires(network.wire_of[part.element] for part in wires)
        recalled += recalled_supply(physics, drop.supply, drop.state)
        supply = Number("supply", drop.supply_v, "V", drop.supply)
        share = 100.0 * (feed_v + return_v) / drop.supply_v if drop.supply_v > 0.0 else math.inf
        numbers = (
            derived("loses", harness_derivation(drop), f"{share:.1f} %: {_words(drop, feed_v, return_v)}{recalled}"),
            derived(
                "at most",
                allowed_derivation(drop, allowed),
                f"{100 * allowed.value.value:g} % of {drop.supply_v:.2f} V, {allowed.source}",
            ),
        )
        finding = Finding(
            RULE,
            Severity.ERROR,
            drop.load,
            worst.size_place,
            f"{named} gets too little of its supply: the harness takes too much, most of it in {worst.mark}.",
            numbers,
            proposals=larger_sizes(worst),
            state=drop.state,
            deciding=at_most(*numbers, whole=supply),
        )
        yield (feed_v + return_v) / allowed_v, finding


def _words(drop: LoadDrop, feed_v: float, return_v: float) -> str:
    return (
        f"{feed_v:.2f} V in the feed and {return_v:.2f} V in the return at {drop.current_a:.3g} A,"
        f" in state {drop.state}, {drop.case.value}; {drop.across_v:.2f} V are left"
    )


def harness_v(parts: tuple[PathPart, ...]) -> float:
    """Volts in what the harness is made of: drivers and the body behind a ground point are not."""
    return math.fsum(part.drop_v for part in parts if part.kind not in _OUTSIDE)


def harness_derivation(drop: LoadDrop) -> Evaluated:
    """Where the volts come from that the harness takes of a load's, feed and return together."""
    parts = [part for part in (*drop.feed, *drop.return_) if part.kind not in _OUTSIDE]
    inputs = tuple(
        Input(f"d{number}", f"drop in {part.element} at {part.current_a:.3g} A", part.drop_v, "V", VOLTAGE_LAW)
        for number, part in enumerate(parts, start=1)
    )
    title = f"drop in the harness of {drop.load} in {drop.state}, {drop.case.value}"
    formula = f"sum({', '.join(each.symbol for each in inputs)})" if inputs else "0"
    return evaluated(title, formula, inputs, "V", VOLTAGE_LAW)


def allowed_derivation(drop: LoadDrop, allowed: Limit) -> Evaluated:
    """Where the volts come from that the harness may take of a load's."""
    inputs = (
        Input("s", f"limit {allowed.name}", allowed.value.value, "1", allowed.source),
        Input("U", f"at the terminals of {drop.supply} in {drop.state}, {drop.case.value}", drop.supply_v, "V"),
    )
    return evaluated(f"drop that the harness of {drop.load} may take", "s * U", inputs, "V", allowed.source)


def drop_limit(network: Network, drop: LoadDrop) -> Limit:
    """The limit of the circuit that ends at the load: the feed's before the return's, else the design's."""
    nearest = (*reversed(drop.feed), *drop.return_)
    tables = [network.wire_of[part.element].limits for part in nearest if part.element in network.wire_of]
    ends = (tables[0], tables[-1]) if tables else ()
    return limit("drop", *ends, network.design.limits)
