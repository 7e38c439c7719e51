"""A relay that may stay open when its coil is hot and its supply low."""

from harnessgen.evidence.finding import Finding, Number, Severity, at_least, worst_first
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.relay_coil import PullIn
from harnessgen.rules.continuity.conduction import restless
from harnessgen.rules.wording.recalled import recalled_supply, recalled_wires

RULE = "weak-pull-in"


def check(physics: Physics) -> list[Finding]:
    """One finding for each relay whose coil may not get what closes it, in the state that leaves it least.

    A state with a short, or with a relay that does not come to rest at all, is left out: it is told by another rule.
    """
    weak: list[tuple[float, Finding]] = []
    for state, found in physics.pull_ins.items():
        point = physics.points[state]
        if state in physics.shorted:
            continue
        unsettled = {each.device.name for each in restless(physics.network, point) if each.device is not None}
        weak += (
            (-each.margin_v, _finding(physics, each))
            for each in found
            if each.margin_v < 0.0 and each.relay.name not in unsettled
        )
    return worst_first(weak)


def _finding(physics: Physics, found: PullIn) -> Finding:
    relay, drop = found.relay, found.drop
    part = physics.network.parts.relays[relay.part]
    hot = next(each.value for each in found.needs.inputs if each.symbol == "T")
    gets = f"{drop.source_v:.2f} V at {drop.supply}, less {drop.lost_v:.2f} V"
    parts = (each.element for each in (*drop.feed, *drop.return_))
    gets += recalled_wires(physics.network.wire_of[name] for name in parts if name in physics.network.wire_of)
    gets += recalled_supply(physics, drop.supply, found.state)
    numbers = (
        Number("coil gets", found.gets_v, "V", gets),
        Number(
            "needs",
            found.needs.result,
            "V",
            f"{part.pull_in_v.value:g} V at 20 degC, with the coil at {hot:g} degC; {part.publication}",
        ),
    )
    return Finding(
        RULE,
        Severity.ERROR,
        relay.name,
        relay.where("part"),
        f"{relay.name} may stay open in state {found.state}.",
        numbers,
        state=found.state,
        deciding=at_least(*numbers),
    )
