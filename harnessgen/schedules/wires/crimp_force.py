"""The pull that a good crimp stands: published smallest forces by conductor size, in newtons.

Nothing is interpolated. A gauge takes its own row, or that of the next smaller gauge in the table; a metric size takes
the largest tabulated size not above it, first from the metric table, then, where that ends, from the table of gauges.
"""

from harnessgen.evidence.publication import Publication, Standing
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen

_UL = "UL 486A"
_UL_PLACE = "pull-out force, {} AWG"
_IEC = "IEC 60352-2"
_IEC_PLACE = "tensile strength of crimps, {} mm2"

_BY_GAUGE: dict[str, tuple[float, Standing]] = {
    "30": (6.7, Standing.FROM_MEMORY),
    "28": (8.9, Standing.PUBLISHED),
    "26": (13.4, Standing.PUBLISHED),
    "24": (22.3, Standing.PUBLISHED),
    "22": (35.6, Standing.PUBLISHED),
    "20": (57.9, Standing.PUBLISHED),
    "18": (89.0, Standing.PUBLISHED),
    "16": (133.5, Standing.PUBLISHED),
    "14": (222.5, Standing.PUBLISHED),
    "12": (311.5, Standing.PUBLISHED),
    "10": (356.0, Standing.PUBLISHED),
    "8": (400.5, Standing.PUBLISHED),
    "6": (445.0, Standing.PUBLISHED),
    "4": (623.0, Standing.PUBLISHED),
    "3": (712.0, Standing.FROM_MEMORY),
    "2": (801.0, Standing.PUBLISHED),
    "1": (890.0, Standing.FROM_MEMORY),
    "1/0": (1112.5, Standing.PUBLISHED),
    "2/0": (1335.0, Standing.PUBLISHED),
    "3/0": (1557.5, Standing.FROM_MEMORY),
    "4/0": (2002.5, Standing.FROM_MEMORY),
}
"""UL 486A by AWG, smallest conductor first (1 lbf = 4.45 N as printed there)."""

_BY_AREA: dict[str, float] = {
    "0.05": 6, "0.08": 11, "0.12": 15, "0.14": 18, "0.22": 28, "0.25": 32, "0.32": 40, "0.5": 60, "0.75": 85,
    "0.82": 90, "1": 108, "1.3": 135, "1.5": 150, "2.1": 200, "2.5": 230, "3.3": 275, "4": 310, "5.3": 355,
    "6": 360, "8.4": 370, "10": 380,
}  # fmt: skip
"""IEC 60352-2 by mm2, all from memory; a copy that was looked up has lower figures (40 N at 0.5 mm2), so it is open."""

_SAME = 1e-9


@frozen
class CrimpForce:
    """Smallest pull that a crimp on a conductor stands, in N, with the row of the table that it was read from."""

    force_n: float
    source: Publication


def crimp_force(size: ConductorSize) -> CrimpForce | None:
    """The force for a crimp on a conductor of `size`; None below the smallest size of the tables."""
    area_mm2 = size.nominal_area_mm2
    if size.system == "mm2" and area_mm2 <= float(list(_BY_AREA)[-1]) + _SAME:
        held = [label for label in _BY_AREA if float(label) <= area_mm2 + _SAME]
        if not held:
            return None
        place = _IEC_PLACE.format(held[-1])
        return CrimpForce(_BY_AREA[held[-1]], Publication(_IEC, place, Standing.FROM_MEMORY))
    gauges = [each for each in _BY_GAUGE if ConductorSize("AWG", each).nominal_area_mm2 <= area_mm2 + _SAME]
    # Far above the last gauge its force would say nothing of the wire.
    if not gauges or (size.system == "mm2" and area_mm2 > _LARGEST_MM2):
        return None
    force_n, standing = _BY_GAUGE[gauges[-1]]
    return CrimpForce(force_n, Publication(_UL, _UL_PLACE.format(gauges[-1]), standing))


_LARGEST_MM2 = 120.0
"""Up to the metric neighbour of 4/0 AWG (107 mm2)."""
