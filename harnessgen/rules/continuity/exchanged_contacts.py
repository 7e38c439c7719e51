"""A change-over relay whose contacts 87 and 87a are exchanged: what its states ask for comes true the other way."""

from collections.abc import Mapping

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.operating_point import OperatingPoint, solved
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.working import least_current, load_elements
from harnessgen.source.kind import names_in

RULE = "exchanged-contacts"

_KEPT = "exchanged contacts"


def check(physics: Physics) -> list[Finding]:
    """One finding for each such relay, with the loads that then do what the states ask."""
    found = _exchanges(physics)
    relays = physics.network.design.relays
    findings: list[Finding] = []
    for name, loads in found.items():
        message = (
            f"87 and 87a of {name} are exchanged: {names_in(loads)} would do what the states ask the other way round."
        )
        mend = f"lead to {name}/87 what stands at {name}/87a, and the other way round"
        see = tuple((physics.network.design.devices[each].place, f"{each} stands here") for each in loads)
        findings.append(Finding(RULE, Severity.ERROR, name, relays[name].place, message, mend=mend, see=see))
    return findings


def explained_by_exchange(physics: Physics) -> set[str]:
    """Loads that do not do what a state asks for because of such a relay."""
    return {load for loads in _exchanges(physics).values() for load in loads}


def _exchanges(physics: Physics) -> Mapping[str, tuple[str, ...]]:
    if _KEPT not in physics.kept:
        physics.kept[_KEPT] = _found(physics)
    kept: Mapping[str, tuple[str, ...]] = physics.kept[_KEPT]
    return kept


def _found(physics: Physics) -> Mapping[str, tuple[str, ...]]:
    network = physics.network
    families = network.parts.relays
    change_over = [each.name for each in network.design.relays.values() if "87a" in families[each.part].terminals]
    states = [name for name in network.design.states if name not in physics.shorted]
    wrong = {name: _wrong(physics, name, physics.points[name]) for name in states} if change_over else {}
    if not any(wrong.values()):
        return {}
    found: dict[str, tuple[str, ...]] = {}
    for relay in change_over:
        mended: dict[str, None] = {}
        for name in states:
            point = physics.points[name]
            given = physics.conditions_in(name, Case.STATED)
            # The contacts alone change places: the others hold as they do.
            left = _wrong(physics, name, solved(network, given, point.pulled_in ^ {relay}))
            if left - wrong[name]:
                break
            mended.update(dict.fromkeys(sorted(wrong[name] - left)))
        else:
            if mended:
                found[relay] = tuple(mended)
    return found


def _wrong(physics: Physics, state: str, point: OperatingPoint) -> set[str]:
    """Loads that have to work and carry too little, or have to be off and carry as much as if they worked."""
    network = physics.network
    declared, elements = network.design.states[state], load_elements(network)
    found: set[str] = set()
    for load in (*declared.works, *declared.off):
        least = least_current(network, network.design.loads[load], state, Case.STATED)
        bound = least.result if least is not None else 1e-9
        if (abs(point.amperes[elements[load][0].name]) >= bound) is not (load in declared.works):
            found.add(load)
    return found
