"""The one table of default limits, and what a design sets in their place."""

from dataclasses import dataclass

from harnessgen.evidence.publication import Publication, Standing, common_practice
from harnessgen.measures.quantity import LENGTH, RATIO, TEMPERATURE, TIME, VOLTAGE, Quantity
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
    "coldest": DefaultLimit(Quantity(20.0), "degC", common_practice("coils and conductors before they have warmed up")),
    "supply-cranking": DefaultLimit(
        Quantity(9.5, 0.0, 1.5),
        "V",
        Publication("ISO 16750-2:2012", "4.6.3 starting profile of 12 V systems, level I", Standing.FROM_MEMORY),
    ),
    "supply-normal": DefaultLimit(
        Quantity(14.0, 2.0, 5.0),
        "V",
        Publication("ISO 16750-2:2012", "4.2 supply range of 12 V systems, code C", Standing.FROM_MEMORY),
    ),
    "supply-high": DefaultLimit(
        Quantity(18.0, 0.0, 2.0),
        "V",
        Publication("ISO 16750-2:2012", "4.3.1 overvoltage of 12 V systems for an hour", Standing.FROM_MEMORY),
    ),
    "lamp-inrush": DefaultLimit(
        Quantity(10.0), "1", common_practice("current of a cold filament over its running current")
    ),
    "motor-stall": DefaultLimit(
        Quantity(4.0), "1", common_practice("current of a motor that is held over its running current")
    ),
    "diode-drop": DefaultLimit(Quantity(0.7), "V", common_practice("forward voltage of a silicon diode")),
    "driver-clamp": DefaultLimit(
        Quantity(60.0),
        "V",
        common_practice("voltage at which a low-side output takes over a coil's current, 40 to 70 V"),
    ),
    "pulse-width": DefaultLimit(
        Quantity(0.003), "s", common_practice("open time of an injector at idle, where a difference weighs most")
    ),
    "flow-match": DefaultLimit(Quantity(0.02), "1", common_practice("flow within a matched set of injectors")),
    "negligible-spread": DefaultLimit(
        Quantity(0.25), "1", common_practice("share of the flow match below which a spread of fuel does not matter")
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
    coldest_degc: Quantity | None = key(
        "coldest",
        Measure(TEMPERATURE, lowest=-60),
        "Temperature of coils and conductors at their coldest, for the highest current.",
        default=None,
        default_words="20 degC",
    )
    supply_cranking_v: Quantity | None = key(
        "supply-cranking",
        Measure(VOLTAGE, above=0),
        "Voltage of every supply in the condition `cranking`, with its range.",
        default=None,
        default_words="9.5 V +0/-1.5",
    )
    supply_normal_v: Quantity | None = key(
        "supply-normal",
        Measure(VOLTAGE, above=0),
        "Voltage of every supply in the condition `normal`, with its range.",
        default=None,
        default_words="14 V +2/-5",
    )
    supply_high_v: Quantity | None = key(
        "supply-high",
        Measure(VOLTAGE, above=0),
        "Voltage of every supply in the condition `high`, with its range.",
        default=None,
        default_words="18 V +0/-2",
    )
    lamp_inrush: Quantity | None = key(
        "lamp-inrush",
        Measure(RATIO, lowest=1),
        "Current of a cold filament over its running current, where a lamp does not say.",
        default=None,
        default_words="10",
    )
    motor_stall: Quantity | None = key(
        "motor-stall",
        Measure(RATIO, lowest=1),
        "Current of a motor that is held over its running current, where a motor does not say.",
        default=None,
        default_words="4",
    )
    diode_drop_v: Quantity | None = key(
        "diode-drop",
        Measure(VOLTAGE, lowest=0),
        "Forward voltage of a suppression diode.",
        default=None,
        default_words="0.7 V",
    )
    driver_clamp_v: Quantity | None = key(
        "driver-clamp",
        Measure(VOLTAGE, above=0),
        "Voltage at which an output takes over a coil's current, where it does not say.",
        default=None,
        default_words="60 V",
    )
    pulse_width_s: Quantity | None = key(
        "pulse-width",
        Measure(TIME, above=0),
        "Pulse for which the fuel of a bank is compared, where a state gives none.",
        default=None,
        default_words="3 ms",
    )
    flow_match: Quantity | None = key(
        "flow-match",
        Measure(RATIO, above=0, highest=1),
        "How far the flow of an injector may lie from that of its set, where it does not say.",
        default=None,
        default_words="2 %",
    )
    negligible_spread: Quantity | None = key(
        "negligible-spread",
        Measure(RATIO, above=0, highest=1),
        "Share of the flow match below which a spread of fuel is called negligible.",
        default=None,
        default_words="25 %",
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
    "coldest": "coldest_degc",
    "supply-cranking": "supply_cranking_v",
    "supply-normal": "supply_normal_v",
    "supply-high": "supply_high_v",
    "lamp-inrush": "lamp_inrush",
    "motor-stall": "motor_stall",
    "diode-drop": "diode_drop_v",
    "driver-clamp": "driver_clamp_v",
    "pulse-width": "pulse_width_s",
    "flow-match": "flow_match",
    "negligible-spread": "negligible_spread",
}
