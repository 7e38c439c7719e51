"""Clips, tape and grommets where they sit on the route."""

from collections.abc import Iterator

from harnessgen.design.records.fixings import Fixing
from harnessgen.network.network import Network
from harnessgen.network.route import Leg


def fixings_on(network: Network, leg: Leg) -> tuple[Fixing, ...]:
    """What is fixed on the whole stretch of a leg at stated places, from its first point on."""
    stretch = leg.stretch
    if stretch.clips is None and not stretch.tape and not stretch.grommets:
        return ()
    widths_mm = {tape.part: network.parts.tapes[tape.part].width_mm.value for tape in stretch.tape}
    return stretch.fixings(leg.from_point, leg.to_point).all(widths_mm)


def leg_at(legs: list[Leg], distance_mm: float) -> Leg:
    """The part of a stretch that holds a place, by its distance from the stretch's first point."""
    ordered = sorted(legs, key=lambda leg: leg.offset_mm)
    return next((leg for leg in ordered if distance_mm < leg.offset_mm + leg.length_mm), ordered[-1])


def stretches_of(network: Network) -> Iterator[list[Leg]]:
    """The parts of each stretch, in the order of the route."""
    parts: dict[tuple[str, str], list[Leg]] = {}
    for leg in network.route.legs:
        parts.setdefault((leg.from_point, leg.to_point), []).append(leg)
    yield from parts.values()
