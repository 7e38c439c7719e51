"""A fuse that carries more in steady running than a fuse should."""

from harnessgen.design.records.device import Fuse
from harnessgen.evidence.finding import Finding, Later, Number, Severity, derived
from harnessgen.measures.quantity import plain_number
from harnessgen.network.electrical import Element
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection.derivation import steady_limit_derivation
from harnessgen.rules.loading.steady import highest_steady
from harnessgen.rules.protection.larger_fuses import larger_fuses

RULE = "fuse-too-small"


def check(physics: Physics) -> list[Finding]:
    """One finding for each fuse whose steady current lies above its share of the rating."""
    found = (_finding(physics, element) for element in physics.network.electrical.elements)
    return [finding for finding in found if finding is not None]


def _finding(physics: Physics, element: Element) -> Finding | None:
    fuse = element.device
    if not isinstance(fuse, Fuse):
        return None
    carries_a, state = highest_steady(physics, element)
    if carries_a <= 0.0:
        return None
    form = physics.network.parts.fuses[fuse.form]
    allowed = steady_limit_derivation(physics.network, fuse)
    if carries_a <= allowed.result:
        return None
    share = allowed.inputs[1]
    used, (_, at, ambient) = share.value, share.meaning.partition(" at ")
    where = f"at {ambient}, " if at else ""
    numbers = (
        Number("carries", carries_a, "A", f"in state {state}"),
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
        proposals=Later(lambda: larger_fuses(physics, fuse, larger)),
    )
