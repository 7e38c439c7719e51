"""A fuse that lets a wire behind it carry more than that wire may."""

from dataclasses import replace

from harnessgen.design.limits.table import limit
from harnessgen.evidence.finding import Finding, Later, Number, Proposal, Severity, at_most, worst_first
from harnessgen.measures.designator import natural_key
from harnessgen.measures.quantity import plain_number
from harnessgen.network.wires import Wire
from harnessgen.physics.heat.ampacity import AllowedCurrent
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection.protected_wires import Guarded
from harnessgen.rules.loading.larger import larger_sizes_of_all
from harnessgen.rules.loading.wire_overload import overloaded
from harnessgen.rules.protection.fused import Protected, protected
from harnessgen.rules.protection.guards import Guard, guards
from harnessgen.rules.wording.recalled import recalled_wires
from harnessgen.source.kind import names_in
from harnessgen.source.place import Place

RULE = "fuse-too-large"


def check(physics: Physics) -> list[Finding]:
    """One finding for each fuse, with the wire that it protects least.

    A wire that is too thin for its load already is told by `wire-overload` alone.
    """
    told = {each.wire.mark for each in overloaded(physics)}
    found = [finding for each in protected(physics) for finding in _findings(physics, each, told)]
    static = {finding.subject for finding in found}
    held = [
        finding
        for guard in guards(physics)
        if guard.protects.fuse.name not in static
        for finding in _holding(physics, guard, told)
    ]
    return [*found, *held]


def _holding(physics: Physics, guard: Guard, told: set[str]) -> list[Finding]:
    """A fuse that may hold for ever what a wire, beside the others as they are loaded, does not stand for ever."""
    short = [each for each in guard.hurt if each.for_ever_a < each.must_a and each.wire.mark not in told]
    if not short:
        return []
    thin = [one.wire for one in sorted(short, key=lambda one: one.for_ever_a)]
    first, *others = worst_first((-each.for_ever_a, _held(physics, guard, each)) for each in short)
    message = f"{first.subject} does not protect {_wires(thin)} it may hold this current for ever, {_not(thin)}."
    return [replace(first, message=message, see=_sizes(thin)), *others]


def _held(physics: Physics, guard: Guard, least: Guarded) -> Finding:
    fuse = guard.protects.fuse
    thin = [least.wire]
    message = f"{fuse.name} does not protect {_wires(thin)} it may hold this current for ever, {_not(thin)}."
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
        see=_sizes(thin),
        proposals=_smaller(physics, guard.protects, least.for_ever_a / share),
        wire=least.wire.mark,
        deciding=at_most(*numbers),
    )


def _findings(physics: Physics, each: Protected, told: set[str]) -> list[Finding]:
    """The finding of the wire that it protects least, if any, with those of its other wires."""
    # A zone hotter than the insulation stands is a finding of its own; no fuse would mend it.
    allowed = [physics.allowed[element.name] for element in each.held if element.name not in told]
    allowed = [one for one in allowed if one.ambient_degc < one.rating_degc]
    share = limit("fuse-to-wire", physics.network.design.limits).value.value
    least_first = sorted(allowed, key=lambda one: one.allowed_a)
    hurt = [one for one in least_first if each.fuse.rating_a.value > one.allowed_a * share]
    if not hurt:
        return []
    first = _finding(physics, each, allowed, hurt[0], share)
    others = Later(lambda: (_finding(physics, each, allowed, one, share) for one in hurt[1:]))
    thin = _too_thin(physics, allowed, each.fuse.rating_a.value / share)
    return [replace(first, message=_message(each, thin), see=_sizes(thin), elsewhere=others)]


def _message(each: Protected, thin: list[Wire]) -> str:
    return f"{each.fuse.name} does not protect {_wires(thin)} it carries its rating for ever, {_not(thin)}."


def _finding(
    physics: Physics, each: Protected, allowed: list[AllowedCurrent], least: AllowedCurrent, share: float
) -> Finding:
    rating = each.fuse.rating_a.value
    thin = [physics.network.wire_of[least.mark]]
    message = _message(each, thin)
    numbers = (
        Number("fuse", rating, "A", f"rating of {each.fuse.name}"),
        Number("allowed", least.allowed_a * share, "A", _origin(physics, least)),
    )
    return Finding(
        RULE,
        Severity.ERROR,
        each.fuse.name,
        each.fuse.where("rating_a"),
        message,
        numbers,
        see=_sizes(thin),
        proposals=(
            *_smaller(physics, each, least.allowed_a * share),
            *larger_sizes_of_all(_too_thin(physics, allowed, rating / share)),
        ),
        wire=least.mark,
        deciding=at_most(*numbers),
    )


def _wires(thin: list[Wire]) -> str:
    marks = sorted({wire.mark for wire in thin}, key=natural_key)
    return f"{'wire' if len(marks) == 1 else 'wires'} {names_in(marks)}:"


def _not(thin: list[Wire]) -> str:
    return "the wire does not" if len({wire.mark for wire in thin}) == 1 else "the wires do not"


def _sizes(thin: list[Wire]) -> tuple[tuple[Place, str], ...]:
    """Where the sizes of the wires are written, those of one place together, the thinnest first."""
    marks: dict[Place, dict[str, None]] = {}
    for wire in thin:
        marks.setdefault(wire.size_place._replace(pattern=""), {})[wire.mark] = None
    return tuple((place, f"size of {names_in(sorted(each, key=natural_key))}") for place, each in marks.items())


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
