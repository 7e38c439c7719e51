"""Values with a unit and a tolerance, as a builder writes them: `410 +/- 8 mm`, `14 1/2 in`, `250 degF`, `+10/-0`.

Inside the program a quantity is held in the base unit of its dimension (mm, deg, degC, A, V, ohm, H, s, W, J, mm2, N);
only this module converts.
"""

import re
from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction

from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import quantised
from harnessgen.measures.slips import likeliest


class QuantityError(ValueError):
    """A text that is no quantity of the wanted dimension: `problem` says why, `remedy` what to write instead."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(f"{problem}; {remedy}")
        self.problem = problem
        self.remedy = remedy


@frozen
class Dimension:
    """What is measured: its name, the base unit, and for each unit the factor to the base unit.

    `lowest` and `highest` bound what anything in or on a vehicle can have, and `finest` is the least that differs from
    0, all in the base unit (common practice, no source: each leaves a decade and more beyond what is met).
    """

    name: str
    base: str
    units: dict[str, Fraction]
    example: str
    lowest: float
    highest: float
    finest: float

    def convert(self, value: Fraction, unit: str) -> Fraction:
        """`value` in `unit`, expressed in the base unit."""
        if unit in ("degF", "°F"):
            return (value - 32) * Fraction(5, 9)
        return value * self.units[unit]


def _dimension(name: str, base: str, example: str, span: tuple[float, float, float], **units: str) -> Dimension:
    """A dimension; `span` is its finest, lowest and highest value in the base unit."""
    factors = {base: Fraction(1)} | {unit: Fraction(Decimal(factor)) for unit, factor in units.items()}
    finest, lowest, highest = span
    return Dimension(name, base, factors, example, lowest, highest, finest)


LENGTH = _dimension("length", "mm", "410 mm", (0.001, -100e3, 100e3), cm="10", m="1000", **{"in": "25.4"}, ft="304.8")
ANGLE = _dimension("angle", "deg", "60 deg", (0.001, -720.0, 720.0), **{"°": "1"})
AREA = _dimension("cross-section", "mm2", "0.75 mm2", (0.001, 0.0, 1000.0), **{"mm²": "1"})
CURRENT = _dimension("current", "A", "7.5 A", (1e-6, 0.0, 100e3), mA="0.001")
# A vehicle's high voltage ends at 1,500 V of direct current (UN Regulation 100, from memory).
VOLTAGE = _dimension("voltage", "V", "13.8 V", (1e-6, 0.0, 1500.0), mV="0.001")
RESISTANCE = _dimension("resistance", "ohm", "12 ohm", (1e-6, 0.0, 1e9), mohm="0.001", kohm="1000", Ω="1", mΩ="0.001")
LINEAR_RESISTANCE = _dimension(
    "resistance per length", "ohm/m", "37.1 mohm/m", (1e-6, 0.0, 1000.0), **{"mohm/m": "0.001"}
)
INDUCTANCE = _dimension("inductance", "H", "14 mH", (1e-9, 0.0, 100.0), mH="0.001")
TIME = _dimension("time", "s", "200 ms", (1e-6, 0.0, 1e8), ms="0.001", min="60")
POWER = _dimension("power", "W", "21 W", (1e-6, 0.0, 1e6), kW="1000")
ENERGY = _dimension("energy", "J", "40 mJ", (1e-9, 0.0, 1e6), mJ="0.001")
FORCE = _dimension("force", "N", "60 N", (0.001, 0.0, 100e3), lbf="4.4482216152605")
RATIO = _dimension("ratio", "1", "75 %", (1e-6, 0.0, 100.0), **{"%": "0.01"})
SPEED = _dimension("engine speed", "rpm", "600 rpm", (1.0, 0.0, 50e3))
MASS = _dimension("mass", "g", "12 g", (0.001, 0.0, 1e6), kg="1000")
DENSITY = _dimension("density", "g/cm3", "1.4 g/cm3", (0.001, 0.0, 25.0), **{"kg/m3": "0.001"})
TEMPERATURE = Dimension(
    "temperature",
    "degC",
    {"degC": Fraction(1), "°C": Fraction(1), "degF": Fraction(5, 9), "°F": Fraction(5, 9)},
    "120 degC",
    lowest=-100.0,
    highest=1200.0,
    finest=0.0,
)

DIMENSIONS = (
    LENGTH, ANGLE, AREA, CURRENT, VOLTAGE, RESISTANCE, LINEAR_RESISTANCE, INDUCTANCE,
    TIME, POWER, ENERGY, FORCE, RATIO, SPEED, MASS, DENSITY, TEMPERATURE,
)  # fmt: skip
_DIMENSION_OF_UNIT = {unit: each for each in reversed(DIMENSIONS) for unit in each.units if unit != "1"}


def dimension_of(unit: str) -> Dimension | None:
    """The dimension that has a unit; None where none has. A bare ratio or count has the unit `1`, or none."""
    return RATIO if unit in ("", "1") else _DIMENSION_OF_UNIT.get(unit)


@frozen
class Quantity:
    """A value with its tolerance, all in the base unit of its dimension.

    `plus` and `minus` are the bounds above and below `value`, both zero or more. Where `coverage` is given, they are
    no bounds but an expanded uncertainty with that coverage factor: `410 +/- 8 mm (k=2)`.
    """

    value: float
    plus: float = 0.0
    minus: float = 0.0
    coverage: float | None = None

    @property
    def highest(self) -> float:
        """The largest value inside the tolerance."""
        return self.value + self.plus

    @property
    def lowest(self) -> float:
        """The smallest value inside the tolerance."""
        return self.value - self.minus


# Two digits of exponent: more is no quantity of a harness, and would only overflow.
# No other digits than these ten: a message could not show what was read.
_DECIMAL = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,2})?"
_FRACTION = r"[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+"
_NUMBER = rf"(?:{_FRACTION}|{_DECIMAL})"
_UNIT = r"[A-Za-zµΩ°%][A-Za-zµΩ°²0-9/%]*"
_MOST_CHARACTERS = 80
_MOST_COVERAGE = 10.0
_QUANTITY = re.compile(
    rf"""\s*(?P<value>[+-]?{_NUMBER})
    \s*(?P<unit>{_UNIT})?
    (?:\s*(?:
        (?:\+/-|±)\s*(?P<both>{_NUMBER})\s*(?P<percent>%)?
        | \+\s*(?P<plus>{_NUMBER})\s*/\s*-\s*(?P<minus>{_NUMBER})
        | -\s*(?P<minus2>{_NUMBER})\s*/\s*\+\s*(?P<plus2>{_NUMBER})
    ))?
    \s*(?P<unit2>{_UNIT})?\s*
    (?:\(\s*k\s*=\s*(?P<coverage>{_DECIMAL})\s*\)\s*)?""",
    re.VERBOSE,
)
_TOLERANCE = re.compile(
    rf"""\s*(?:
        (?:\+/-|±)\s*(?P<both>{_NUMBER})
        | \+\s*(?P<plus>{_NUMBER})\s*/\s*-\s*(?P<minus>{_NUMBER})
        | -\s*(?P<minus2>{_NUMBER})\s*/\s*\+\s*(?P<plus2>{_NUMBER})
    )\s*(?P<unit>{_UNIT})?\s*""",
    re.VERBOSE,
)


def parse_quantity(
    text: str, dimension: Dimension, bare_unit: str | None = None, *, may_cover: bool = False
) -> Quantity:
    """Read a quantity of `dimension`; a bare number takes `bare_unit` (the base unit when none is given).

    With `may_cover` a coverage factor may stand behind the bounds, which makes them an expanded uncertainty.

    Raises:
        QuantityError: no number, no such unit, a unit of another dimension, or a coverage factor out of place.
    """
    match = _QUANTITY.fullmatch(text) if len(text) <= _MOST_CHARACTERS else None
    if match is None or (match["coverage"] and not may_cover):
        raise _no_quantity(text, dimension)
    # The per cent of a ratio is its unit; everywhere else a tolerance in per cent is a share of the value.
    is_share = match["percent"] is not None and "%" not in dimension.units
    first, second = match["unit"], match["unit2"] or (None if is_share else match["percent"])
    if first and second and first != second:
        raise _two_units(match, first, second, dimension)
    unit = _known_unit(first or second or bare_unit or dimension.base, dimension)
    value = _number(match["value"])
    plus, minus = _bounds(match)
    if is_share:
        plus = minus = abs(value) * plus / 100
    # A tolerance is a difference: a temperature's offset does not belong to it.
    scale = dimension.units[unit]
    return Quantity(
        float(dimension.convert(value, unit)), float(plus * scale), float(minus * scale), _coverage(match, text)
    )


def parse_tolerance(text: str, dimension: Dimension, bare_unit: str | None = None) -> Quantity:
    """Read a tolerance that stands alone (`+10/-0`, `+/- 5 mm`): a quantity of value 0.

    Raises:
        QuantityError: the text is no tolerance, or its unit is of another dimension.
    """
    match = _TOLERANCE.fullmatch(text) if len(text) <= _MOST_CHARACTERS else None
    if match is None:
        raise QuantityError(f"{_shown(text)} is no tolerance", "write it as +10/-0 or +/- 5 mm")
    unit = _known_unit(match["unit"] or bare_unit or dimension.base, dimension)
    plus, minus = (float(each * dimension.units[unit]) for each in _bounds(match))
    return Quantity(0.0, plus, minus)


def _bounds(match: re.Match[str]) -> tuple[Fraction, Fraction]:
    plus = match["both"] or match["plus"] or match["plus2"] or "0"
    minus = match["both"] or match["minus"] or match["minus2"] or "0"
    return _number(plus), _number(minus)


def _two_units(match: re.Match[str], first: str, second: str, dimension: Dimension) -> QuantityError:
    problem = f"{match.string!r} has two units, {first} and {second}"
    meant = _digits(match.string)
    if meant is not None:
        return QuantityError(f"{match.string!r} is no {dimension.name}", f"did you mean {meant.strip()}?")
    if first not in dimension.units or second not in dimension.units or dimension.name == "temperature":
        return QuantityError(problem, f"write one, such as {dimension.example}")
    scale = dimension.units[second] / dimension.units[first]
    plus, minus = (plain_number(float(each * scale)) for each in _bounds(match))
    tolerance = f"+/- {plus}" if plus == minus else f"+{plus}/-{minus}"
    return QuantityError(problem, f"write both in the first: {match['value']} {tolerance} {first}")


def _coverage(match: re.Match[str], text: str) -> float | None:
    if match["coverage"] is None:
        return None
    factor = float(match["coverage"])
    if not match["both"] or not 0 < factor <= _MOST_COVERAGE:
        remedy = "write the uncertainty with it, the same to both sides: 410 +/- 8 mm (k=2)"
        raise QuantityError(f"the coverage factor in {_shown(text)} covers nothing", remedy)
    return factor


def _number(text: str) -> Fraction:
    sign = -1 if text.startswith("-") else 1
    whole, _, rest = text.lstrip("+-").replace("-", " ").rpartition(" ") if "/" in text else ("", "", text)
    if "/" not in text:
        return Fraction(Decimal(text))
    if Fraction(rest.partition("/")[2]) == 0:
        raise QuantityError(f"{text!r} divides by zero", "mend the fraction")
    return sign * (Fraction(whole or "0") + Fraction(rest))


def _known_unit(unit: str, dimension: Dimension) -> str:
    if unit in dimension.units:
        return unit
    wanted = f"write a {dimension.name} such as {dimension.example}"
    other = _DIMENSION_OF_UNIT.get(unit)
    if other is not None:
        begun = [each for each in dimension.units if each.isascii() and each.startswith(unit)]
        wanted = f"did you mean {begun[0]}? {wanted}" if begun and len(unit) > 1 else wanted
        raise QuantityError(f"{unit} measures {other.name}; a {dimension.name} is needed here", wanted)
    near = get_close_matches(unit, [each for each in dimension.units if each != "1"], n=1, cutoff=0.5)
    near += [each for each in dimension.units if each.lower() in (unit.lower(), f"deg{unit.lower()}")][:1]
    plain = [each for each in dimension.units if each.isascii()]
    near += filter(None, [likeliest(unit, plain) or _abbreviated(unit, dimension)])
    units = ", ".join(each for each in dimension.units if each.isascii() and each != "1")
    hint = f"did you mean {near[-1]}? " if near else ""
    raise QuantityError(f"{unit!r} is no unit of {dimension.name}", f"{hint}known units: {units or 'a bare number'}")


def _abbreviated(unit: str, dimension: Dimension) -> str | None:
    """The unit of one letter that a word is written out of: `amp`, `volts`."""
    spelled = {"amp": "A", "amps": "A", "ampere": "A", "amperes": "A", "volt": "V", "volts": "V", "watt": "W"}
    meant = spelled.get(unit.casefold())
    return meant if meant in dimension.units else None


def _digits(text: str) -> str | None:
    """The text with digits for letters that are read as digits, where it begins with such a number."""
    number = re.match(r"\s*(?=[OolI]*\d)[0-9OolI.]+(?=\s|$)", text)
    if number is None:
        return None
    meant = number[0].translate(str.maketrans("OolI", "0011"))
    return meant + text[number.end() :] if meant != number[0] else None


def number_text(value: float) -> str:
    """A bound as it is written: 100000, 0.001, 0.000001, without an exponent."""
    return f"{Decimal(repr(value)).normalize():f}"


def _no_quantity(text: str, dimension: Dimension) -> QuantityError:
    if re.search(r"\d,\d", text) and len(text) <= _MOST_CHARACTERS:
        return QuantityError(f"{text!r} has a comma", f"write the decimal point: {text.replace(',', '.')}")
    meant = _digits(text)
    if meant is None and len(text) <= _MOST_CHARACTERS:
        meant = re.sub(r"\+\s*-|-\s*/\s*\+|\+\s*/\s*/?\s*-\s*(?=\d)", "+/-", text, count=1)
    if meant != text and meant is not None and len(text) <= _MOST_CHARACTERS:
        try:
            parse_quantity(meant, dimension, dimension.base)
        except QuantityError:
            pass
        else:
            return QuantityError(f"{_shown(text)} is no {dimension.name}", f"did you mean {meant.strip()}?")
    return QuantityError(
        f"{_shown(text)} is no {dimension.name}", f"write a number and a unit, such as {dimension.example}"
    )


def _shown(text: str) -> str:
    return repr(text if len(text) <= _MOST_CHARACTERS else text[: _MOST_CHARACTERS // 2] + "...")


def plain_number(value: float, decimals: int = 3) -> str:
    """`value` with at most `decimals` decimals and no trailing zeros: 70, 368.3, 0.75."""
    text = f"{quantised(value):.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def tolerance_text(quantity: Quantity, decimals: int = 1) -> str:
    """The tolerance as it is written on a drawing: `+/- 8`, `+10/-0`, or nothing when exact."""
    plus, minus = plain_number(quantity.plus, decimals), plain_number(quantity.minus, decimals)
    if quantity.plus == quantity.minus == 0:
        return ""
    return f"+/- {plus}" if plus == minus else f"+{plus}/-{minus}"


def quantity_text(quantity: Quantity, unit: str) -> str:
    """The quantity as it is written in a file: `410 +/- 8 mm`, `395 +/- 2 mm (k=2)`, `60 deg`."""
    factor = f"(k={plain_number(quantity.coverage)})" if quantity.coverage is not None else ""
    parts = (plain_number(quantity.value), tolerance_text(quantity, 3), unit, factor)
    return " ".join(part for part in parts if part)
