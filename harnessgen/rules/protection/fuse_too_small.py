"""A fuse that carries more in steady running than a fuse should."""

from harnessgen.design.device import Fuse
from harnessgen.design.limits import Limit, limit
from harnessgen.evidence.finding import Finding, Number, Proposal, Severity
from harnessgen.measures.quantity import plain_number
from harnessgen.network.electrical import Element
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading.steady import highest_steady

RULE = "fuse-too-small"


def check(physics: Physics) -> list[Finding]:
    """One finding for each fuse whose steady current lies above its share of the rating."""
    share = limit("fuse-load", physics.network.design.limits)
    found = (_finding(physics, element, share) for element in physics.network.electrical.elements)
    return [finding for finding in found if finding is not None]


def _finding(physics: Physics, element: Element, share: Limit) -> Finding | None:
    fuse = element.device
    if not isinstance(fuse, Fuse):
        return None
    carries_a, state = highest_steady(physics, element)
    allowed_a = fuse.rating_a.value * share.value.value
    if carries_a <= allowed_a:
        return None
    numbers = (
        Number("carries", carries_a, "A", f"in state {state}"),
        Number(
            "at most", allowed_a, "A", f"{100 * share.value.value:g} % of {fuse.rating_a.value:g} A, {share.source}"
        ),
    )
    form = physics.network.parts.fuses[fuse.form]
    larger = sorted((label for label in form.ratings if float(label) * share.value.value >= carries_a), key=float)
    place = fuse.where("rating_a")
    return Finding(
        RULE,
        Severity.ERROR,
        fuse.name,
        place,
        f"{fuse.name} is too small for its steady load: it ages, and opens one day under full load.",
        numbers,
        proposals=tuple(Proposal(place, f"{label} A", f"{plain_number(float(label))} A") for label in larger[:2]),
    )
