"""Kinds of values that are measured: quantities, conductor sizes and insulation colours."""

import re
from functools import partial
from typing import Any

from harnessgen.measures.colour_code import COLOURS, ColourError, parse_colour
from harnessgen.measures.conductor_size import SizeError, parse_size
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import (
    RATIO,
    Dimension,
    Quantity,
    QuantityError,
    number_text,
    parse_quantity,
    parse_tolerance,
)
from harnessgen.source.kind import Kind, Reading, Refusal, Schema, scalar_of
from harnessgen.source.reader import Node, Scalar

_SCHEMA_NUMBER = r"[+-]?(\d+[ -]\d+/\d+|\d+/\d+|(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,2})?)"


@frozen
class Measure(Kind):
    """A quantity of one dimension with its unit and tolerance, within the bounds of the dimension or of the key."""

    dimension: Dimension
    lowest: float | None = None
    """Least value allowed, in the base unit; None for the dimension's own."""
    highest: float | None = None
    """Largest value allowed, in the base unit; None for the dimension's own."""
    above: float | None = None
    """Value that it has to exceed, in the base unit."""
    only_tolerance: bool = False
    may_cover: bool = False
    """Whether a coverage factor may stand behind the bounds: a measurement, `410 +/- 8 mm (k=2)`."""

    def read(self, node: Node, reading: Reading) -> Any:
        """The quantity in the base unit of its dimension.

        Raises:
            Refusal: it is no quantity of the dimension, or out of bounds.
        """
        scalar = scalar_of(node, f"a {self.dimension.name}")
        bare = reading.units.get(self.dimension.name)
        parse = parse_tolerance if self.only_tolerance else partial(parse_quantity, may_cover=self.may_cover)
        try:
            quantity = parse(scalar.text, self.dimension, bare)
        except QuantityError as error:
            raise Refusal(scalar.place, f"{error.problem}.", error.remedy, "wrong-unit") from error
        self._check_bounds(quantity, scalar)
        return quantity

    def _check_bounds(self, quantity: Quantity, scalar: Scalar) -> None:
        value, least, most = quantity.value, self._least, self._most
        is_too_fine = 0 < abs(value) < self.dimension.finest
        is_low = value < least or (self.above is not None and value <= self.above)
        if is_low or value > most or is_too_fine:
            words = self.range_words(is_too_fine)
            message = f"{scalar.text} is out of bounds; this {self.dimension.name} is {words}."
            raise Refusal(scalar.place, message, f"write {words}")
        # What cannot be below zero is not so at the end of its tolerance either; a length from a datum may be.
        floor = self.above if self.above is not None else self.dimension.lowest
        is_below = quantity.lowest < floor or (self.above is not None and quantity.lowest <= floor)
        if not self.only_tolerance and (is_below or quantity.highest > self._furthest):
            words = self.range_words()
            message = f"The tolerance of {scalar.text} leads out of bounds; this {self.dimension.name} is {words}."
            raise Refusal(scalar.place, message, "write a smaller tolerance")
        if max(quantity.plus, quantity.minus) > self._furthest - self.dimension.lowest:
            raise Refusal(
                scalar.place,
                f"{scalar.text} is out of bounds for a {self.dimension.name}.",
                "write a smaller tolerance",
            )

    @property
    def _least(self) -> float:
        return self.dimension.lowest if self.lowest is None else self.lowest

    @property
    def _most(self) -> float:
        return self.dimension.highest if self.highest is None else self.highest

    @property
    def _furthest(self) -> float:
        """How far a tolerance may lead: a share of 100 % may be measured a little high."""
        return max(self._most, self.dimension.highest)

    def range_words(self, is_too_fine: bool = False) -> str:
        """What is accepted, in words: `more than 0 mm and at most 100000 mm`."""
        unit = "" if self.dimension.base == "1" else f" {self.dimension.base}"
        least = f"at least {number_text(self._least)}{unit}"
        if self.above is not None:
            least = f"more than {number_text(self.above)}{unit}"
        if is_too_fine:
            least = f"at least {number_text(self.dimension.finest)}{unit}"
        return f"{least} and at most {number_text(self._most)}{unit}"

    def words(self) -> str:
        """For the reference page."""
        if self.only_tolerance:
            return "tolerance (`+10/-0`)"
        # A ratio from 1 up is a factor; what lies below the example's share is shown a smaller one.
        is_ratio = self.dimension is RATIO
        example = "1.2" if is_ratio and self.lowest == 1 else self.dimension.example
        if is_ratio and self.highest is not None and self.highest < 0.75:
            example = "5 %"
        return f"{'factor' if example == '1.2' else self.dimension.name} (`{example}`)"

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """A bare number, or a number with a unit of the dimension and a tolerance."""
        units = "|".join(re.escape(unit) for unit in self.dimension.units if unit != "1")
        unit = rf"\s*({units})?\s*" if units else r"\s*"
        number = _SCHEMA_NUMBER.replace("[+-]?", "", 1)
        tolerance = rf"(\+/-|±)\s*{number}\s*%?|\+\s*{number}\s*/\s*-\s*{number}|-\s*{number}\s*/\s*\+\s*{number}"
        text: Schema = {"type": "string", "examples": [self.dimension.example]}
        if self.only_tolerance:
            return text | {"pattern": rf"^\s*({tolerance}){unit}$", "examples": ["+10/-0"]}
        factor = r"(\(\s*k\s*=\s*[0-9.]+\s*\)\s*)?" if self.may_cover else ""
        text["pattern"] = rf"^\s*{_SCHEMA_NUMBER}{unit}({tolerance})?{unit}{factor}$"
        return {"anyOf": [{"type": "number"}, text]}


@frozen
class Size(Kind):
    """A conductor size."""

    def read(self, node: Node, reading: Reading) -> Any:
        """The size, a label that its wire family gives an area.

        Raises:
            Refusal: it is no conductor size.
        """
        scalar = scalar_of(node, "a conductor size")
        try:
            return parse_size(scalar.text, reading.units.get("size", "mm2"))
        except SizeError as error:
            raise Refusal(scalar.place, f"{error.problem}.", error.remedy, "wrong-unit") from error

    def words(self) -> str:
        """For the reference page."""
        return "size (`0.75 mm2`, `18 AWG`)"

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """A bare number, or a number with mm2 or AWG."""
        pattern = r"^\s*([0-9.]+|[1-4]/0)\s*(mm2|mm²|AWG)?\s*$"
        return {
            "anyOf": [{"type": "number"}, {"type": "string", "pattern": pattern, "examples": ["0.75 mm2", "18 AWG"]}]
        }


@frozen
class Colour(Kind):
    """An insulation colour."""

    def read(self, node: Node, reading: Reading) -> Any:
        """Base and stripe.

        Raises:
            Refusal: it is no colour code.
        """
        scalar = scalar_of(node, "a colour code")
        try:
            return parse_colour(scalar.text)
        except ColourError as error:
            raise Refusal(scalar.place, f"{error.problem}.", error.remedy) from error

    def words(self) -> str:
        """For the reference page."""
        return "colour by IEC 60757 (`RD`, `BU/WH`)"

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """One code, or base and stripe."""
        codes = "|".join(COLOURS)
        return {"type": "string", "pattern": f"^({codes})(/({codes}))?$", "examples": ["RD", "BU/WH"]}
