"""Conductor sizes as they are sold: a metric cross-section (`0.75 mm2`) or a gauge (`18 AWG`, `2/0 AWG`).

A gauge names no copper area by itself (automotive primary wire of a gauge holds less than ASTM B258 says), so a size is
only a label here; area and resistance come from the wire family that it is used with.
"""

import math
import re
from decimal import Decimal, InvalidOperation

from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import AREA, number_text
from harnessgen.measures.slips import likeliest

_MOST_CHARACTERS = 30


class SizeError(ValueError):
    """A text that is no conductor size: `problem` says why, `remedy` what to write instead."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(f"{problem}; {remedy}")
        self.problem = problem
        self.remedy = remedy


@frozen
class ConductorSize:
    """One size: `system` is `mm2` or `AWG`, `label` the number as printed (`0.75`, `18`, `2/0`)."""

    system: str
    label: str

    def __str__(self) -> str:
        """As printed on a drawing: `0.75 mm2`, `18 AWG`."""
        return f"{self.label} {self.system}"

    @property
    def nominal_area_mm2(self) -> float:
        """The area that the label names: the metric figure itself, or the solid ASTM B258 wire of the gauge, in mm2."""
        return float(self.label) if self.system == "mm2" else math.pi / 4 * gauge_diameter_mm(self.label) ** 2


def gauge_diameter_mm(label: str) -> float:
    """Diameter of a solid wire of gauge `label` in mm: 0.127 * 92^((36 - n)/39), ASTM B258.

    Raises:
        SizeError: the label is no gauge.
    """
    return 0.127 * math.pow(92.0, (36 - _gauge_number(label)) / 39)


def _gauge_number(label: str) -> int:
    aught = re.fullmatch(r"([1-4])/0", label)
    if aught:
        return 1 - int(aught[1])
    if re.fullmatch(r"[0-9]{1,2}", label) and int(label) <= 40:
        return int(label)
    raise SizeError(f"{label!r} is no gauge", "write 18 AWG, or 2/0 AWG")


def parse_size(text: str, bare_system: str = "mm2") -> ConductorSize:
    """Read a conductor size; a bare number takes `bare_system` (`mm2` or `AWG`).

    Raises:
        SizeError: no size, or neither mm2 nor AWG.
    """
    match = re.fullmatch(r"\s*([0-9./]+)\s*([A-Za-z²2]*)\s*", text) if len(text) <= _MOST_CHARACTERS else None
    if match is None:
        raise SizeError(f"{text[:_MOST_CHARACTERS]!r} is no conductor size", "write 0.75 mm2 or 18 AWG")
    number, unit = match[1], match[2].replace("²", "2") or bare_system
    if unit == "AWG":
        number = (re.fullmatch(r"0{1,4}", number) and f"{len(number)}/0") or number
        gauge = _gauge_number(number)
        return ConductorSize("AWG", number if "/" in number else str(gauge))
    if unit != "mm2":
        meant = likeliest(unit, ("mm2", "AWG"), most=1.2)
        hint = f"did you mean {number} {meant}? " if meant is not None else ""
        raise SizeError(f"{unit!r} is no conductor size unit", f"{hint}write mm2 or AWG, such as 0.75 mm2 or 18 AWG")
    try:
        area = Decimal(number)
    except InvalidOperation as error:
        raise SizeError(f"{text!r} is no conductor size", "write 0.75 mm2 or 18 AWG") from error
    if area <= 0:
        raise SizeError("a conductor has an area above zero", "write 0.75 mm2 or 18 AWG")
    if not AREA.finest <= area <= AREA.highest:
        allowed = f"{number_text(AREA.finest)} to {number_text(AREA.highest)} mm2"
        raise SizeError(f"{text.strip()} is out of bounds; a conductor has {allowed}", f"write {allowed}, or a gauge")
    normal = area.normalize()
    return ConductorSize("mm2", f"{normal:f}")
