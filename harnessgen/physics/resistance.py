"""Resistance of copper: with temperature, along a wire through zones of different heat, and of the bare metal."""

from collections.abc import Sequence

from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication
from harnessgen.measures.frozen import frozen

COPPER_ZERO_DEGC = -234.5
"""Temperature at which the straight line of copper's resistance would reach zero."""

REFERENCE_DEGC = 20.0
"""Temperature for which standards state a conductor's resistance."""

OHM_MM2_PER_M = 1.0 / 58.0
"""Resistivity of annealed copper at 20 degC."""

TEMPERATURE_SOURCE = Publication("FAA AC 43.13-1B CHG 1", "paragraph 11-66 d(4)")
RESISTIVITY_SOURCE = Publication("IEC 60028, International standard of resistance for copper", "clause 2")


@frozen
class Stretch:
    """A length of wire at one temperature."""

    length_mm: float
    temperature_degc: float


def resistance_at(ohm: float, at_degc: float, from_degc: float = REFERENCE_DEGC) -> float:
    """Resistance in ohm of a copper conductor at `at_degc` that has `ohm` at `from_degc`.

    Raises:
        ValueError: a temperature is at or below the zero of copper's resistance, -234.5 degC.
    """
    _refuse_cold(at_degc, from_degc)
    return ohm * (234.5 + at_degc) / (234.5 + from_degc)


def resistance_at_derivation(
    title: str, ohm: float, at_degc: float, from_degc: float = REFERENCE_DEGC, source: Publication | None = None
) -> Evaluated:
    """The same with its formula; `source` is where `ohm` comes from.

    Raises:
        ValueError: a temperature is at or below the zero of copper's resistance, -234.5 degC.
    """
    _refuse_cold(at_degc, from_degc)
    return evaluated(
        title,
        "R1 * (234.5 + T2) / (234.5 + T1)",
        (
            Input("R1", "resistance at T1", ohm, "ohm", source),
            Input("T1", "temperature it is stated for", from_degc, "degC"),
            Input("T2", "temperature of the conductor", at_degc, "degC"),
        ),
        "ohm",
        TEMPERATURE_SOURCE,
    )


def wire_resistance(ohm_per_m: float, stretches: Sequence[Stretch]) -> float:
    """Resistance in ohm of a copper wire of `ohm_per_m` at 20 degC whose stretches lie at different temperatures.

    Raises:
        ValueError: a length is below zero, or a temperature at or below -234.5 degC.
    """
    _refuse_stretches(stretches)
    return sum(ohm_per_m * each.length_mm / 1000 * (234.5 + each.temperature_degc) / 254.5 for each in stretches)


def wire_resistance_derivation(
    title: str, ohm_per_m: float, stretches: Sequence[Stretch], source: Publication | None = None
) -> Evaluated:
    """The same with its formula; `source` is where `ohm_per_m` comes from.

    Raises:
        ValueError: a length is below zero, or a temperature at or below -234.5 degC.
    """
    _refuse_stretches(stretches)
    terms: list[str] = []
    inputs = [Input("r", "resistance of one metre at 20 degC", ohm_per_m, "ohm/m", source)]
    for number, each in enumerate(stretches, start=1):
        terms.append(f"r * L{number} / 1000 * (234.5 + T{number}) / 254.5")
        inputs.append(Input(f"L{number}", f"length of stretch {number}", each.length_mm, "mm"))
        inputs.append(Input(f"T{number}", f"conductor temperature of stretch {number}", each.temperature_degc, "degC"))
    return evaluated(title, " + ".join(terms) or "0 * r", tuple(inputs), "ohm", TEMPERATURE_SOURCE)


def solid_copper_ohm_per_m(area_mm2: float) -> float:
    """Resistance of one metre of solid annealed copper at 20 degC, in ohm.

    Raises:
        ValueError: the area is not above zero.
    """
    _refuse_no_area(area_mm2)
    return 1 / (58 * area_mm2)


def solid_copper_derivation(title: str, area_mm2: float, source: Publication | None = None) -> Evaluated:
    """The same with its formula; `source` is where the area comes from.

    Raises:
        ValueError: the area is not above zero.
    """
    _refuse_no_area(area_mm2)
    area = Input("A", "cross-section of copper", area_mm2, "mm2", source)
    return evaluated(title, "1 / (58 * A)", (area,), "ohm/m", RESISTIVITY_SOURCE)


def _refuse_cold(*temperatures_degc: float) -> None:
    for each in temperatures_degc:
        if not each > COPPER_ZERO_DEGC:
            raise ValueError(f"copper has no resistance law at {each} degC")


def _refuse_stretches(stretches: Sequence[Stretch]) -> None:
    _refuse_cold(*(each.temperature_degc for each in stretches))
    for each in stretches:
        if not each.length_mm >= 0.0:
            raise ValueError(f"a stretch of {each.length_mm} mm has no resistance")


def _refuse_no_area(area_mm2: float) -> None:
    if not area_mm2 > 0.0:
        raise ValueError(f"a conductor of {area_mm2} mm2 has no resistance")
