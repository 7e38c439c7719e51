"""How hot a wire gets in each stretch that it passes, and what it takes of the volts in each state."""

import math
from collections.abc import Iterator

from harnessgen.evidence.derivation import Derivation, Evaluated, Input, evaluated
from harnessgen.explain.thing import Fact
from harnessgen.measures.quantity import plain_number
from harnessgen.network.electrical import Element
from harnessgen.network.wires import Wire
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.kirchhoff import CURRENT_LAW
from harnessgen.physics.electrical.resistance import TEMPERATURE_SOURCE
from harnessgen.physics.heat.harness import LOADED_A, WireHeat
from harnessgen.physics.heat.stretch_derivation import wire_heat_derivation
from harnessgen.physics.physics import Physics

_NOTHING_A = 1e-9


def heat_facts(physics: Physics, wire: Wire) -> Iterator[Fact]:
    """The hottest state of each stretch of a wire's way with what is left to its rating, and the hottest stretch."""
    stretches = hottest_by_stretch(physics, wire)
    for each in stretches:
        yield Fact(f"gets hot{_where(each)}", f"{heat_words(physics, each)}")
    hottest = physics.heat.hottest(wire.mark)
    if hottest is not None:
        margin = f"{hottest.margin_k:.1f} K are left to {plain_number(wire.family.rating_degc.value, 1)} degC"
        if hottest.margin_k < 0.0:
            margin = f"{-hottest.margin_k:.1f} K more than its insulation stands"
        where = f"{hottest.conductor_degc:.1f} degC{_where(hottest)} in state {hottest.stretch.state}"
        yield Fact("hottest", f"{where}; {margin}" if math.isfinite(hottest.conductor_degc) else f"melts{where[8:]}")


def heat_numbers(physics: Physics, wire: Wire) -> Iterator[Derivation]:
    """The temperature of a wire in each stretch of its way, in the state in which it is hottest there."""
    for each in hottest_by_stretch(physics, wire):
        if math.isfinite(each.conductor_degc):
            yield wire_heat_derivation(each)


def hottest_by_stretch(physics: Physics, wire: Wire) -> list[WireHeat]:
    """Of each part of a wire's way, in its order, the state in which it is hottest; of equal ones the first."""
    found: dict[tuple[str, str], WireHeat] = {}
    for each in physics.heat.by_wire[wire.mark]:
        leg = each.stretch.bundle.leg
        ends = (leg.start, leg.end) if leg is not None else ("", "")
        if ends not in found or each.conductor_degc > found[ends].conductor_degc:
            found[ends] = each
    order = [(leg.start, leg.end) for leg in wire.way] or [("", "")]
    return [found[ends] for ends in order if ends in found]


def heat_words(physics: Physics, each: WireHeat) -> str:
    """Temperature, margin, deciding state and company of a wire in a stretch."""
    stretch = each.stretch
    case = physics.currents[stretch.state][each.wire.mark].case.value
    count, loaded = len(stretch.bundle.wires), sum(1 for current in stretch.currents_a if current > LOADED_A)
    among = "alone" if count == 1 else f"among {count} wires, {loaded} of them loaded"
    lasts = f", for {plain_number(stretch.lasts_s, 2)} s" if stretch.lasts_s is not None else ""
    degc = f"{each.conductor_degc:.1f} degC" if math.isfinite(each.conductor_degc) else "no temperature, it melts,"
    ambient = plain_number(stretch.bundle.ambient_degc, 1)
    return f"{degc} in state {stretch.state}, {case}{lasts}: {each.current_a:.2f} A RMS, {among}, at {ambient} degC"


def drops(physics: Physics, element: Element) -> Iterator[Evaluated]:
    """What an element takes of the volts in each state in which it carries current: as stated, and hot and low."""
    for state in physics.network.design.states:
        for case in (Case.STATED, Case.WEAK):
            point, ohm = physics.point_in(state, case), physics.ohms_in(case)[element.name]
            current_a = abs(point.amperes[element.name])
            if current_a <= _NOTHING_A:
                continue
            warm = TEMPERATURE_SOURCE if element.wire is not None else None
            inputs = (
                Input("I", f"current in {state}, {case.value}", current_a, "A", CURRENT_LAW),
                Input("R", f"resistance of {element.name}{', its ends included' if warm else ''}", ohm, "ohm", warm),
            )
            title = f"drop in {element.name} in {state}, {case.value}"
            yield evaluated(title, "I * R", inputs, "V", CURRENT_LAW, *((warm,) if warm else ()))


def _where(each: WireHeat) -> str:
    leg = each.stretch.bundle.leg
    return f" from {leg.name}" if leg is not None else ""
