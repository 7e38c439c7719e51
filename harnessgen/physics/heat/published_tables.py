"""Allowed currents by published tables: small craft, aircraft, spacecraft; each refused outside its own domain.

The figures stand in `physics/data`, each row with its source and whether it was read or recalled.
"""

import csv
from collections.abc import Callable
from functools import cache
from importlib import resources

from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, Standing
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import plain_number
from harnessgen.physics.heat.published_sources import (
    AIRCRAFT_ALTITUDE_SOURCE,
    AIRCRAFT_BUNDLE_SOURCE,
    AIRCRAFT_SOURCE,
    BOAT_BUNDLE_SOURCE,
    BOAT_ENGINE_SOURCE,
    BOAT_SOURCE,
    SPACE_BUNDLE_SOURCE,
    SPACE_SOURCE,
    recalled,
)

M_PER_FT = 0.3048

Row = dict[str, str]


@frozen
class Lying:
    """How a wire lies: what the tables are entered with. `loaded` of the `wires` of its bundle carry current."""

    size: ConductorSize
    rating_degc: float
    ambient_degc: float
    wires: int
    loaded: int
    altitude_m: float = 0.0
    is_in_vacuum: bool = False


@frozen
class Published:
    """An allowed current by a table: where it comes from, and in a few words the row and the factors."""

    derivation: Evaluated
    words: str

    @property
    def allowed_a(self) -> float:
        """The current, for ever."""
        return self.derivation.result

    @property
    def is_from_memory(self) -> bool:
        """Whether a figure in it is from memory."""
        return any(each.standing is Standing.FROM_MEMORY for each in self.derivation.sources)


@frozen
class OutOfDomain:
    """Why a table says nothing: `words`, and the value with the bound that it passes where it is a number."""

    words: str
    name: str = ""
    value: float = 0.0
    bound_name: str = ""
    bound: float = 0.0
    unit: str = ""


def published(method: str, title: str, lying: Lying) -> Published | OutOfDomain:
    """What the table of a method (`boat-table`, `aircraft-curves`, `space-derating`) allows a wire that lies so.

    Raises:
        KeyError: no table has this name.
    """
    return _METHODS[method](title, lying)


@cache
def _rows(name: str) -> tuple[Row, ...]:
    text = resources.files("harnessgen.physics.heat").joinpath("data", f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def _source(row: Row, source: Publication) -> Publication:
    return recalled(source) if row["standing"] == Standing.FROM_MEMORY.value else source


def _row_of_size(name: str, size: ConductorSize) -> Row | OutOfDomain:
    rows = _rows(name)
    for row in rows:
        if (size.system, size.label) == ("AWG", row["awg"]):
            return row
    ends = sorted((rows[0]["awg"], rows[-1]["awg"]), key=lambda label: ConductorSize("AWG", label).nominal_area_mm2)
    return OutOfDomain(f"{size} is none of its sizes, {ends[0]} to {ends[1]} AWG")


def _row_of_count(name: str, count: int) -> Row:
    return next(row for row in _rows(name) if count <= int(row["to_wires"] or count))


def _too_high(name: str, value: float, bound: float, unit: str, words: str) -> OutOfDomain:
    return OutOfDomain(words, name, value, "at most", bound, unit)


_VACUUM = OutOfDomain("it is for wires in air, and these lie in vacuum")
_ENGINE_SPACE_DEGC = 50.0
_BOAT_DEGC = 30.0


def _boat(title: str, lying: Lying) -> Published | OutOfDomain:
    row = _row_of_size("boat_ampacity", lying.size)
    if isinstance(row, OutOfDomain) or lying.is_in_vacuum:
        return row if isinstance(row, OutOfDomain) else _VACUUM
    rating, ambient = plain_number(lying.rating_degc), lying.ambient_degc
    engine = next((each for each in _rows("boat_engine_space") if each["rating_degc"] == rating), None)
    if engine is None:
        known = ", ".join(each["rating_degc"] for each in _rows("boat_engine_space"))
        return OutOfDomain(f"insulation for {rating} degC is none of its columns, {known} degC")
    if ambient > _ENGINE_SPACE_DEGC:
        return _too_high("ambient", ambient, _ENGINE_SPACE_DEGC, "degC", "it ends at an engine space of 50 degC")
    bundle = _row_of_count("boat_bundle", max(lying.loaded, 1))
    base = _source(row, BOAT_SOURCE)
    crowd = _source(bundle, BOAT_BUNDLE_SOURCE)
    inputs = [
        Input("I", f"{lying.size}, insulation for {rating} degC, alone at 30 degC", float(row[rating]), "A", base)
    ]
    words = f"{row[rating]} A for {lying.size} with insulation for {rating} degC"
    formula, sources = "I", [base]
    # Between 30 and 50 degC the table has nothing; what it says for the hotter place holds there too.
    if ambient > _BOAT_DEGC:
        hot = _source(engine, BOAT_ENGINE_SOURCE)
        inputs.append(
            Input("e", f"engine space, for {plain_number(ambient, 1)} degC", float(engine["factor"]), "1", hot)
        )
        words, formula, sources = f"{words} x {engine['factor']} above 30 degC", f"{formula} * e", [*sources, hot]
    inputs.append(Input("b", f"{lying.loaded} wires of the bundle carry current", float(bundle["factor"]), "1", crowd))
    words += f" x {bundle['factor']} for {lying.loaded} loaded"
    return Published(evaluated(title, f"{formula} * b", tuple(inputs), "A", *sources, crowd), f"{words}; {base}")


_LEAST_RISE_K, _MOST_RISE_K = 30.0, 250.0


def _aircraft(title: str, lying: Lying) -> Published | OutOfDomain:
    row = _row_of_size("aircraft_free_air", lying.size)
    if isinstance(row, OutOfDomain) or lying.is_in_vacuum:
        return row if isinstance(row, OutOfDomain) else _VACUUM
    rise_k, altitude_ft = lying.rating_degc - lying.ambient_degc, lying.altitude_m / M_PER_FT
    if rise_k < _LEAST_RISE_K:
        words = "its curves begin where the insulation stands 30 K more than the ambient"
        return OutOfDomain(words, "ambient", lying.ambient_degc, "at most", lying.rating_degc - _LEAST_RISE_K, "degC")
    if rise_k > _MOST_RISE_K:
        words = "its curves end where the insulation stands 250 K more than the ambient"
        return OutOfDomain(words, "ambient", lying.ambient_degc, "at least", lying.rating_degc - _MOST_RISE_K, "degC")
    bundles = _rows("aircraft_bundle")
    if lying.wires > len(bundles):
        words = f"its bundle curves are read up to {len(bundles)} wires"
        return _too_high("wires in the bundle", float(lying.wires), float(len(bundles)), "1", words)
    highest_ft = float(_rows("aircraft_altitude")[-1]["altitude_ft"])
    if altitude_ft > highest_ft:
        return _too_high("altitude", altitude_ft, highest_ft, "ft", f"its altitude curve ends at {highest_ft:g} ft")
    bundle = bundles[lying.wires - 1]
    share = max(lying.loaded, 1) / lying.wires
    curve = next(label for label in ("20", "40", "60", "80", "100") if share <= float(label) / 100.0 + 1e-9)
    thin, altitude = _altitude_factor(altitude_ft)
    base, crowd = _source(row, AIRCRAFT_SOURCE), _source(bundle, AIRCRAFT_BUNDLE_SOURCE)
    inputs = (
        Input("c", f"{lying.size} in free air for 1 K", float(row["coefficient_a"]), "A", base),
        Input("dT", "rating less ambient", rise_k, "K"),
        Input("m", "slope of its line", float(row["exponent"]), "1", base),
        Input("b", f"{lying.loaded} of {lying.wires} loaded: curve of {curve} %", float(bundle[curve]), "1", crowd),
        Input("h", f"at {plain_number(altitude_ft, 0)} ft", thin, "1", altitude),
    )  # fmt: skip
    found = evaluated(title, "c * dT ** m * b * h", inputs, "A", base, crowd, altitude)
    alone = float(row["coefficient_a"]) * rise_k ** float(row["exponent"])
    words = f"{alone:.1f} A for {lying.size} alone at {plain_number(rise_k, 1)} K x {bundle[curve]} for {lying.loaded}"
    words += f" of {lying.wires} loaded (curve of {curve} %)"
    return Published(found, f"{words} x {thin:.3g} at {plain_number(altitude_ft, 0)} ft; {base}")


def _altitude_factor(altitude_ft: float) -> tuple[float, Publication]:
    """On straight lines between the points read; at sea level there is nothing to derate, by its meaning."""
    if altitude_ft == 0.0:
        return 1.0, AIRCRAFT_ALTITUDE_SOURCE
    rows = _rows("aircraft_altitude")
    upper = next(index for index, row in enumerate(rows) if altitude_ft <= float(row["altitude_ft"]))
    low, high = rows[upper - 1], rows[upper]
    start, end = float(low["altitude_ft"]), float(high["altitude_ft"])
    along = (altitude_ft - start) / (end - start)
    factor = float(low["factor"]) + along * (float(high["factor"]) - float(low["factor"]))
    rests_on = [each for each in (low, high) if float(each["altitude_ft"]) > 0.0]
    source = AIRCRAFT_ALTITUDE_SOURCE
    return factor, next((recalled(source) for each in rests_on if _source(each, source) is not source), source)


_SPACE_AMBIENT_DEGC, _SPACE_WIRE_DEGC = 70.0, 150.0


def _space(title: str, lying: Lying) -> Published | OutOfDomain:
    row = _row_of_size("space_single_wire", lying.size)
    if isinstance(row, OutOfDomain):
        return row
    if not lying.is_in_vacuum:
        return OutOfDomain("it is for wires in vacuum, and these lie in air")
    if lying.ambient_degc > _SPACE_AMBIENT_DEGC:
        return _too_high(
            "ambient", lying.ambient_degc, _SPACE_AMBIENT_DEGC, "degC", "it is for surroundings of 70 degC"
        )
    if lying.rating_degc < _SPACE_WIRE_DEGC:
        words = "it lets the wire come to 150 degC"
        return OutOfDomain(words, "insulation stands", lying.rating_degc, "at least", _SPACE_WIRE_DEGC, "degC")
    bundle = _row_of_count("space_bundle", lying.wires)
    base, crowd = _source(row, SPACE_SOURCE), _source(bundle, SPACE_BUNDLE_SOURCE)
    inputs: tuple[Input, ...] = (Input("I", f"{lying.size} alone", float(row["single_a"]), "A", base),)
    formula = bundle["formula"]
    if "N" in formula:
        inputs = (*inputs, Input("N", "wires of the bundle", float(lying.wires), "1"))
    words = f"{row['single_a']} A for {lying.size} alone, {formula} in a bundle of {lying.wires}; {base}"
    return Published(evaluated(title, formula, inputs, "A", base, crowd), words)


_METHODS: dict[str, Callable[[str, Lying], Published | OutOfDomain]] = {
    "boat-table": _boat,
    "aircraft-curves": _aircraft,
    "space-derating": _space,
}
