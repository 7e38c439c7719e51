"""The outlines of connectors at the ends of a formboard: where the housings lie behind the rear faces.

A part says how many ways and rows its housing has, and not how large it is, so an outline is as large as a housing of
that many cavities commonly is; the sheet says so.
"""

from math import ceil

from harnessgen.drawings.layout.tree import LayoutSpot
from harnessgen.network.network import Network

_PITCH_MM = 4.0
_WALL_MM = 3.0
_DEEP_MM = 22.0
_STUD_MM = 9.0
_BETWEEN_MM = 2.0
_NARROWEST_MM = 9.0


def connector_width_mm(network: Network, name: str) -> float:
    """Width of the outline of a connector, or of a half of a disconnect, in mm."""
    design = network.design
    held = design.connectors.get(name) or design.disconnects[name.removesuffix("s").removesuffix("p")]
    part = network.parts.connectors[held.part]
    columns = ceil(part.ways / part.rows)
    return max(columns * _PITCH_MM + 2 * _WALL_MM, _NARROWEST_MM)


def plate_size(network: Network, spot: LayoutSpot) -> tuple[float, float]:
    """How deep and how wide all that sits at the end of a leg lies beyond it, in mm; (0, 0) where nothing does."""
    widths = [connector_width_mm(network, name) for name in spot.connectors]
    if widths:
        return _DEEP_MM, sum(widths) + _BETWEEN_MM * (len(widths) - 1)
    return (_STUD_MM, _STUD_MM) if spot.devices else (0.0, 0.0)


def plate_parts(network: Network, spot: LayoutSpot) -> list[tuple[str, float, float]]:
    """Each connector at a spot with the two edges of its outline across the leg, in mm from the leg's line."""
    _, whole_mm = plate_size(network, spot)
    parts, at = [], -whole_mm / 2
    for name in spot.connectors:
        wide_mm = connector_width_mm(network, name)
        parts.append((name, at, at + wide_mm))
        at += wide_mm + _BETWEEN_MM
    return parts
