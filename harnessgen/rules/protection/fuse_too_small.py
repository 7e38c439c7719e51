"""A fuse that carries more in steady running than a fuse should."""

from harnessgen.design.device import Fuse
from harnessgen.design.limits import Limit, limit
from harnessgen.evidence.finding import Finding, Number, Proposal, Severity
from harnessgen.measures.quantity import plain_number
from harnessgen.network.electrical import Element
from harnessgen.physics.load_model import device_degc
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
    if carries_a <= 0.0:
        return None
    form = physics.network.parts.fuses[fuse.form]
    # Three quarters leave room for some 85 degC; where it is hotter the published rerating asks for less.
    used, source, ambient_degc = share.value.value, str(share.source), device_degc(physics.network, fuse)
    if form.rerating is not None and form.rerating.share_at(ambient_degc) < used:
        used = form.rerating.share_at(ambient_degc)
        source = f"at {plain_number(ambient_degc, 1)} degC, {form.rerating.publication}"
    allowed_a = fuse.rating_a.value * used
    if carries_a <= allowed_a:
        return None
    numbers = (
        Number("carries", carries_a, "A", f"in state {state}"),
        Number("at most", allowed_a, "A", f"{plain_number(100 * used, 1)} % of {fuse.rating_a.value:g} A, {source}"),
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
    )
