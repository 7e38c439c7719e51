"""A fuse that lets a wire behind it carry more than that wire may."""

from harnessgen.design.limits.table import limit
from harnessgen.evidence.finding import Finding, Number, Proposal, Severity
from harnessgen.measures.designator import natural_key
from harnessgen.measures.quantity import plain_number
from harnessgen.network.wires import Wire
from harnessgen.physics.heat.ampacity import AllowedCurrent
from harnessgen.physics.physics import Physics
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
    thin = [one.wire for one in short]
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
    thin = _too_thin(physics, allowed, rating / share.value.value)
    message = f"{each.fuse.name} does not protect {_wires(thin)} it carries its rating for ever, {_not(thin)}."
    numbers = (
        Number("fuse", rating, "A", f"rating of {each.fuse.name}"),
        Number("allowed", least.allowed_a * share.value.value, "A", _origin(physics, least)),
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
            *_smaller(physics, each, least.allowed_a * share.value.value),
            *larger_sizes_of_all(thin),
        ),
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
