"""Resistance of copper with temperature."""

from harnessgen.evidence.publication import Publication

COPPER_ZERO_DEGC = -234.5
"""Temperature at which the straight line of copper's resistance would reach zero."""

REFERENCE_DEGC = 20.0
"""Temperature for which standards state a conductor's resistance."""


TEMPERATURE_SOURCE = Publication("FAA AC 43.13-1B CHG 1", "paragraph 11-66 d(4)")


def resistance_at(ohm: float, at_degc: float, from_degc: float = REFERENCE_DEGC) -> float:
    """Resistance in ohm of a copper conductor at `at_degc` that has `ohm` at `from_degc`.

    Raises:
        ValueError: a temperature is at or below the zero of copper's resistance, -234.5 degC.
    """
    _refuse_cold(at_degc, from_degc)
    return ohm * (234.5 + at_degc) / (234.5 + from_degc)


def _refuse_cold(*temperatures_degc: float) -> None:
    for each in temperatures_degc:
        if not each > COPPER_ZERO_DEGC:
            raise ValueError(f"copper has no resistance law at {each} degC")
