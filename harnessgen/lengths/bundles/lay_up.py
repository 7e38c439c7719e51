"""Concentric lay-up of a twisted bundle: a core and layers around it, with fillers where a layer has a gap."""

import math
from collections.abc import Sequence

from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.lengths.bundles.diameter import bundle_diameter
from harnessgen.measures.frozen import frozen

SERIES_SOURCE = Publication("Concentric lay of equal wires, elementary geometry", "each layer holds six more")
MIXED_SOURCE = common_practice("thickest wires to the middle; each layer is filled to the angle that its wires take")

_LARGEST_CORE = 5
_EQUAL = 0.02


@frozen
class Layer:
    """One layer from the middle outwards: how many wires lie in it, how many fillers, and its outside diameter."""

    wires: int
    fillers: int
    outside_mm: float


@frozen
class LayUp:
    """The layers of a twisted bundle, the core first."""

    layers: tuple[Layer, ...]
    source: Publication

    @property
    def fillers(self) -> int:
        """Fillers in all layers."""
        return sum(layer.fillers for layer in self.layers)

    def __str__(self) -> str:
        """As the schedule prints it: `3 + 9 (2 fillers)`; a layer counts its fillers."""
        counts = " + ".join(str(layer.wires + layer.fillers) for layer in self.layers)
        if not self.fillers:
            return counts
        return f"{counts} ({self.fillers} {'filler' if self.fillers == 1 else 'fillers'})"


def lay_up(diameters_mm: Sequence[float]) -> LayUp:
    """The lay-up with the fewest fillers for wires of these outside diameters, and of those the thinnest.

    Equal wires follow the series of concentric lay: a core of one to five, then in each layer six more than in the
    one before (a core of one has six around it). Unlike wires lie thickest first, as many in a layer as its circle
    holds; a filler is as thick as the thinnest wire of its layer.

    Raises:
        ValueError: there is no wire.
    """
    if not diameters_mm:
        raise ValueError("a bundle needs at least one wire")
    ordered = sorted(diameters_mm, reverse=True)
    is_equal = ordered[0] - ordered[-1] <= _EQUAL * ordered[0]
    cores = range(1, min(_LARGEST_CORE, len(ordered)) + 1)
    made = [_equal(ordered, core) if is_equal else _mixed(ordered, core) for core in cores]
    best = min(made, key=lambda layers: (sum(each.fillers for each in layers), layers[-1].outside_mm))
    return LayUp(tuple(best), SERIES_SOURCE if is_equal else MIXED_SOURCE)


def _equal(ordered: list[float], core: int) -> list[Layer]:
    thick_mm = ordered[0]
    layers = [Layer(core, 0, bundle_diameter([thick_mm] * core).diameter_mm)]
    left, places = len(ordered) - core, core
    while left > 0:
        places = 6 if places == 1 else places + 6
        wires = min(places, left)
        layers.append(Layer(wires, places - wires, layers[-1].outside_mm + 2.0 * thick_mm))
        left -= wires
    return layers


def _mixed(ordered: list[float], core: int) -> list[Layer]:
    layers = [Layer(core, 0, bundle_diameter(ordered[:core]).diameter_mm)]
    left = ordered[core:]
    while left:
        inside_mm, thick_mm = layers[-1].outside_mm, left[0]
        taken, angle = 0, 0.0
        # Wires lie on the layer below, so each takes the angle under which it is seen from the middle.
        while taken < len(left) and angle + _angle(left[taken], inside_mm) <= 2.0 * math.pi + 1e-9:
            angle += _angle(left[taken], inside_mm)
            taken += 1
        fillers = int((2.0 * math.pi - angle + 1e-9) / _angle(left[taken - 1], inside_mm))
        layers.append(Layer(taken, fillers, inside_mm + 2.0 * thick_mm))
        left = left[taken:]
    return layers


def _angle(own_mm: float, inside_mm: float) -> float:
    return 2.0 * math.asin(own_mm / (inside_mm + own_mm))
