"""A fuse that carries more in steady running than a fuse should."""

from collections.abc import Iterator

from harnessgen.design.records.device import Fuse
from harnessgen.evidence.derivation import Evaluated
from harnessgen.evidence.finding import Finding, Later, Number, Proposal, Severity, at_most, derived, worst_first
from harnessgen.measures.quantity import plain_number
from harnessgen.network.electrical import Element, end_of
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection.derivation import steady_limit_derivation
from harnessgen.rules.loading.steady import in_state, steady
from harnessgen.rules.protection.larger_fuses import larger_fuses
from harnessgen.rules.wording.places import written_end

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
    larger = [label for label in form.ratings if float(label) * used >= carries_a]
    place = fuse.where("rating_a")
    return Finding(
        RULE,
        Severity.ERROR,
        fuse.name,
        place,
        f"{fuse.name} is too small for its steady load: it ages, and opens one day under full load.",
        numbers,
        proposals=Later(lambda: (*_free_fuses(physics, fuse), *larger_fuses(physics, fuse, larger))),
        state=state,
        deciding=at_most(*numbers),
    )


def _free_fuses(physics: Physics, fuse: Fuse) -> Iterator[Proposal]:
    """Where several wires leave a fuse: for each but the first a fuse that feeds nothing yet."""
    network = physics.network
    node = f"{fuse.name}/out"
    free = [each for each in network.design.fuses if f"{each}/out" not in network.wires_at]
    for wire in network.wires_at.get(node, ())[1:] if free else ():
        written = written_end(network.design, wire, end_of(wire, node))
        for name in free if written is not None and written.designator == fuse.name else ():
            words = f"{name} in place of {fuse.name} for {wire.mark}: it feeds nothing yet"
            yield Proposal(written.place, name, words)  # type: ignore[union-attr]
