"""A load that does not get what it works with in a state that lists it as working."""

from collections.abc import Iterator

from harnessgen.design.records.device import Load
from harnessgen.evidence.finding import Finding, NotExamined, Number, Severity, at_least, derived
from harnessgen.network.electrical import Element
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.kirchhoff import CURRENT_LAW
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.working import least_current, load_elements, volt_figures, volts_across
from harnessgen.rules.continuity.dead_load import dead_loads
from harnessgen.rules.continuity.exchanged_contacts import explained_by_exchange
from harnessgen.rules.continuity.loops import closures

RULE = "not-working"

_NO_CURRENT_A = 1e-9
"""A load of which no rated current is known has to carry more than this."""


def check(physics: Physics) -> list[Finding]:
    """One finding for each load and state, with the supply that leaves it least; a state with a short is left out."""
    found = list(_failing(physics))
    if not found:
        return []
    told = explained_by_exchange(physics) | _told_dead(physics, {each.subject for each in found})
    return [each for each in found if each.subject not in told]


def gaps(physics: Physics) -> Iterator[NotExamined]:
    """Loads of which no state says whether they have to work or have to be off."""
    design = physics.network.design
    if not design.declares_states:
        if design.loads:
            yield NotExamined(RULE, "no states are declared, so that nothing says what has to work")
        return
    listed = {load for state in design.states.values() for load in (*state.works, *state.off)}
    for load in design.loads:
        if load not in listed:
            yield NotExamined(RULE, f"no state lists {load} under works or off", load)


def _failing(physics: Physics) -> Iterator[Finding]:
    network = physics.network
    elements = load_elements(network)
    for state in network.design.states.values():
        if state.name in physics.shorted:
            continue
        for name in dict.fromkeys(state.works):
            load = network.design.loads[name]
            finding = _too_little(physics, load, elements[name], state.name)
            if finding is None:
                finding = _too_few_volts(physics, load, elements[name], state.name)
            if finding is not None:
                yield finding


def _too_little(physics: Physics, load: Load, elements: tuple[Element, ...], state: str) -> Finding | None:
    """The case in which a load carries the smallest share of what it has to; None where it carries enough in all."""
    worst: tuple[float, Number, Number] | None = None
    for case in Case:
        carries = abs(physics.point_in(state, case).amperes[elements[0].name]) * _left(physics, elements, state, case)
        least = least_current(physics.network, load, state, case)
        if least is None:
            needs = Number("at least", _NO_CURRENT_A, "A", "any current; its rated voltage is not stated", 4)
        else:
            share = next(each for each in least.inputs if each.symbol == "s")
            said = f"{100 * share.value:g} % of its rated current, {share.source}"
            needs = derived("at least", least, said, 4)
        has = Number("carries", carries, "A", f"in state {state}, {case.value}; {CURRENT_LAW}", 4)
        if carries < needs.value * (1.0 - 1e-9) and (worst is None or carries / needs.value < worst[0]):
            worst = carries / needs.value, has, needs
    return None if worst is None else _finding(physics, load, state, "carries too little", worst[1], worst[2])


def _left(physics: Physics, elements: tuple[Element, ...], state: str, case: Case) -> float:
    """Share of the solved volts that a load keeps beside what the vehicle's own wires carry already."""
    name = elements[0].device.name if elements[0].device is not None else ""
    solved_v = abs(volts_across(physics, elements, state, case))
    drop = next((each for each in physics.drops_in(state, case) if each.load == name), None)
    return drop.across_v / solved_v if drop is not None and solved_v > 0.0 and physics.carried else 1.0


def _too_few_volts(physics: Physics, load: Load, elements: tuple[Element, ...], state: str) -> Finding | None:
    least = volt_figures(physics.network, load).works_from
    if least is None:
        return None
    volts = {
        case: abs(volts_across(physics, elements, state, case)) * _left(physics, elements, state, case) for case in Case
    }
    case = min(volts, key=lambda each: volts[each])
    if volts[case] >= least.volts * (1.0 - 1e-9):
        return None
    gets = Number("gets", volts[case], "V", f"in state {state}, {case.value}")
    return _finding(
        physics, load, state, "gets too few volts", gets, Number("at least", least.volts, "V", str(least.source))
    )


def _finding(physics: Physics, load: Load, state: str, what: str, has: Number, needs: Number) -> Finding:
    declared = physics.network.design.states[state]
    message = f"{load.name} {what} in state {state}, which lists it as working."
    see = ((load.place, f"{load.name} stands here"),)
    return Finding(
        RULE,
        Severity.ERROR,
        load.name,
        declared.where("works"),
        message,
        (has, needs),
        see=see,
        state=state,
        deciding=at_least(has, needs),
    )


def _told_dead(physics: Physics, names: set[str]) -> set[str]:
    """Those of `names` that no state feeds: that is told once, as an open circuit or by its cause."""
    electrical = physics.network.electrical
    return names & dead_loads(physics.network, electrical, closures(physics, electrical), has_states=True).keys()
