"""A fuse that lets a wire behind it carry more than that wire may."""

from harnessgen.design.limits.table import limit
from harnessgen.evidence.finding import Finding, Number, Proposal, Severity
from harnessgen.measures.quantity import plain_number
from harnessgen.network.wires import Wire
from harnessgen.physics.heat.ampacity import AllowedCurrent
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading.larger import larger_sizes_of_all
from harnessgen.rules.loading.wire_overload import overloaded
from harnessgen.rules.protection.fused import Protected, protected
from harnessgen.rules.protection.guards import Guard, guards
from harnessgen.rules.wording.recalled import recalled_wires

RULE = "fuse-too-large"


def check(physics: Physics) -> list[Finding]:
    """One finding for each fuse, with the wire that it protects least.

    A wire that is too thin for its load already is told by `wire-overload` alone.
    """
    told = {each.wire.mark for each in overloaded(physics)}
    found = [_finding(physics, each, told) for each in protected(physics)]
    static = {finding.subject for finding in found if finding is not None}
    held = [_holding(physics, guard, told) for guard in guards(physics) if guard.protects.fuse.name not in static]
    return [finding for finding in (*found, *held) if finding is not None]


def _holding(physics: Physics, guard: Guard, told: set[str]) -> Finding | None:
    """A fuse that may hold for ever what a wire, beside the others as they are loaded, does not stand for ever."""
    short = [each for each in guard.hurt if each.for_ever_a < each.must_a and each.wire.mark not in told]
    if not short:
        return None
    least, fuse = min(short, key=lambda each: each.for_ever_a), guard.protects.fuse
    message = f"{fuse.name} does not protect wire {least.wire.mark}: it may hold this current for ever, the wire not."
    where = f" from {least.leg.name}" if least.leg is not None else ""
    stands = f"{least.wire.mark}, {least.wire.size}{where}, the others as loaded"
    numbers = (
        Number("holds up to", least.must_a, "A", f"no longest opening time below; {guard.curve.source}"),
        Number("stands", least.for_ever_a, "A", f"{stands}{recalled_wires([least.wire])}"),
    )
    share = guard.curve.holds_up_to_a / guard.curve.rating_a
    return Finding(
        RULE,
        Severity.ERROR,
        fuse.name,
        fuse.where("rating_a"),
        message,
        numbers,
        see=((least.wire.size_place, f"size of {least.wire.mark}"),),
        proposals=_smaller(physics, guard.protects, least.for_ever_a / share),
    )


def _finding(physics: Physics, each: Protected, told: set[str]) -> Finding | None:
    # A zone hotter than the insulation stands is a finding of its own; no fuse would mend it.
    allowed = [physics.allowed[element.name] for element in each.held if element.name not in told]
    allowed = [one for one in allowed if one.ambient_degc < one.rating_degc]
    if not allowed:
        return None
    least = min(allowed, key=lambda one: one.allowed_a)
    rating = each.fuse.rating_a.value
    share = limit("fuse-to-wire", physics.network.design.limits)
    if rating <= least.allowed_a * share.value.value:
        return None
    message = f"{each.fuse.name} does not protect wire {least.mark}: it carries its rating for ever, the wire does not."
    numbers = (
        Number("fuse", rating, "A", f"rating of {each.fuse.name}"),
        Number("allowed", least.allowed_a * share.value.value, "A", _origin(physics, least)),
    )
    wire = physics.network.wire_of[least.mark]
    see = ((wire.size_place, f"size of {least.mark}"),)
    return Finding(
        RULE,
        Severity.ERROR,
        each.fuse.name,
        each.fuse.where("rating_a"),
        message,
        numbers,
        see=see,
        proposals=(
            *_smaller(physics, each, least.allowed_a * share.value.value),
            *larger_sizes_of_all(_too_thin(physics, allowed, rating / share.value.value)),
        ),
    )


def _too_thin(physics: Physics, allowed: list[AllowedCurrent], needs_a: float) -> list[Wire]:
    """Wires that may not carry `needs_a` for ever, the least first."""
    least_first = sorted(allowed, key=lambda one: one.allowed_a)
    return [physics.network.wire_of[one.mark] for one in least_first if one.allowed_a < needs_a]


def _origin(physics: Physics, allowed: AllowedCurrent) -> str:
    wire = physics.network.wire_of[allowed.mark]
    among = "alone" if allowed.wires_there == 1 else f"among {allowed.wires_there} wires"
    where = f" from {allowed.leg.name}" if allowed.leg is not None else ""
    words = f"{wire.mark}, {wire.size} at {plain_number(allowed.ambient_degc, 1)} degC {among}{where}"
    return words + recalled_wires([wire])


def _smaller(physics: Physics, each: Protected, allowed_a: float) -> tuple[Proposal, ...]:
    """Smaller ratings of the same form, the largest first."""
    form = physics.network.parts.fuses[each.fuse.form]
    ratings = sorted((label for label in form.ratings if float(label) <= allowed_a), key=float, reverse=True)
    place = each.fuse.where("rating_a")
    return tuple(Proposal(place, f"{label} A", f"{label} A for {each.fuse.name}") for label in ratings[:3])
