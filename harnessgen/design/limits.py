"""The one table of default limits, and what a design sets in their place."""

from harnessgen.design.bundle_limits import BUNDLE_LIMITS
from harnessgen.design.default_limit import DefaultLimit
from harnessgen.design.heat_limits import HEAT_LIMITS, HeatLimits
from harnessgen.design.lamp_limits import LAMP_LIMITS
from harnessgen.design.limit_sources import CRANKING_SOURCE, DROP_SOURCE, HIGH_SOURCE, NORMAL_SOURCE
from harnessgen.design.shop_limits import SHOP_LIMITS
from harnessgen.evidence.publication import Publication, Standing, common_practice
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import AREA, LENGTH, RATIO, TEMPERATURE, TIME, VOLTAGE, Quantity
from harnessgen.source.key import key, keys_of, record
from harnessgen.source.measure_kind import Measure

DEFAULT_LIMITS = {
    **HEAT_LIMITS,
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
    "fuse-load": DefaultLimit(
        Quantity(0.75), "1", common_practice("share of a fuse's rating that a steady load may take")
    ),
    "fuse-to-wire": DefaultLimit(
        Quantity(1.0), "1", common_practice("share of a wire's allowed current up to which its fuse may be rated")
    ),
    "unfused-length": DefaultLimit(
        Quantity(180.0), "mm", Publication("ABYC E-11", "11.10.1.1, 7 in from the supply", Standing.FROM_MEMORY)
    ),
    "unfused-length-covered": DefaultLimit(
        Quantity(1020.0), "mm", Publication("ABYC E-11", "11.10.1.1, 40 in within a covering", Standing.FROM_MEMORY)
    ),
    "smallest-size": DefaultLimit(Quantity(0.35), "mm2", common_practice("least copper that stands handling")),
    "smallest-size-engine": DefaultLimit(
        Quantity(0.5), "mm2", common_practice("least copper that stands an engine's shaking")
    ),
    "sneak-share": DefaultLimit(
        Quantity(0.01), "1", common_practice("share of its working current below which a load counts as off")
    ),
    "drop": DefaultLimit(Quantity(0.10), "1", DROP_SOURCE),
    "coldest": DefaultLimit(Quantity(20.0), "degC", common_practice("coils and conductors before they have warmed up")),
    "supply-cranking": DefaultLimit(Quantity(9.5, 0.0, 1.5), "V", CRANKING_SOURCE),
    "supply-normal": DefaultLimit(Quantity(14.0, 2.0, 5.0), "V", NORMAL_SOURCE),
    "supply-high": DefaultLimit(Quantity(18.0, 0.0, 2.0), "V", HIGH_SOURCE),
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
    "path-factor": DefaultLimit(
        Quantity(1.05, 0.05, 0.05),
        "1",
        common_practice("way of a clipped bundle over the straight line between its points"),
    ),
    "lay-ratio": DefaultLimit(
        Quantity(12.0), "1", common_practice("length of one turn of a twisted cable over its diameter")
    ),
    "service-loops": DefaultLimit(
        Quantity(0.0),
        "1",
        common_practice("re-terminations that each crimped end has spare length for, unless its connector says"),
    ),
    "retermination": DefaultLimit(
        Quantity(15.0), "mm", common_practice("a terminal cut off behind its crimp, and the wire stripped anew")
    ),
    "least-reterminations": DefaultLimit(
        Quantity(0.0),
        "1",
        common_practice("none is asked for; aircraft practice asks for two (FAA AC 43.13-1B CHG 1, 11-118)"),
    ),
    "short-probability": DefaultLimit(
        Quantity(0.001), "1", common_practice("one wire in a thousand may turn out too short")
    ),
    "usable-tail": DefaultLimit(Quantity(300.0), "mm", common_practice("shortest end of wire that is worth keeping")),
    "most-slack": DefaultLimit(Quantity(50.0), "mm", common_practice("more than this hangs loose, and chafes")),
    "parting-stroke": DefaultLimit(
        Quantity(20.0), "mm", common_practice("what a hand needs to draw two mated halves apart")
    ),
    **BUNDLE_LIMITS,
    **SHOP_LIMITS,
    **LAMP_LIMITS,
}


@record
class Limits(HeatLimits):
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
    fuse_load: Quantity | None = key(
        "fuse-load",
        Measure(RATIO, above=0, highest=1),
        "Share of a fuse's rating that a steady load may take.",
        default=None,
        default_words="75 %",
    )
    fuse_to_wire: Quantity | None = key(
        "fuse-to-wire",
        Measure(RATIO, above=0),
        "Share of a wire's allowed current up to which the fuse before it may be rated.",
        default=None,
        default_words="100 %",
    )
    unfused_length_mm: Quantity | None = key(
        "unfused-length",
        Measure(LENGTH, lowest=0),
        "Length from the supply that may be without a fuse.",
        default=None,
        default_words="180 mm",
    )
    unfused_length_covered_mm: Quantity | None = key(
        "unfused-length-covered",
        Measure(LENGTH, lowest=0),
        "The same where every stretch on the way has a covering.",
        default=None,
        default_words="1020 mm",
    )
    smallest_size_mm2: Quantity | None = key(
        "smallest-size",
        Measure(AREA, above=0),
        "Least copper of a wire, whatever its current.",
        default=None,
        default_words="0.35 mm2",
    )
    smallest_size_engine_mm2: Quantity | None = key(
        "smallest-size-engine",
        Measure(AREA, above=0),
        "The same in a zone on the engine.",
        default=None,
        default_words="0.5 mm2",
    )
    sneak_share: Quantity | None = key(
        "sneak-share",
        Measure(RATIO, above=0),
        "Share of its working current below which a load counts as off.",
        default=None,
        default_words="1 %",
    )
    drop: Quantity | None = key(
        "drop",
        Measure(RATIO, above=0, highest=1),
        "Share of the supply's volts that wires, contacts, fuses, switches and relays may take, out and back.",
        default=None,
        default_words="10 %",
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
    path_factor: Quantity | None = key(
        "path-factor",
        Measure(RATIO, lowest=1, may_cover=True),
        "How much longer a way is than the straight line between its points, where these give its length.",
        default=None,
        default_words="1.05 +/- 0.05",
    )
    lay_ratio: Quantity | None = key(
        "lay-ratio",
        Measure(RATIO, above=0),
        "Length of one turn of a twisted cable over its diameter, where the cable does not say.",
        default=None,
        default_words="12",
    )
    service_loops: Quantity | None = key(
        "service-loops",
        Measure(RATIO, lowest=0),
        "Re-terminations that each crimped end has spare length for, where its connector does not say.",
        default=None,
        default_words="0",
    )
    retermination_mm: Quantity | None = key(
        "retermination",
        Measure(LENGTH, above=0),
        "Length that one re-termination takes.",
        default=None,
        default_words="15 mm",
    )
    least_reterminations: Quantity | None = key(
        "least-reterminations",
        Measure(RATIO, lowest=0),
        "Re-terminations that the slack at each end of a wire has to allow for.",
        default=None,
        default_words="0",
    )
    short_probability: Quantity | None = key(
        "short-probability",
        Measure(RATIO, above=0, highest=0.5),
        "Probability of being too short above which a wire is called tight.",
        default=None,
        default_words="0.1 %",
    )
    most_slack_mm: Quantity | None = key(
        "most-slack",
        Measure(LENGTH, lowest=0),
        "Length beyond its need above which a wire is called slack.",
        default=None,
        default_words="50 mm",
    )
    usable_tail_mm: Quantity | None = key(
        "usable-tail",
        Measure(LENGTH, lowest=0),
        "Shortest end of a spool that goes back to the shelf; what is shorter is scrap.",
        default=None,
        default_words="300 mm",
    )
    parting_stroke_mm: Quantity | None = key(
        "parting-stroke",
        Measure(LENGTH, lowest=0),
        "Slack that is needed to draw the halves of a disconnect apart.",
        default=None,
        default_words="20 mm",
    )

    noun = "the limits"
    example = """\
limits: {cutting-step: 1 mm, wire-load: 80 %}
"""


@frozen
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


_FIELDS = {name: field_name for name, (field_name, _) in keys_of(Limits).items()}
