"""Diameter of a round bundle of wires: published packings where there are any, a rule of the trade elsewhere."""

import math
from collections.abc import Sequence
from enum import Enum
from itertools import groupby

from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.measures.frozen import frozen

PACKING_RATIOS = (
    1.0, 2.0, 2.154701, 2.414214, 2.701302, 3.0, 3.0, 3.304765, 3.613126, 3.813026,
    3.923804, 4.029602, 4.236068, 4.328429, 4.521357, 4.615426, 4.792034, 4.863703, 4.863703, 5.122321,
)  # fmt: skip
"""Diameter of the smallest known circle around 1 to 20 equal circles, in diameters of one.

Proved smallest to 14 and for 19, best known for the others.
"""

RULE_FACTOR = 1.2
"""Diameter of a bundle over the root of the sum of its wires' squared diameters."""

PACKING_SOURCE = Publication(
    "Equal circles packed in a circle, published table of smallest enclosing circles", "n to 20"
)
TWO_WIRES_SOURCE = Publication("Two circles side by side in a circle, elementary geometry")
RULE_SOURCE = common_practice("1.2 times the root of the sum of squared diameters")

RULE_ERROR = (-0.036, 0.084)
"""How far the rule lies from the best packing of 3 to 20, 37, 61 and 91 equal wires, as shares of that packing.

The least is at 3 wires, the largest at 91; a real bundle is never packed better than that.
"""

MIXED_ERROR = (-0.039, 0.2)
"""The same for unlike wires.

Below by the circle around three that touch (Descartes), the worst of which is near 1.3 : 1 : 1; four to nine of mixed
sizes, packed by search, stay within it. Above it is proved: no circle is smaller than its wires' sections together, nor
than the thickest of them.
"""

_EQUAL = 1e-9


class PackingMethod(Enum):
    """How the diameter of a bundle was found."""

    EXACT = "exact"
    """One wire, or two side by side."""
    PACKING = "published packing"
    """Up to 20 equal wires."""
    RULE = "rule of the trade"


@frozen
class BundleDiameter:
    """Diameter of a bundle of wires of `diameters_mm`, largest first.

    `error` is how far the diameter may lie below and above the best packing, as shares of it; (0, 0) for all but the
    rule. Loose lacing and crossing wires come on top.
    """

    diameter_mm: float
    method: PackingMethod
    error: tuple[float, float]
    diameters_mm: tuple[float, ...]

    @property
    def largest_mm(self) -> float:
        """The most that the best packing may take, where the rule is below it."""
        return self.diameter_mm / (1.0 + self.error[0])

    @property
    def derivation(self) -> Evaluated:
        """The diameter with its formula, inputs and sources."""
        title = f"diameter of a bundle of {len(self.diameters_mm)}"
        if self.method is PackingMethod.EXACT:
            return self._sum_derivation(title)
        if self.method is PackingMethod.PACKING:
            count = len(self.diameters_mm)
            inputs = (
                Input(
                    "c", f"enclosing circle of {count} equal circles", PACKING_RATIOS[count - 1], "1", PACKING_SOURCE
                ),
                Input("d", "diameter of one wire", self.diameters_mm[0], "mm"),
            )
            return evaluated(title, "c * d", inputs, "mm", PACKING_SOURCE)
        return self._rule_derivation(title)

    def _sum_derivation(self, title: str) -> Evaluated:
        inputs = tuple(
            Input(f"d{number}", f"diameter of wire {number}", each, "mm")
            for number, each in enumerate(self.diameters_mm, start=1)
        )
        return evaluated(title, " + ".join(each.symbol for each in inputs), inputs, "mm", TWO_WIRES_SOURCE)

    def _rule_derivation(self, title: str) -> Evaluated:
        inputs: list[Input] = []
        squares: list[str] = []
        bounds: list[str] = []
        so_far = 0
        for number, (diameter_mm, count) in enumerate(_groups(self.diameters_mm), start=1):
            so_far += count
            ratio = PACKING_RATIOS[min(so_far, len(PACKING_RATIOS)) - 1]
            inputs += (
                Input(f"n{number}", f"wires of diameter d{number}", float(count), "1"),
                Input(f"d{number}", f"diameter of these {count} wires", diameter_mm, "mm"),
                Input(f"c{number}", f"circle around {so_far} equal circles", ratio, "1", PACKING_SOURCE),
            )
            squares.append(f"n{number} * d{number}**2")
            bounds.append(f"c{number} * d{number}")
        side_by_side = "2 * d1" if _groups(self.diameters_mm)[0][1] > 1 else "d1 + d2"
        formula = f"max({RULE_FACTOR} * sqrt({' + '.join(squares)}), {side_by_side}, {', '.join(bounds)})"
        return evaluated(title, formula, tuple(inputs), "mm", RULE_SOURCE, PACKING_SOURCE, TWO_WIRES_SOURCE)


def bundle_diameter(diameters_mm: Sequence[float]) -> BundleDiameter:
    """Diameter of the round bundle of wires whose outside diameters are `diameters_mm`, in any order.

    One wire has its own diameter and two lie side by side, exactly. Up to 20 equal wires are packed as published.
    Elsewhere the rule of the trade holds (see RULE_ERROR and MIXED_ERROR), but never less than what the thicker wires
    need by themselves: the two thickest side by side, and any number of the thickest packed as if all were as thin as
    the thinnest of them. So a wire more never makes a bundle thinner.

    Raises:
        ValueError: there is no wire, or a diameter is not above zero.
    """
    ordered = tuple(sorted(map(float, diameters_mm), reverse=True))
    if not ordered:
        raise ValueError("a bundle needs at least one wire")
    for each in ordered:
        if not 0.0 < each < math.inf:
            raise ValueError(f"a wire of {each} mm has no place in a bundle")
    count = len(ordered)
    exact = (0.0, 0.0)
    if count <= 2:
        return BundleDiameter(math.fsum(ordered), PackingMethod.EXACT, exact, ordered)
    if count <= len(PACKING_RATIOS) and ordered[0] - ordered[-1] <= _EQUAL * ordered[0]:
        return BundleDiameter(PACKING_RATIOS[count - 1] * ordered[0], PackingMethod.PACKING, exact, ordered)
    rule_mm = RULE_FACTOR * math.sqrt(math.fsum(each * each for each in ordered))
    packed_mm = max(ratio * each for ratio, each in zip(PACKING_RATIOS, ordered, strict=False))
    largest_mm = max(rule_mm, ordered[0] + ordered[1], packed_mm)
    error = RULE_ERROR if ordered[0] - ordered[-1] <= _EQUAL * ordered[0] else MIXED_ERROR
    return BundleDiameter(largest_mm, PackingMethod.RULE, error, ordered)


def _groups(ordered_mm: tuple[float, ...]) -> list[tuple[float, int]]:
    """Each diameter with the number of wires that have it, largest first."""
    return [(diameter_mm, len(list(same))) for diameter_mm, same in groupby(ordered_mm)]
