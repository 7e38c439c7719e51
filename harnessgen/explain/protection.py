"""What protects a wire, what a fuse does in a short, and how the wires behind it fare: numbers of the rules too."""

import math
from collections.abc import Iterator

from harnessgen.design.records.device import Fuse
from harnessgen.evidence.derivation import Derivation
from harnessgen.explain.thing import Fact
from harnessgen.measures.quantity import plain_number
from harnessgen.network.wires import Wire
from harnessgen.physics.heat.ampacity import allowed_current_derivation
from harnessgen.physics.heat.stretch_derivation import wire_heat_derivation
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection.derivation import (
    breaking_derivation,
    guarded_derivations,
    holds_derivation,
    let_through_derivation,
    steady_limit_derivation,
)
from harnessgen.physics.protection.fuse_curve import FuseCurve
from harnessgen.physics.protection.protected_wires import Guarded, LegHeats
from harnessgen.physics.protection.short_current import Short, short_loop, shorts_through
from harnessgen.rules.protection.fused import protected, unfused
from harnessgen.rules.protection.guards import Guard, guards
from harnessgen.rules.protection.unexamined import ideal_supplies


def fuse_facts(physics: Physics, fuse: Fuse) -> Iterator[Fact]:
    """What a fuse protects, does in a short, and how the wire that it guards least fares."""
    for each in protected(physics):
        if each.fuse.name == fuse.name:
            yield Fact("protects", ", ".join(element.name for element in each.wires) or "no wire")
            if each.in_line:
                yield Fact("its current runs through too", ", ".join(element.name for element in each.in_line))
    guard = next((each for each in guards(physics) if each.protects.fuse is fuse), None)
    if guard is None:
        form = physics.network.parts.fuses[fuse.form]
        why = "no supply feeds it" if form.opening is not None else f"{form.name} has no published opening times"
        yield Fact("in a short", f"not examined: {why}")
        return
    near, far, curve = guard.currents.near, guard.currents.far, guard.curve
    near_words = f"{plain_number(near.volts, 1)} V, cold conductors, {milliohm(near)} back through the body"
    yield Fact("short right behind it", f"{plain_number(near.current_a, 0)} A", near_words)
    silent = ideal_supplies(physics, guard.protects.element)
    breaking = physics.network.parts.fuses[fuse.form].breaking
    if silent:
        yield Fact("breaks", f"not examined: {silent[0]} states no inner resistance")
    elif breaking is None:
        yield Fact("breaks", f"not examined: {fuse.form} states no breaking capacity")
    else:
        yield Fact("breaks", f"{plain_number(breaking.capacity_a.value)} A", str(breaking.publication))
    far_words = f"at {far.at}, {plain_number(far.volts, 1)} V, hot conductors, {milliohm(far)} back through the body"
    yield Fact("short far away", f"{plain_number(far.current_a, 1)} A", far_words)
    yield Fact("may hold for ever", f"{plain_number(curve.holds_up_to_a, 2)} A", str(curve.source))
    if guard.wires:
        least = guard.wires[0]
        yield Fact("guards least", f"{least.wire.mark}, {least.wire.size}{_where(least)}")
        yield from _fares(least, "it")


def fuse_numbers(physics: Physics, fuse: Fuse) -> Iterator[Derivation]:
    """Its prospective currents with the loops that they run round, what it breaks, lets through, and its margin."""
    yield steady_limit_derivation(physics.network, fuse)
    yield from _held_numbers(physics, fuse)
    for guard in guards(physics):
        if guard.protects.fuse is not fuse:
            continue
        near, far = guard.currents.near, guard.currents.far
        for short in (near, far):
            yield from _short_numbers(physics, short)
        yield holds_derivation(fuse.name, guard.curve, near)
        breaking = physics.network.parts.fuses[fuse.form].breaking
        if breaking is not None and not ideal_supplies(physics, guard.protects.element):
            source = breaking.publication
            yield breaking_derivation(fuse.name, near, breaking.capacity_a.value, source)
        let_through = let_through_derivation(fuse.name, guard.curve, near)
        if let_through is not None:
            yield let_through
        if guard.wires:
            yield from _guarded_numbers(physics, guard, guard.wires[0])


def _held_numbers(physics: Physics, fuse: Fuse) -> Iterator[Derivation]:
    """Allowed current of the wire, of all that its rating runs through, that may carry least."""
    held = [element.name for each in protected(physics) if each.fuse is fuse for element in each.held]
    allowed = [physics.allowed[mark] for mark in held if physics.allowed[mark].allowed_a > 0.0]
    if allowed:
        least = min(allowed, key=lambda one: one.allowed_a)
        yield allowed_current_derivation(physics.network.wire_of[least.mark], least)


def wire_protection_facts(physics: Physics, wire: Wire) -> Iterator[Fact]:
    """Which fuses protect a wire, and how it fares with each; what feeds it before any fuse."""
    found = False
    for guard, each in _guards_of(physics, wire):
        fuse = guard.protects.fuse
        is_behind = any(element.wire is wire for element in guard.protects.wires)
        what = "protected by" if is_behind else "has to stand what passes"
        words = f"{fuse.name}, {plain_number(guard.curve.rating_a, 1)} A"
        yield Fact(what, f"{words}, which may hold {_holds(guard.curve, guard.currents.near)} for ever")
        found = True
        if each is not None:
            yield from _fares(each, f"behind {fuse.name} it" if is_behind else f"with {fuse.name} it")
    for each_unfused in unfused(physics.network):
        if each_unfused.wire.wire is wire:
            yield Fact("before any fuse", f"{each_unfused.supply.name} feeds it without one")
            return
    for one in protected(physics):
        if not found and any(element.wire is wire for element in one.held):
            found = True
            form = one.fuse.form
            yield Fact("protected by", f"{one.fuse.name}, not examined: {form} has no published opening times")
    if not found:
        yield Fact("protected by", "no fuse: what it carries in a short is not examined")


def wire_short_numbers(physics: Physics, wire: Wire) -> Iterator[Derivation]:
    """What a dead short beyond a wire drives through it, cold and hot, and its margins behind its fuses."""
    element = next(each for each in physics.network.electrical.elements if each.wire is wire)
    currents = shorts_through(physics, element)
    if currents is not None:
        yield from _short_numbers(physics, currents.near)
        yield from _short_numbers(physics, currents.far)
    for guard, each in _guards_of(physics, wire):
        if each is not None:
            yield holds_derivation(guard.protects.fuse.name, guard.curve, guard.currents.near)
            yield from _guarded_numbers(physics, guard, each)


def _short_numbers(physics: Physics, short: Short) -> Iterator[Derivation]:
    yield short.derivation
    loop = short_loop(physics, short)
    if loop is not None:
        yield loop


def _guarded_numbers(physics: Physics, guard: Guard, each: Guarded) -> Iterator[Derivation]:
    start = LegHeats(physics).start(each.wire, each.leg)
    if start is not None and math.isfinite(start.conductor_degc):
        yield wire_heat_derivation(start)
    yield from guarded_derivations(guard.protects.fuse.name, guard.curve, guard.currents, each)


def _guards_of(physics: Physics, wire: Wire) -> Iterator[tuple[Guard, Guarded | None]]:
    """Fuses whose current a wire has to stand, with how it fares; None where it is too hot before any fault."""
    for guard in guards(physics):
        if any(element.wire is wire for element in guard.protects.held):
            yield guard, next((each for each in guard.wires if each.wire is wire), None)


def _fares(each: Guarded, it: str) -> Iterator[Fact]:
    yield Fact(f"{it} stands for ever", f"{plain_number(each.for_ever_a, 1)} A{_where(each)}, the others as loaded")
    if math.isfinite(each.margin):
        said = f"stands {each.stands_s:.3g} s, the fuse has opened by {each.opens_s:.3g} s; margin {each.margin:.3g}"
        yield Fact(f"at {plain_number(each.at_a, 1)} A, where the margin is least", said)


def _holds(curve: FuseCurve, near: Short) -> str:
    return f"{plain_number(min(curve.holds_up_to_a, near.current_a), 2)} A"


def milliohm(short: Short) -> str:
    """The way back of a short through the body, in words."""
    return f"{plain_number(1000 * short.return_ohm, 1)} mohm"


def _where(each: Guarded) -> str:
    return f" from {each.leg.name}" if each.leg is not None else ""
