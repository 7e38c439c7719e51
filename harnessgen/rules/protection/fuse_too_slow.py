"""A fuse that at some current opens only after the insulation of a wire behind it is hurt."""

from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_least, at_most, worst_first
from harnessgen.measures.quantity import plain_number
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection.protected_wires import Guarded
from harnessgen.rules.loading.wire_overload import overloaded
from harnessgen.rules.protection.fuse_too_large import check as too_large
from harnessgen.rules.protection.guards import Guard, guards
from harnessgen.rules.wording.recalled import recalled_wires

RULE = "fuse-too-slow"


def check(physics: Physics) -> list[Finding]:
    """One finding for each fuse, with the wire that fares worst; `fuse-too-large` and `wire-overload` come first."""
    late = [guard for guard in guards(physics) if _late(guard) or _is_held(guard)]
    if not late:
        return []
    told_fuses = {each.subject for each in too_large(physics)}
    told_wires = {each.wire.mark for each in overloaded(physics)}
    found: list[Finding] = []
    for guard in late:
        hurt = _late(guard)
        if guard.protects.fuse.name in told_fuses:
            continue
        if hurt and hurt[0].wire.mark not in told_wires:
            others = (each for each in hurt if each.wire.mark not in told_wires)
            found += worst_first((-each.margin, _finding(physics, guard, each)) for each in others)
        elif not hurt:
            found.append(_held(guard))
    return found


def _late(guard: Guard) -> list[Guarded]:
    """Wires that are hurt before the fuse opens, the worst first."""
    return sorted((each for each in guard.hurt if each.margin < 1.0), key=lambda each: each.margin)


def _is_held(guard: Guard) -> bool:
    """Whether a dead short far away draws no more than the fuse may hold for ever, while a near one opens it."""
    return guard.currents.far.current_a < guard.curve.holds_up_to_a <= guard.currents.near.current_a


def _finding(physics: Physics, guard: Guard, each: Guarded) -> Finding:
    fuse, wire = guard.protects.fuse, each.wire
    amperes = plain_number(each.at_a, 0 if each.at_a >= 100 else 1)
    message = f"{fuse.name} opens too late for wire {wire.mark}: at {amperes} A its insulation is hurt first."
    if each.is_itself_the_fuse:
        message += " Here the wire itself is the fuse: its copper melts first."
    where = f" from {each.leg.name}" if each.leg is not None else ""
    stands = f"{wire.size}{where}, {plain_number(each.heating.start_degc, 0)} to {each.heating.most_degc:g} degC"
    stands += recalled_wires([wire])
    opens = str(guard.curve.source)
    if each.at_a > guard.curve.published_up_to_a:
        opens = f"beyond the published {plain_number(guard.curve.published_up_to_a, 1)} A, by the same I2t; {opens}"
    numbers = (Number("opens", each.opens_s, "s", opens, 3), Number("stands", each.stands_s, "s", stands, 3))
    see = ((wire.size_place, f"size of {wire.mark}"),)
    place = fuse.where("rating_a")
    ratings = physics.network.parts.fuses[fuse.form].ratings
    smaller = sorted((label for label in ratings if float(label) < fuse.rating_a.value), key=float, reverse=True)
    proposals = tuple(Proposal(place, f"{label} A", f"{label} A for {fuse.name}") for label in smaller[:3])
    return Finding(
        RULE,
        Severity.ERROR,
        fuse.name,
        place,
        message,
        numbers,
        see=see,
        proposals=proposals,
        wire=wire.mark,
        deciding=at_most(*numbers),
    )


def _held(guard: Guard) -> Finding:
    fuse, far = guard.protects.fuse, guard.currents.far
    message = f"{fuse.name} may hold a dead short at {far.at} for ever."
    numbers = (
        Number("short draws", far.current_a, "A", f"{plain_number(far.volts, 1)} V, hot conductors"),
        Number("holds up to", guard.curve.holds_up_to_a, "A", str(guard.curve.source)),
    )
    mend = "use a smaller fuse, or thicker wire on the way there"
    place, deciding = fuse.where("rating_a"), at_least(*numbers)
    return Finding(RULE, Severity.ERROR, fuse.name, place, message, numbers, mend=mend, deciding=deciding)
