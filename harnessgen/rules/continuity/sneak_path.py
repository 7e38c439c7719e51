"""A load that carries current in a state that lists it as off."""

from collections.abc import Iterator
from functools import partial

from harnessgen.design.limits.table import limit
from harnessgen.evidence.derivation import Input, evaluated
from harnessgen.evidence.finding import Finding, Later, Number, Proposal, Severity, at_most, derived
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics.electrical.kirchhoff import CURRENT_LAW
from harnessgen.physics.electrical.operating_point import OperatingPoint
from harnessgen.physics.physics import Physics
from harnessgen.rules.cavity.pins import moves
from harnessgen.rules.continuity.exchanged_contacts import explained_by_exchange
from harnessgen.rules.wording.current_way import elements_through, way_through

RULE = "sneak-path"


def check(physics: Physics) -> list[Finding]:
    """One finding for each load and state, with the way of the current; a state with a short is left out.

    The currents of such a state are the short's. `common_cause` tells the states of one load together.
    """
    found = list(_sneaking(physics))
    # What a relay with exchanged contacts turns on is told with the relay.
    told = explained_by_exchange(physics) if found else set[str]()
    return [each for each in found if each.subject not in told]


def _sneaking(physics: Physics) -> Iterator[Finding]:
    network = physics.network
    design = network.design
    elements = network.electrical.elements
    loads = {each.device.name: each for each in elements if each.device is not None and each.kind is ElementKind.LOAD}
    share = limit("sneak-share", design.limits)
    sound = [point for name, point in physics.points.items() if name not in physics.shorted]
    for name, point in physics.points.items():
        state = design.states[name]
        if not state.off or name in physics.shorted:
            continue
        for load in state.off:
            ampere = abs(point.amperes[loads[load].name])
            working = max(abs(each.amperes[loads[load].name]) for each in sound)
            if ampere <= share.value.value * working:
                continue
            inputs = (
                Input("s", f"limit {share.name}", share.value.value, "1", share.source),
                Input("I", f"highest current of {load} over the states", working, "A", CURRENT_LAW),
            )
            bound = evaluated(f"current up to which {load} counts as off", "s * I", inputs, "A", share.source)
            numbers = (
                Number("carries", ampere, "A", f"in state {name}", 4),
                derived("at most", bound, f"{100 * share.value.value:g} % of {working:.4g} A, {share.source}", 4),
            )
            message = f"{load} carries current in state {name}, which lists it as off."
            way = way_through(network, point, loads[load])
            see = ((loads[load].device.place, f"{load} stands here; its current flows by {way}"),)  # type: ignore[union-attr]
            yield Finding(
                RULE,
                Severity.ERROR,
                load,
                state.where("off"),
                message,
                numbers,
                see=see,
                proposals=Later(partial(_other_terminals, physics, point, loads[load])),
                state=name,
                deciding=at_most(*numbers),
            )


def _other_terminals(physics: Physics, point: OperatingPoint, load: Element) -> Iterator[Proposal]:
    """For each wire on the way of the current: other terminals that it may have been meant for."""
    network = physics.network
    for each in elements_through(network, point, load):
        for end in each.wire.ends if each.wire is not None else ():
            yield from moves(network, each.wire, end)  # type: ignore[arg-type]
