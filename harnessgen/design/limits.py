"""The one table of default limits, and what a design sets in their place."""

from dataclasses import dataclass

from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.measures.quantity import LENGTH, RATIO, TEMPERATURE, Quantity
from harnessgen.source.key import Record, key
from harnessgen.source.kind import Measure


@dataclass(frozen=True, slots=True)
class DefaultLimit:
    """A limit that holds unless the design sets another: its value in its base unit, and where that comes from."""

    value: Quantity
    unit: str
    source: Publication


DEFAULT_LIMITS = {
    "ambient": DefaultLimit(Quantity(40.0), "degC", common_practice("ambient of a stretch that lies in no zone")),
    "cutting-tolerance": DefaultLimit(Quantity(0.0, 3.0, 3.0), "mm", common_practice("hand cutting to a rule")),
    "cutting-step": DefaultLimit(
        Quantity(5.0), "mm", common_practice("cut lengths are rounded up to the bench's step")
    ),
    "coverage-factor": DefaultLimit(
        Quantity(2.0), "1", Publication("JCGM 100:2008 (GUM)", "6.3.3, k = 2 for about 95 %")
    ),
    "wire-load": DefaultLimit(
        Quantity(1.0), "1", common_practice("share of a wire's allowed current that may be used")
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits(Record):
    """Limits that replace the defaults, for the whole harness or for one circuit; documents print which applied."""

    ambient_degc: Quantity | None = key(
        "ambient",
        Measure(TEMPERATURE),
        "Ambient temperature of a stretch in no zone.",
        default=None,
        default_words="40 degC",
    )
    cutting_tolerance_mm: Quantity | None = key(
        "cutting-tolerance",
        Measure(LENGTH, only_tolerance=True),
        "Tolerance to which the shop cuts wire.",
        default=None,
        default_words="+/- 3 mm",
    )
    cutting_step_mm: Quantity | None = key(
        "cutting-step",
        Measure(LENGTH, above=0),
        "Step to which cut lengths are rounded up.",
        default=None,
        default_words="5 mm",
    )
    coverage_factor: Quantity | None = key(
        "coverage-factor",
        Measure(RATIO, above=0),
        "Factor from the standard uncertainty of a length to the one that the verdict uses.",
        default=None,
        default_words="2",
    )
    wire_load: Quantity | None = key(
        "wire-load",
        Measure(RATIO, above=0, highest=1),
        "Share of a wire's allowed current that may be used.",
        default=None,
        default_words="100 %",
    )

    noun = "the limits"
    example = """\
limits: {cutting-step: 1 mm, wire-load: 80 %}
"""


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit as it applies: its value in its base unit, and where it comes from."""

    name: str
    value: Quantity
    unit: str
    source: Publication


def limit(name: str, *tables: Limits | None) -> Limit:
    """The limit `name` from the first of `tables` that sets it (a circuit's before the design's), else the default.

    Raises:
        KeyError: there is no limit of this name.
    """
    default = DEFAULT_LIMITS[name]
    field_name = _FIELDS[name]
    for table in tables:
        value: Quantity | None = getattr(table, field_name) if table is not None else None
        if table is not None and value is not None:
            place = table.where(field_name)
            return Limit(name, value, default.unit, Publication(f"set in the design, {place}"))
    return Limit(name, default.value, default.unit, default.source)


_FIELDS = {
    "ambient": "ambient_degc",
    "cutting-tolerance": "cutting_tolerance_mm",
    "cutting-step": "cutting_step_mm",
    "coverage-factor": "coverage_factor",
    "wire-load": "wire_load",
}
