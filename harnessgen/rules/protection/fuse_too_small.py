"""A fuse that carries more in steady running than a fuse should."""

from collections.abc import Iterator

from harnessgen.design.records.device import Fuse
from harnessgen.evidence.derivation import Evaluated
from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_most, derived, worst_first
from harnessgen.measures.quantity import plain_number
from harnessgen.network.electrical import Element
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection.derivation import steady_limit_derivation
from harnessgen.rules.loading.steady import in_state, steady

RULE = "fuse-too-small"


def check(physics: Physics) -> list[Finding]:
    """One finding for each fuse whose steady current lies above its share of the rating."""
    return worst_first(each for element in physics.network.electrical.elements for each in _findings(physics, element))


def _findings(physics: Physics, element: Element) -> Iterator[tuple[float, Finding]]:
    """One for each state in which its steady current is too high, with that current."""
    fuse = element.device
    carried = list(steady(physics, element)) if isinstance(fuse, Fuse) else []
    if not isinstance(fuse, Fuse) or not any(carries_a > 0.0 for carries_a, _ in carried):
        return
    allowed = steady_limit_derivation(physics.network, fuse)
    for carries_a, state in carried:
        if carries_a > allowed.result:
            yield carries_a, _finding(physics, fuse, allowed, carries_a, state)


def _finding(physics: Physics, fuse: Fuse, allowed: Evaluated, carries_a: float, state: str) -> Finding:
    form = physics.network.parts.fuses[fuse.form]
    share = allowed.inputs[1]
    used, (_, at, ambient) = share.value, share.meaning.partition(" at ")
    where = f"at {ambient}, " if at else ""
    numbers = (
        Number("carries", carries_a, "A", in_state(physics, fuse.name, state)),
        derived(
            "at most", allowed, f"{plain_number(100 * used, 1)} % of {fuse.rating_a.value:g} A, {where}{share.source}"
        ),
    )
    larger = sorted((label for label in form.ratings if float(label) * used >= carries_a), key=float)
    place = fuse.where("rating_a")
    return Finding(
        RULE,
        Severity.ERROR,
        fuse.name,
        place,
        f"{fuse.name} is too small for its steady load: it ages, and opens one day under full load.",
        numbers,
        proposals=tuple(Proposal(place, f"{label} A", f"{plain_number(float(label))} A") for label in larger[:2]),
        state=state,
        deciding=at_most(*numbers),
    )
