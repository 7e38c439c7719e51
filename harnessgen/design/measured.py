"""Lengths of stretches that were measured otherwise than by one reading: from several readings, or from coordinates."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from harnessgen.design.checks.names import points_of
from harnessgen.design.limits.table import limit
from harnessgen.design.records.design import Design
from harnessgen.design.records.route import Point, Stretch
from harnessgen.measures.quantity import Quantity
from harnessgen.source.fault import Fault
from harnessgen.source.near import did_you_mean


def with_measured_lengths(design: Design, *, is_complete: bool = True) -> tuple[Design, tuple[Fault, ...]]:
    """The design with a length in every stretch, and a fault for each stretch and point that makes no sense.

    Where the design is not complete, a length that is missing may be one that could not be read, and is not told.
    """
    faults = [*_unknown_points(design)]
    route: dict[str, Mapping[str, Stretch]] = {}
    for start, stretches in design.route.items():
        if all(_is_plain(stretch) for stretch in stretches.values()):
            route[start] = stretches
            continue
        route[start] = measured = dict(stretches)
        for end, stretch in stretches.items():
            found = list(_faults(design, start, end, stretch))
            faults += [fault for fault in found if is_complete or fault.rule != "missing-key"]
            # Without a number, what depends on the length breeds no faults of its own.
            lost = replace(stretch, length_mm=Quantity(math.nan))
            measured[end] = _measured(design, start, end, stretch) if not found else lost
    return replace(design, route=route), tuple(faults)


def path_factor(design: Design, stretch: Stretch) -> Quantity:
    """How much longer the way of a stretch is than the straight line between its points."""
    return stretch.path_factor or limit("path-factor", design.limits).value


def straight_mm(a: Point, b: Point) -> float:
    """Straight distance of two points."""
    ends = zip(a.axes_mm, b.axes_mm, strict=True)
    return math.dist(*zip(*((one.value, other.value) for one, other in ends), strict=True))


def _is_plain(stretch: Stretch) -> bool:
    return stretch.is_measured and not stretch.readings_mm and stretch.path_factor is None


def _measured(design: Design, start: str, end: str, stretch: Stretch) -> Stretch:
    if stretch.is_measured:
        return stretch
    if stretch.readings_mm:
        mean_mm = math.fsum(each.value for each in stretch.readings_mm) / len(stretch.readings_mm)
        return replace(stretch, length_mm=Quantity(mean_mm))
    straight = straight_mm(design.points[start], design.points[end])
    return replace(stretch, length_mm=Quantity(straight * path_factor(design, stretch).value), is_from_points=True)


def _faults(design: Design, start: str, end: str, stretch: Stretch) -> Iterator[Fault]:
    name = f"{start} to {end}"
    if stretch.readings_mm and stretch.is_measured and not stretch.is_from_points:
        message = f"The stretch {name} has a length, and readings besides."
        yield Fault("bad-value", stretch.where("length_mm"), message, "leave one of the two out", subject=name)
        return
    is_from_points = not stretch.readings_mm and not stretch.is_measured
    missing = [point for point in (start, end) if point not in design.points]
    if is_from_points and missing:
        message = f"Nothing says how long the stretch {name} is."
        mend = f"give its length, its readings, or the coordinates of {' and '.join(missing)} under points"
        yield Fault("missing-key", stretch.place, message, mend, subject=name)
    elif is_from_points and straight_mm(design.points[start], design.points[end]) == 0.0:
        message = f"{start} and {end} lie at the same place, so that the stretch between them has no length."
        yield Fault("bad-value", stretch.place, message, "mend the coordinates, or give a length", subject=name)
    elif stretch.path_factor is not None and not is_from_points and not stretch.is_from_points:
        message = f"The stretch {name} has a path factor, and its length does not come from points."
        place = stretch.where("path_factor")
        yield Fault("bad-value", place, message, "leave one of the two out", subject=name)


def _unknown_points(design: Design) -> Iterator[Fault]:
    known = points_of(design)
    for name, point in design.points.items():
        if name not in known:
            message = f"There is no point of the route called {name}."
            yield Fault("unknown-reference", point.place, message, did_you_mean(name, known), subject=name)
