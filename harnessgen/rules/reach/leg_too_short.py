"""A wire of stated length, or a finished stretch of bundle, that is shorter than the route needs."""

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_least
from harnessgen.lengths.built_stretch import BuiltLength, built_lengths
from harnessgen.lengths.wire_length import ROUNDING_MM, WireLength
from harnessgen.measures.quantity import Quantity, plain_number, quantity_text
from harnessgen.network.route import Leg
from harnessgen.network.wires import Wire
from harnessgen.physics.physics import Physics

if TYPE_CHECKING:
    from harnessgen.lengths.too_short.trial import Remedy

RULE = "leg-too-short"
_MOST_ON_THE_BENCH = 8
"""Short wires whose remedies are all worked out; the rest are offered a longer cut alone."""


def check(physics: Physics) -> list[Finding]:
    """One finding for each wire of stated length, and each finished stretch, that may not reach."""
    return [*_wires(physics), *_stretches(physics)]


def is_short(wire: Wire, length: WireLength) -> bool:
    """True for a wire of stated length that may not reach at the far end of every tolerance."""
    return wire.cut_mm is not None and length.margin_mm < -ROUNDING_MM


def need_words(length: WireLength) -> str:
    """The needed length and its doubt in words."""
    factor = plain_number(length.coverage.value.value)
    return (
        f"{length.needed_mm:.1f} mm and {length.expanded_mm:.1f} mm for how well the route is measured (k = {factor})"
    )


def available_words(length: WireLength) -> str:
    """The available length and its tolerance in words."""
    words = f"{'measures' if length.is_measured else 'cut to'} {plain_number(length.cut_mm, 1)} mm"
    least_mm = length.cut_mm - length.shortest_available_mm
    if not least_mm:
        return words
    own = length.given_mm is not None and (length.given_mm.plus or length.given_mm.minus)
    why = "its own tolerance" if own else f"cutting tolerance, {length.cutting.source}"
    return f"{words}, less {plain_number(least_mm, 1)} mm: {why}"


def _wires(physics: Physics) -> Iterator[Finding]:
    on_the_bench = 0
    for wire in physics.network.wires:
        length = physics.lengths[wire.mark]
        if is_short(wire, length):
            on_the_bench += 1
            yield _finding(physics, wire, length, is_on_the_bench=on_the_bench <= _MOST_ON_THE_BENCH)


def _finding(physics: Physics, wire: Wire, length: WireLength, *, is_on_the_bench: bool) -> Finding:
    # Only a short wire needs the bench on which its remedies are tried.
    from harnessgen.lengths.too_short.remedies import remedies
    from harnessgen.lengths.too_short.trial import Bench

    short_mm = _in_tenths(-length.margin_mm)
    if is_on_the_bench:
        found = remedies(physics.network, physics.lengths, wire)
    else:
        found = (Bench(physics.network, physics.lengths, wire).longer(),)
    numbers = (
        Number("needed", length.longest_need_mm, "mm", need_words(length), 1),
        Number("available", length.shortest_available_mm, "mm", available_words(length), 1),
    )
    return Finding(
        RULE,
        Severity.ERROR,
        wire.mark,
        wire.cut_place,
        f"Wire {wire.mark} is {short_mm:.1f} mm too short for its way from {wire.a} to {wire.b}.",
        numbers,
        proposals=tuple(proposal for remedy in found for proposal in _proposals(remedy)),
        remedies=tuple(remedy.words for remedy in found),
        deciding=at_least(*numbers[::-1]),
    )


def _proposals(remedy: "Remedy") -> Iterator[Proposal]:
    """Each spelling of a remedy that is one change of the file; what takes several is no proposal."""
    for spelling in remedy.spellings:
        if len(spelling) == 1:
            yield Proposal(spelling[0].place, spelling[0].text, remedy.words)


def _stretches(physics: Physics) -> Iterator[Finding]:
    for leg, length in built_lengths(physics.network):
        if length.margin_mm < -ROUNDING_MM:
            yield _built_finding(leg, length)


def _built_finding(leg: Leg, length: BuiltLength) -> Finding:
    short_mm = _in_tenths(-length.margin_mm)
    factor = plain_number(length.coverage.value.value)
    built_mm, least_mm = length.built_mm.value, length.built_mm.value - length.shortest_built_mm
    needed = f"{length.needed_mm:.1f} mm and {length.expanded_mm:.1f} mm for how well it is measured (k = {factor})"
    less = f", less {plain_number(least_mm, 1)} mm: {length.why}" if least_mm else ""
    enough = quantity_text(Quantity(math.ceil(length.longest_need_mm + least_mm - ROUNDING_MM)), "mm")
    place = leg.stretch.where("built_mm")
    numbers = (
        Number("needed", length.longest_need_mm, "mm", needed, 1),
        Number("available", length.shortest_built_mm, "mm", f"built to {plain_number(built_mm, 1)} mm{less}", 1),
    )
    return Finding(
        RULE,
        Severity.ERROR,
        length.name,
        place,
        f"The bundle from {length.name} is {short_mm:.1f} mm too short.",
        numbers,
        proposals=(Proposal(place, enough, f"built: {enough}"),),
        deciding=at_least(*numbers[::-1]),
    )


def _in_tenths(length_mm: float) -> float:
    """Rounded to a tenth; what is short at all is short by a tenth at least."""
    return max(round(length_mm, 1), 0.1)
