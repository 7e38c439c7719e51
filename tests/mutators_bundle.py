"""For each rule on bundles a change that breaks a good design in that one way, and one that nearly does."""

from collections.abc import Callable
from dataclasses import replace
from math import inf

from harnessgen.lengths.bundles.bend_radius import least_radius
from harnessgen.lengths.bundles.slide_order import sides_of
from harnessgen.lengths.bundles.stretch import StretchBundle, room_of, stretch_bundles
from harnessgen.network.route import Leg
from harnessgen.parts.covering import CoveringPart
from harnessgen.physics.electrical.element_resistance import ambient_degc
from tests.mutators import Change, Good, Mutator, at, line_with


def _bundles(good: Good) -> list[StretchBundle]:
    return [each for each in stretch_bundles(good.network) if each.covering is not None and len(each.wires) > 1]


def _covered(good: Good, choose: Callable[[StretchBundle, CoveringPart], bool]) -> Change | None:
    """The first bundle in another covering that stands its zone and is as `choose` wants it."""
    for bundle in _bundles(good):
        for name, part in good.network.parts.coverings.items():
            stands = part.rating_degc.value >= ambient_degc(good.network, bundle.leg)
            if stands and part is not bundle.covering and choose(bundle, part):
                place = bundle.leg.stretch.where("covering")
                return Change(at(good.text, place, name), place.line)
    return None


def _is_narrow(good: Good, bundle: StretchBundle, part: CoveringPart) -> bool:
    return part.inside_mm.value < room_of(good.network, replace(bundle, covering=part)).needed_mm


def narrow(good: Good) -> Change | None:
    """A covering that is too narrow for a bundle; where there is none, a larger room is asked for."""
    change = _covered(good, lambda bundle, part: _is_narrow(good, bundle, part))
    return change or _roomy(good, 1.01)


def _roomy(good: Good, share: float) -> Change | None:
    """The room that is asked for, a share of what the tightest bundle has; none where a splice decides."""
    tubes = [each for each in stretch_bundles(good.network) if each.covering and each.covering.recovered_mm is None]
    rooms = {
        (each.covering.inside_mm.value / each.diameter.largest_mm): each for each in tubes if each.covering is not None
    }
    if len(rooms) < 2 or "\nlimits:" in good.text:
        return None
    tightest, second = sorted(rooms)[:2]
    if tightest * share >= second:
        return None
    place = rooms[tightest].leg.stretch.where("covering")
    text = good.text.rstrip("\n") + f"\n\nlimits: {{covering-room: {tightest * share:.6f}}}\n"
    return Change(text, place.line)


def not_narrow(good: Good) -> Change | None:
    """The room that the tightest bundle just has."""
    return _roomy(good, 0.999)


def loose(good: Good) -> Change | None:
    """A bundle in a covering four times as wide."""
    return _covered(good, _is_loose)


def _is_loose(bundle: StretchBundle, part: CoveringPart) -> bool:
    return part.recovered_mm is None and bundle.diameter.largest_mm < 0.25 * part.inside_mm.value


def not_loose(good: Good) -> Change | None:
    """The widest covering in which it is not loose."""
    return _covered(
        good,
        lambda bundle, part: (
            part.recovered_mm is None and not _is_loose(bundle, part) and not _is_narrow(good, bundle, part)
        ),
    )


def _on_a_line(good: Good, tail: Callable[[StretchBundle], str]) -> Change | None:
    for bundle in stretch_bundles(good.network):
        line = bundle.leg.stretch.place.line
        text = good.text.split("\n")[line - 1]
        if text.endswith("}") and not any(key in text for key in ("clips:", "grommets:")) and (added := tail(bundle)):
            return Change(line_with(good.text, line, added), line)
    return None


def _bent(good: Good, share: float) -> Change | None:
    def tail(bundle: StretchBundle) -> str:
        radius_mm = share * least_radius(good.network, bundle).radius_mm
        return f", bends: [{{angle: 30 deg, radius: {radius_mm:.3f} mm}}]"

    return _on_a_line(good, tail)


def tight(good: Good) -> Change | None:
    """A bend a hundredth tighter than the bundle stands."""
    return _bent(good, 0.99)


def not_tight(good: Good) -> Change | None:
    """A bend a hundredth wider than that."""
    return _bent(good, 1.01)


def hanging(good: Good) -> Change | None:
    """Clips a little more than 24 inches apart."""
    return _on_a_line(good, lambda bundle: ", clips: 24.1 in")


def not_hanging(good: Good) -> Change | None:
    """Clips 24 inches apart."""
    return _on_a_line(good, lambda bundle: ", clips: 24 in")


def _middle_mm(leg: Leg) -> float:
    return leg.offset_mm + leg.length_mm / 2


def _with_grommet(good: Good, share: float) -> Change | None:
    def tail(bundle: StretchBundle) -> str:
        needed_mm = bundle.outside_mm if bundle.covering is not None else bundle.diameter.largest_mm
        return f", grommets: {{GR99: {{at: {_middle_mm(bundle.leg):.2f} mm, bore: {share * needed_mm:.4f} mm}}}}"

    return _on_a_line(good, tail)


def choking(good: Good) -> Change | None:
    """A grommet a hundredth narrower than its bundle."""
    return _with_grommet(good, 0.99)


def not_choking(good: Good) -> Change | None:
    """A grommet a hundredth wider."""
    return _with_grommet(good, 1.01)


def _with_hole(good: Good, share: float) -> Change | None:
    def tail(bundle: StretchBundle) -> str:
        sides = sides_of(good.network, [bundle.leg], covers_splices=False).values()
        sizes = [[each.needed_mm for each in side.obstacles if each.needed_mm < inf] for side in sides]
        if not all(sizes):
            return ""
        hole_mm = share * min(map(max, sizes))
        needed_mm = 1.01 * max(bundle.outside_mm, bundle.diameter.largest_mm)
        if needed_mm >= hole_mm:
            return ""
        place = f"at: {_middle_mm(bundle.leg):.2f} mm, bore: {needed_mm:.4f} mm, hole: {hole_mm:.4f} mm"
        return f", grommets: {{GR99: {{{place}}}}}"

    return _on_a_line(good, tail)


def barred(good: Good) -> Change | None:
    """A hole a hundredth too narrow for the largest thing of the slimmer side."""
    return _with_hole(good, 0.99)


def not_barred(good: Good) -> Change | None:
    """A hole that this thing just passes."""
    return _with_hole(good, 1.01)


BUNDLE: dict[str, tuple[Mutator, Mutator]] = {
    "covering-too-small": (narrow, not_narrow),
    "covering-too-loose": (loose, not_loose),
    "bend-too-tight": (tight, not_tight),
    "clips-too-far-apart": (hanging, not_hanging),
    "grommet-too-small": (choking, not_choking),
    "panel-hole-too-small": (barred, not_barred),
}
"""For each rule on bundles what breaks a good design in that way, and what nearly does."""
