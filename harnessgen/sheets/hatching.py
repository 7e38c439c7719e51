"""Hatch lines cut to an area by our own geometry, so that no writer needs patterns or clipping."""

from math import ceil, cos, floor, radians, sin

from harnessgen.sheets.box import Point
from harnessgen.sheets.outline import Segment


def hatch_lines(polygon: tuple[Point, ...], spacing_mm: float, angle_deg: float) -> tuple[Segment, ...]:
    """Parallel strokes that fill `polygon`, `spacing_mm` apart, at `angle_deg` anticlockwise from level.

    The strokes lie on one raster for the whole sheet, so that areas that meet have hatching that runs through.

    Raises:
        ValueError: the spacing is not positive.
    """
    if spacing_mm <= 0:
        raise ValueError(f"hatch spacing {spacing_mm} mm is not positive")
    along = (cos(radians(angle_deg)), -sin(radians(angle_deg)))
    across = (-along[1], along[0])
    offsets_mm = [x * across[0] + y * across[1] for x, y in polygon]
    lines: list[Segment] = []
    for row in range(ceil(min(offsets_mm) / spacing_mm), floor(max(offsets_mm) / spacing_mm) + 1):
        # Just beside the raster, so that a stroke never runs exactly through a corner, where the count of edges is odd.
        offset_mm = row * spacing_mm + 1e-7
        cuts_mm = sorted(_cuts_mm(polygon, offsets_mm, offset_mm, along))
        for start_mm, end_mm in zip(cuts_mm[::2], cuts_mm[1::2], strict=False):
            lines.append(
                (
                    (offset_mm * across[0] + start_mm * along[0], offset_mm * across[1] + start_mm * along[1]),
                    (offset_mm * across[0] + end_mm * along[0], offset_mm * across[1] + end_mm * along[1]),
                )
            )
    return tuple(lines)


def _cuts_mm(polygon: tuple[Point, ...], offsets_mm: list[float], offset_mm: float, along: Point) -> list[float]:
    """Where the line at `offset_mm` enters and leaves the polygon, measured along the hatch direction."""
    cuts_mm = []
    for index, point in enumerate(polygon):
        before, here = offsets_mm[index - 1], offsets_mm[index]
        if (before > offset_mm) == (here > offset_mm):
            continue
        share = (offset_mm - before) / (here - before)
        last = polygon[index - 1]
        x, y = last[0] + share * (point[0] - last[0]), last[1] + share * (point[1] - last[1])
        cuts_mm.append(x * along[0] + y * along[1])
    return cuts_mm
