"""Limits on bundles: room in coverings, bends, clips, and where splices may sit."""

from harnessgen.design.default_limit import DefaultLimit
from harnessgen.design.lamp_limits import LampLimits
from harnessgen.evidence.publication import Publication, Standing, common_practice
from harnessgen.measures.quantity import LENGTH, RATIO, Quantity
from harnessgen.source.key import key, record
from harnessgen.source.measure_kind import Measure

BUNDLE_LIMITS = {
    "covering-room": DefaultLimit(
        Quantity(1.25), "1", Publication("FAA AC 43.13-1B CHG 1", "11-249, conduit about 25 % larger than the bundle")
    ),
    "shrink-room": DefaultLimit(
        Quantity(1.1),
        "1",
        common_practice("inside diameter of heat-shrink as supplied over the bundle that it goes on"),
    ),
    "least-fill": DefaultLimit(
        Quantity(0.25), "1", common_practice("a bundle thinner than this share of its covering lies loose and chafes")
    ),
    "bend-radius": DefaultLimit(
        Quantity(10.0), "1", Publication("FAA AC 43.13-1B CHG 1", "11-96, 10 times the largest wire or cable")
    ),
    "bend-radius-held": DefaultLimit(
        Quantity(3.0),
        "1",
        Publication("FAA AC 43.13-1B CHG 1", "11-96, 3 times where it is supported", Standing.FROM_MEMORY),
    ),
    "bend-radius-shielded": DefaultLimit(
        Quantity(5.0), "1", Publication("IPC/WHMA-A-620", "shielded wire and cable, class 3, 5 times its diameter")
    ),
    "clip-spacing": DefaultLimit(
        Quantity(609.6),
        "mm",
        Publication("FAA AC 43.13-1B CHG 1", "11-96 a, supports 24 in apart (46 CFR 183.340: the same)"),
    ),
    "tie-spacing": DefaultLimit(
        Quantity(304.8),
        "mm",
        Publication("FAA AC 43.13-1B CHG 1", "11-158 b, ties where supports are further than 12 in apart"),
    ),
    "splice-spacing": DefaultLimit(
        Quantity(40.0), "mm", common_practice("splices staggered, centre to centre, so that the bundle does not grow")
    ),
    "splice-clearance": DefaultLimit(
        Quantity(40.0), "mm", common_practice("centre of a splice to a breakout, a connector or a bend")
    ),
}
"""Defaults of the limits on bundles."""


@record
class BundleLimits(LampLimits):
    """Limits on bundles that replace the defaults."""

    covering_room: Quantity | None = key(
        "covering-room",
        Measure(RATIO, lowest=1),
        "Inside diameter of conduit, sleeve or braid over the diameter of its bundle, at least.",
        default=None,
        default_words="1.25",
    )
    shrink_room: Quantity | None = key(
        "shrink-room",
        Measure(RATIO, lowest=1),
        "Inside diameter of heat-shrink as supplied over the diameter of its bundle, at least.",
        default=None,
        default_words="1.1",
    )
    least_fill: Quantity | None = key(
        "least-fill",
        Measure(RATIO, lowest=0, highest=1),
        "Diameter of a bundle over the inside of its covering, at least; below it the bundle lies loose.",
        default=None,
        default_words="25 %",
    )
    bend_radius: Quantity | None = key(
        "bend-radius",
        Measure(RATIO, above=0),
        "Smallest radius of a bend in diameters of the thickest wire in it.",
        default=None,
        default_words="10",
    )
    bend_radius_held: Quantity | None = key(
        "bend-radius-held",
        Measure(RATIO, above=0),
        "The same where clips or a former hold the bundle all around the bend.",
        default=None,
        default_words="3",
    )
    bend_radius_shielded: Quantity | None = key(
        "bend-radius-shielded",
        Measure(RATIO, above=0),
        "Smallest radius of a bend in diameters of a shielded cable in it.",
        default=None,
        default_words="5",
    )
    clip_spacing_mm: Quantity | None = key(
        "clip-spacing",
        Measure(LENGTH, above=0),
        "Largest distance between the clips that hold a stretch.",
        default=None,
        default_words="609.6 mm (24 in)",
    )
    tie_spacing_mm: Quantity | None = key(
        "tie-spacing",
        Measure(LENGTH, above=0),
        "Distance between clips above which the bundle is tied between them, and between those ties.",
        default=None,
        default_words="304.8 mm (12 in)",
    )
    splice_spacing_mm: Quantity | None = key(
        "splice-spacing",
        Measure(LENGTH, lowest=0),
        "Least distance between two splices along the route, where `place` sets them.",
        default=None,
        default_words="40 mm",
    )
    splice_clearance_mm: Quantity | None = key(
        "splice-clearance",
        Measure(LENGTH, lowest=0),
        "Least distance of a splice from breakouts, connectors and bends, where `place` sets it.",
        default=None,
        default_words="40 mm",
    )

    noun = "the limits on bundles"
