"""Where each number of a fuse and the wires behind it comes from: opening times, what a wire stands, the margins."""

import math

from harnessgen.design.limits.table import limit
from harnessgen.design.records.device import Fuse
from harnessgen.evidence.derivation import Balance, Derivation, Evaluated, Input, Solved, evaluated
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network
from harnessgen.physics.heat.air import radiation_w_per_m
from harnessgen.physics.heat.ampacity import heated
from harnessgen.physics.heat.bundle import even_rise, own_rise
from harnessgen.physics.heat.derivation import BUNDLE_EQUATIONS, HEAT_SOURCES
from harnessgen.physics.loads.model import device_degc
from harnessgen.physics.protection.fuse_curve import FuseCurve
from harnessgen.physics.protection.protected_wires import Guarded
from harnessgen.physics.protection.short_current import Short, ShortCurrents
from harnessgen.physics.protection.sources import ADIABATIC_SOURCE, BETWEEN_SOURCE, OVERLOAD_SOURCE
from harnessgen.physics.protection.withstand_time import steady_outer_degc

_MARGIN = common_practice("margin as the ratio of what is stood to what comes")


def opening_derivation(fuse: str, curve: FuseCurve, current_a: float, is_longest: bool = True) -> Evaluated:
    """Time by which a fuse has opened at a current, or before which it does not, from the published limits beside it.

    Raises:
        ValueError: no published limit bounds the time at this current.
    """
    points = curve.longest if is_longest else curve.shortest
    which = "latest" if is_longest else "earliest"
    title = f"{which} opening of {fuse} at {current_a:.4g} A"
    if not points or current_a < points[0][0]:
        raise ValueError(f"no published limit bounds the time of {fuse} at {current_a} A")
    current = Input("I", "current", current_a, "A")
    last_a, last_s = points[-1]
    if current_a >= last_a:
        last = (
            current,
            Input("I1", f"last published current, {100.0 * last_a / curve.rating_a:g} %", last_a, "A", curve.source),
            Input("t1", f"{which} opening there", last_s, "s", curve.source),
        )
        return evaluated(title, "t1 * (I1 / I) * (I1 / I)", last, "s", curve.source, BETWEEN_SOURCE)
    at = next(number for number, (edge_a, _) in enumerate(points) if current_a < edge_a)
    (low_a, low_s), (high_a, high_s) = points[at - 1], points[at]
    inputs = (
        current,
        Input("I1", f"published current below, {100.0 * low_a / curve.rating_a:g} %", low_a, "A", curve.source),
        Input("t1", f"{which} opening there", low_s, "s", curve.source),
        Input("I2", f"published current above, {100.0 * high_a / curve.rating_a:g} %", high_a, "A", curve.source),
        Input("t2", f"{which} opening there", high_s, "s", curve.source),
    )
    formula = "t1 * exp(ln(I / I1) / ln(I2 / I1) * ln(t2 / t1))"
    return evaluated(title, formula, inputs, "s", curve.source, BETWEEN_SOURCE)


def holds_derivation(fuse: str, curve: FuseCurve, near: Short) -> Evaluated:
    """Current that a fuse may carry for ever: no published limit bounds its time below; no more than can flow."""
    inputs = (
        Input("In", f"rating of {fuse}", curve.rating_a, "A"),
        Input(
            "p", "least published share that opens it in a bounded time", curve.holds_up_to_a / curve.rating_a, "1",
            curve.source,
        ),
        Input("Is", "its largest short", near.current_a, "A", near.derivation.sources[0]),
    )  # fmt: skip
    return evaluated(f"current that {fuse} may carry for ever", "min(In * p, Is)", inputs, "A", curve.source)


def steady_limit_derivation(network: Network, fuse: Fuse) -> Evaluated:
    """Steady current that a fuse should carry at most: its share of the rating, or less where its place is hot."""
    share, form = limit("fuse-load", network.design.limits), network.parts.fuses[fuse.form]
    # Three quarters leave room for some 85 degC; where it is hotter the published rerating asks for less.
    used = Input("s", "share of the rating for a steady load", share.value.value, "1", share.source)
    ambient = device_degc(network, fuse)
    if form.rerating is not None and form.rerating.share_at(ambient) < used.value:
        where = f"share of the rating for a steady load at {plain_number(ambient, 1)} degC"
        used = Input("s", where, form.rerating.share_at(ambient), "1", form.rerating.publication)
    inputs = (Input("In", f"rating of {fuse.name}", fuse.rating_a.value, "A"), used)
    title = f"steady current that {fuse.name} should carry at most"
    return evaluated(title, "In * s", inputs, "A", used.source or share.source)


def for_ever_derivation(each: Guarded) -> Solved | None:
    """Current that a wire stands for ever beside the others as they are loaded; None where it stands none."""
    body, around, rating = heated(each.wire), each.around, each.wire.family.rating_degc.value
    outer = steady_outer_degc(body, around, rating)
    if outer is None or not each.for_ever_a > 0.0:
        return None
    made = body.heat_made_w_per_m(each.for_ever_a, rating)
    round_it = around.round_it
    lost = round_it.lost_w_per_m(outer, around.ambient_degc)
    radiated = radiation_w_per_m(outer, around.ambient_degc, round_it.outside_mm, round_it.emissivity)
    others = around.others_w_per_m
    heat = Balance(
        "heat made and lost by one metre of bundle",
        (
            (f"made in {each.wire.mark} at its rating", made),
            ("made in the others as loaded", others),
            ("carried off by air", radiated - lost),
            ("radiated", -radiated),
        ),
        "W/m",
    )
    fall = Balance(
        "temperature from conductor to the outside",
        (
            ("conductor at its rating", rating),
            ("outside of bundle or covering", -outer),
            ("fall through its covering and the air in it", outer - round_it.surface_degc(outer, lost)),
            ("fall of its own heat", -made * own_rise(body, around.bundle_mm)),
            ("rise by the other wires", -others * even_rise()),
        ),
        "K",
    )
    title = f"current that {each.wire.mark}{_where(each)} stands for ever, the others as loaded"
    return Solved(title, BUNDLE_EQUATIONS, (heat, fall), each.for_ever_a, "A", HEAT_SOURCES)


def margin_derivation(fuse: str, curve: FuseCurve, each: Guarded) -> Evaluated | None:
    """What a wire stands over the latest opening, where that is least; None where no current that can flow opens it."""
    if math.isinf(each.margin):
        return None
    at = f"at {each.at_a:.4g} A"
    inputs = (
        Input("stands", f"time that {each.wire.mark} stands {at}", each.stands_s, "s", OVERLOAD_SOURCE),
        Input("opens", f"latest opening of {fuse} {at}", each.opens_s, "s", curve.source),
    )
    sources = (ADIABATIC_SOURCE, OVERLOAD_SOURCE, curve.source, _MARGIN)
    return evaluated(f"margin in time of {each.wire.mark} behind {fuse} {at}", "stands / opens", inputs, "1", *sources)


def let_through_derivation(fuse: str, curve: FuseCurve, near: Short) -> Evaluated | None:
    """I2t that a fuse lets through at most in its largest short; None where that does not open it."""
    opens_s = curve.longest_s(near.current_a)
    if math.isinf(opens_s):
        return None
    inputs = (
        Input("I", "its largest short", near.current_a, "A", near.derivation.sources[0]),
        Input("t", "latest opening there", opens_s, "s", curve.source),
    )
    title = f"I2t that {fuse} lets through at {near.current_a:.4g} A"
    return evaluated(title, "I**2 * t", inputs, "A2s", curve.source, BETWEEN_SOURCE)


def breaking_derivation(fuse: str, near: Short, capacity_a: float, source: Publication) -> Evaluated:
    """Largest short of a fuse over what it breaks safely."""
    inputs = (
        Input("I", f"short right behind {fuse}", near.current_a, "A", near.derivation.sources[0]),
        Input("B", "largest current that it opens safely", capacity_a, "A", source),
    )
    return evaluated(f"share of its breaking capacity that {fuse} is asked for", "I / B", inputs, "1", source, _MARGIN)


def guarded_derivations(fuse: str, curve: FuseCurve, currents: ShortCurrents, each: Guarded) -> list[Derivation]:
    """All numbers of one wire behind a fuse: what it stands for ever, and in the time that the fuse takes to open."""
    found: list[Derivation] = []
    for_ever = for_ever_derivation(each)
    found += [for_ever] if for_ever is not None else []
    margin = margin_derivation(fuse, curve, each)
    if margin is None:
        return found
    found.append(each.heating.k2s2_derivation(each.wire.mark, each.wire.family.origin(each.wire.figures)))
    if each.stands_s > 0.0:
        found.append(each.heating.stands_derivation(each.wire.mark, each.at_a))
    found.append(opening_derivation(fuse, curve, each.at_a))
    if each.at_a < currents.near.current_a * (1.0 - 1e-9):
        found.append(currents.near.through_a(each.at_a))
    return [*found, margin]


def _where(each: Guarded) -> str:
    return f" from {each.leg.name}" if each.leg is not None else ""
