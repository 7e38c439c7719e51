"""The one table of limits: each with its key, bounds, default, meaning and source in one place.

Reading a file, the JSON Schema, the reference page, the table of limits that applied and what derivations say of a
default all come from it. Its order is the order of the printed tables.
"""

from harnessgen.design.limits.declaration import AIR, METHODS, Counted, DefaultLimit, LimitKey, chosen_word, declared
from harnessgen.design.limits.sources import (
    CRANKING_SOURCE,
    DROP_SOURCE,
    HIGH_SOURCE,
    NORMAL_SOURCE,
    UNFUSED_COVERED_SOURCE,
    UNFUSED_SOURCE,
)
from harnessgen.evidence.publication import Publication, Standing, common_practice
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import AREA, LENGTH, POWER, RATIO, RESISTANCE, TEMPERATURE, TIME, VOLTAGE, Quantity
from harnessgen.source.key import Record, keys_of, record
from harnessgen.source.measure_kind import Measure


@record
class Limits(Record):
    """Limits that replace the defaults, for the whole harness or for one circuit; documents print which applied."""

    # Heat: how long states last, in what air.
    stall_lasts_s: Quantity | None = declared(
        "stall-lasts",
        Measure(TIME, above=0),
        "10 s",
        "How long a motor is held, where the state does not say how long it lasts.",
        common_practice("a blocked motor before somebody switches it off"),
    )
    inrush_lasts_s: Quantity | None = declared(
        "inrush-lasts",
        Measure(TIME, above=0),
        "0.2 s",
        "How long a cold lamp draws its inrush, where the state does not say how long it lasts.",
        common_practice("warming of a filament"),
    )
    altitude_mm: Quantity | None = declared(
        "altitude",
        Measure(LENGTH, lowest=0, highest=20e6),
        "0 m",
        "Height above the sea up to which the harness works: thin air carries off less heat.",
        common_practice("sea level"),
    )
    cranking_lasts_s: Quantity | None = declared(
        "cranking-lasts",
        Measure(TIME, above=0),
        "30 s",
        "How long a state with its supply cranking lasts, where it does not say.",
        common_practice("one try of a starter"),
    )
    lamp_warm_up_s: Quantity | None = declared(
        "lamp-warm-up",
        Measure(TIME, above=0),
        "30 ms",
        "Time in which the inrush of a cold lamp falls to a third.",
        common_practice("time in which the inrush of a cold filament falls to a third"),
    )
    motor_run_up_s: Quantity | None = declared(
        "motor-run-up",
        Measure(TIME, above=0),
        "100 ms",
        "Time in which the inrush of a motor at rest falls to a third.",
        common_practice("time in which the inrush of a small motor at rest falls to a third"),
    )
    # Lengths, loading, protection, supplies and loads.
    ambient_degc: Quantity | None = declared(
        "ambient",
        Measure(TEMPERATURE),
        "40 degC",
        "Ambient temperature of a stretch in no zone.",
        common_practice("ambient of a stretch that lies in no zone"),
    )
    cutting_tolerance_mm: Quantity | None = declared(
        "cutting-tolerance",
        Measure(LENGTH, only_tolerance=True),
        "+/- 3 mm",
        "Tolerance to which the shop cuts wire.",
        common_practice("hand cutting to a rule"),
        of_a_circuit=True,
    )
    cutting_step_mm: Quantity | None = declared(
        "cutting-step",
        Measure(LENGTH, above=0),
        "5 mm",
        "Step to which cut lengths are rounded up.",
        common_practice("cut lengths are rounded up to the bench's step"),
        of_a_circuit=True,
    )
    coverage_factor: Quantity | None = declared(
        "coverage-factor",
        Measure(RATIO, above=0),
        "2",
        "Factor from the standard uncertainty of a length to the one that the verdict uses.",
        Publication("JCGM 100:2008 (GUM)", "6.3.3, k = 2 for about 95 %"),
        of_a_circuit=True,
    )
    wire_load: Quantity | None = declared(
        "wire-load",
        Measure(RATIO, above=0, highest=1),
        "100 %",
        "Share of a wire's allowed current that may be used.",
        common_practice("share of a wire's allowed current that may be used"),
        of_a_circuit=True,
    )
    fuse_load: Quantity | None = declared(
        "fuse-load",
        Measure(RATIO, above=0, highest=1),
        "75 %",
        "Share of a fuse's rating that a steady load may take.",
        common_practice("share of a fuse's rating that a steady load may take"),
    )
    fuse_to_wire: Quantity | None = declared(
        "fuse-to-wire",
        Measure(RATIO, above=0),
        "100 %",
        "Share of a wire's allowed current up to which the fuse before it may be rated.",
        common_practice("share of a wire's allowed current up to which its fuse may be rated"),
    )
    unfused_length_mm: Quantity | None = declared(
        "unfused-length",
        Measure(LENGTH, lowest=0),
        "177.8 mm",
        "Length of wire between a supply and the first fuse, where it is in no sheath or enclosure.",
        UNFUSED_SOURCE,
        of_a_circuit=True,
    )
    unfused_length_covered_mm: Quantity | None = declared(
        "unfused-length-covered",
        Measure(LENGTH, lowest=0),
        "1016 mm",
        "The same where the wire is contained throughout in a sheath or enclosure: coverings with `sheath: yes`. "
        "Only where a fuse within `unfused-length` is impractical.",
        UNFUSED_COVERED_SOURCE,
        of_a_circuit=True,
    )
    ground_resistance_ohm: Quantity | None = declared(
        "ground-resistance",
        Measure(RESISTANCE, above=0),
        "100 mohm",
        "Highest resistance of a ground point of the vehicle, back to the supply.",
        common_practice("a sound ground has a few milliohms"),
    )
    smallest_size_mm2: Quantity | None = declared(
        "smallest-size",
        Measure(AREA, above=0),
        "0.35 mm2",
        "Least copper of a wire, whatever its current.",
        common_practice("least copper that stands handling"),
        of_a_circuit=True,
    )
    smallest_size_engine_mm2: Quantity | None = declared(
        "smallest-size-engine",
        Measure(AREA, above=0),
        "0.5 mm2",
        "The same in a zone on the engine.",
        common_practice("least copper that stands an engine's shaking"),
        of_a_circuit=True,
    )
    sneak_share: Quantity | None = declared(
        "sneak-share",
        Measure(RATIO, above=0, highest=1),
        "1 %",
        "Share of its working current below which a load counts as off.",
        common_practice("share of its working current below which a load counts as off"),
    )
    works_share: Quantity | None = declared(
        "works-share",
        Measure(RATIO, above=0, highest=1),
        "60 %",
        "Share of its rated current from which a load counts as working, where a state lists it under `works`.",
        common_practice("a coil or lamp at less than three fifths of its current; two in series have half"),
    )
    drop: Quantity | None = declared(
        "drop",
        Measure(RATIO, above=0, highest=1),
        "10 %",
        "Share of the supply's volts that wires, contacts, fuses, switches and relays may take, out and back.",
        DROP_SOURCE,
        of_a_circuit=True,
    )
    coldest_degc: Quantity | None = declared(
        "coldest",
        Measure(TEMPERATURE, lowest=-60),
        "20 degC",
        "Temperature of coils and conductors at their coldest, for the highest current.",
        common_practice("coils and conductors before they have warmed up"),
    )
    supply_cranking_v: Quantity | None = declared(
        "supply-cranking",
        Measure(VOLTAGE, above=0),
        "9.5 V +0/-1.5",
        "Voltage of every supply in the condition `cranking`, with its range.",
        CRANKING_SOURCE,
    )
    supply_normal_v: Quantity | None = declared(
        "supply-normal",
        Measure(VOLTAGE, above=0),
        "14 V +2/-5",
        "Voltage of every supply in the condition `normal`, with its range.",
        NORMAL_SOURCE,
    )
    supply_high_v: Quantity | None = declared(
        "supply-high",
        Measure(VOLTAGE, above=0),
        "18 V +0/-2",
        "Voltage of every supply in the condition `high`, with its range.",
        HIGH_SOURCE,
    )
    lamp_inrush: Quantity | None = declared(
        "lamp-inrush",
        Measure(RATIO, lowest=1),
        "10",
        "Current of a cold filament over its running current, where a lamp does not say.",
        common_practice("current of a cold filament over its running current"),
    )
    motor_stall: Quantity | None = declared(
        "motor-stall",
        Measure(RATIO, lowest=1),
        "4",
        "Current of a motor that is held over its running current, where a motor does not say.",
        common_practice("current of a motor that is held over its running current"),
    )
    diode_drop_v: Quantity | None = declared(
        "diode-drop",
        Measure(VOLTAGE, lowest=0),
        "0.7 V",
        "Forward voltage of a suppression diode.",
        common_practice("forward voltage of a silicon diode"),
    )
    driver_clamp_v: Quantity | None = declared(
        "driver-clamp",
        Measure(VOLTAGE, above=0),
        "60 V",
        "Voltage at which an output takes over a coil's current, where it does not say.",
        common_practice("voltage at which a low-side output takes over a coil's current, 40 to 70 V"),
    )
    pulse_width_s: Quantity | None = declared(
        "pulse-width",
        Measure(TIME, above=0),
        "3 ms",
        "Pulse for which the fuel of a bank is compared, where a state gives none.",
        common_practice("open time of an injector at idle, where a difference weighs most"),
    )
    flow_match: Quantity | None = declared(
        "flow-match",
        Measure(RATIO, above=0, highest=1),
        "2 %",
        "How far the flow of an injector may lie from that of its set, where it does not say.",
        common_practice("flow within a matched set of injectors"),
    )
    negligible_spread: Quantity | None = declared(
        "negligible-spread",
        Measure(RATIO, above=0, highest=1),
        "25 %",
        "Share of the flow match below which a spread of fuel is called negligible.",
        common_practice("share of the flow match below which a spread of fuel does not matter"),
    )
    path_factor: Quantity | None = declared(
        "path-factor",
        Measure(RATIO, lowest=1, may_cover=True),
        "1.05 +/- 0.05",
        "How much longer a way is than the straight line between its points, where these give its length.",
        common_practice("way of a clipped bundle over the straight line between its points"),
    )
    lay_ratio: Quantity | None = declared(
        "lay-ratio",
        Measure(RATIO, above=0),
        "12",
        "Length of one turn of a twisted cable over its diameter, where the cable does not say.",
        common_practice("length of one turn of a twisted cable over its diameter"),
        of_a_circuit=True,
    )
    service_loops: Quantity | None = declared(
        "service-loops",
        Counted(highest=20),
        "0",
        "Re-terminations that each crimped end has spare length for, where its connector does not say.",
        common_practice("re-terminations that each crimped end has spare length for, unless its connector says"),
        of_a_circuit=True,
    )
    retermination_mm: Quantity | None = declared(
        "retermination",
        Measure(LENGTH, above=0),
        "15 mm",
        "Length that one re-termination takes.",
        common_practice("a terminal cut off behind its crimp, and the wire stripped anew"),
        of_a_circuit=True,
    )
    least_reterminations: Quantity | None = declared(
        "least-reterminations",
        Counted(highest=20),
        "0",
        "Re-terminations that the slack at each end of a wire has to allow for.",
        common_practice("none is asked for; aircraft practice asks for two (FAA AC 43.13-1B CHG 1, 11-118)"),
        of_a_circuit=True,
    )
    short_probability: Quantity | None = declared(
        "short-probability",
        Measure(RATIO, above=0, highest=0.5),
        "0.1 %",
        "Probability of being too short above which a wire is called tight.",
        common_practice("one wire in a thousand may turn out too short"),
        of_a_circuit=True,
    )
    usable_tail_mm: Quantity | None = declared(
        "usable-tail",
        Measure(LENGTH, lowest=0),
        "300 mm",
        "Shortest end of a spool that goes back to the shelf; what is shorter is scrap.",
        common_practice("shortest end of wire that is worth keeping"),
    )
    most_slack_mm: Quantity | None = declared(
        "most-slack",
        Measure(LENGTH, lowest=0),
        "50 mm",
        "Length beyond its need above which a wire is called slack.",
        common_practice("more than this hangs loose, and chafes"),
        of_a_circuit=True,
    )
    parting_stroke_mm: Quantity | None = declared(
        "parting-stroke",
        Measure(LENGTH, lowest=0),
        "20 mm",
        "Slack that is needed to draw the halves of a disconnect apart.",
        common_practice("what a hand needs to draw two mated halves apart"),
    )
    # Bundles: room in coverings, bends, clips, and where splices may sit.
    covering_room: Quantity | None = declared(
        "covering-room",
        Measure(RATIO, lowest=1),
        "1.25",
        "Inside diameter of conduit, sleeve or braid over the diameter of its bundle, at least.",
        Publication("FAA AC 43.13-1B CHG 1", "11-249, conduit about 25 % larger than the bundle"),
    )
    shrink_room: Quantity | None = declared(
        "shrink-room",
        Measure(RATIO, lowest=1),
        "1.1",
        "Inside diameter of heat-shrink as supplied over the diameter of its bundle, at least.",
        common_practice("inside diameter of heat-shrink as supplied over the bundle that it goes on"),
    )
    least_fill: Quantity | None = declared(
        "least-fill",
        Measure(RATIO, lowest=0, highest=1),
        "25 %",
        "Diameter of a bundle over the inside of its covering, at least; below it the bundle lies loose.",
        common_practice("a bundle thinner than this share of its covering lies loose and chafes"),
    )
    bend_radius: Quantity | None = declared(
        "bend-radius",
        Measure(RATIO, above=0),
        "10",
        "Smallest radius of a bend in diameters of the thickest wire in it.",
        Publication("FAA AC 43.13-1B CHG 1", "11-96, 10 times the largest wire or cable"),
    )
    bend_radius_held: Quantity | None = declared(
        "bend-radius-held",
        Measure(RATIO, above=0),
        "3",
        "The same where clips or a former hold the bundle all around the bend.",
        Publication("FAA AC 43.13-1B CHG 1", "11-96, 3 times where it is supported", Standing.FROM_MEMORY),
    )
    bend_radius_shielded: Quantity | None = declared(
        "bend-radius-shielded",
        Measure(RATIO, above=0),
        "5",
        "Smallest radius of a bend in diameters of a shielded cable in it.",
        Publication("IPC/WHMA-A-620", "shielded wire and cable, class 3, 5 times its diameter"),
    )
    clip_spacing_mm: Quantity | None = declared(
        "clip-spacing",
        Measure(LENGTH, above=0),
        "24 in",
        "Largest distance between the clips that hold a stretch.",
        Publication("FAA AC 43.13-1B CHG 1", "11-96 a, supports 24 in apart (46 CFR 183.340: the same)"),
    )
    tie_spacing_mm: Quantity | None = declared(
        "tie-spacing",
        Measure(LENGTH, above=0),
        "12 in",
        "Distance between clips above which the bundle is tied between them, and between those ties.",
        Publication("FAA AC 43.13-1B CHG 1", "11-158 b, ties where supports are further than 12 in apart"),
    )
    splice_spacing_mm: Quantity | None = declared(
        "splice-spacing",
        Measure(LENGTH, lowest=0),
        "40 mm",
        "Least distance between two splices along the route, where `place` sets them.",
        common_practice("splices staggered, centre to centre, so that the bundle does not grow"),
    )
    splice_clearance_mm: Quantity | None = declared(
        "splice-clearance",
        Measure(LENGTH, lowest=0),
        "40 mm",
        "Least distance of a splice from breakouts, connectors and bends, where `place` sets it.",
        common_practice("centre of a splice to a breakout, a connector or a bend"),
    )
    # The shop: what is bought or cut on top of the bare need.
    wire_scrap: Quantity | None = declared(
        "wire-scrap",
        Measure(RATIO, lowest=0, highest=1),
        "5 %",
        "Share of wire and covering that is bought on top for scrap.",
        common_practice("share of wire and covering lost to ends of spools and cuts gone wrong"),
    )
    part_scrap: Quantity | None = declared(
        "part-scrap",
        Measure(RATIO, lowest=0, highest=1),
        "5 %",
        "Share of terminals and seals that is bought on top for scrap.",
        common_practice("share of terminals and seals lost in the work, rounded up"),
    )
    sample_crimps: Quantity | None = declared(
        "sample-crimps",
        Counted(highest=20),
        "3",
        "Sample crimps of each terminal on each wire.",
        common_practice("sample crimps of each terminal on each wire, before the first"),
    )
    sample_wire_mm: Quantity | None = declared(
        "sample-wire",
        Measure(LENGTH, above=0),
        "150 mm",
        "Wire that one sample crimp takes.",
        common_practice("wire of one sample crimp, long enough to clamp and pull"),
    )
    # The test lamp that the person at the bench holds.
    test_lamp_power_w: Quantity | None = declared(
        "test-lamp-power",
        Measure(POWER, above=0),
        "5 W",
        "Power of the filament test lamp at its own voltage.",
        common_practice("bulb of a test lamp"),
    )
    test_lamp_voltage_v: Quantity | None = declared(
        "test-lamp-voltage",
        Measure(VOLTAGE, above=0),
        "12 V",
        "Voltage that the filament test lamp is made for.",
        common_practice("bulb of a test lamp for passenger cars"),
    )
    # Words, which are no quantities.
    ampacity: str | None = chosen_word(
        "ampacity",
        METHODS,
        "How a wire's allowed current is found: heat balance, or a published table within its own domain.",
        of_a_circuit=True,
    )
    surroundings: str | None = chosen_word("surroundings", (AIR, "vacuum"), "What lies round the harness.")

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


_DECLARED = {each.name: (field_name, each) for field_name, each in keys_of(Limits).values()}
_FIELDS = {name: field_name for name, (field_name, _) in _DECLARED.items()}
DEFAULT_LIMITS: dict[str, DefaultLimit] = {
    name: each.default for name, (_, each) in _DECLARED.items() if isinstance(each, LimitKey) and each.default
}
"""What holds unless the design sets another, by key, in the order of the table."""
CHOICES = {name: each.word for name, (_, each) in _DECLARED.items() if isinstance(each, LimitKey) and each.word}
"""Limits that are a word and no quantity, with what holds where the design says nothing."""
OF_A_CIRCUIT = frozenset(
    name for name, (_, each) in _DECLARED.items() if isinstance(each, LimitKey) and each.of_a_circuit
)
"""Limits that a wire takes from its circuit before the design's; all others hold for the whole harness alone."""


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


def chosen(name: str, *tables: Limits | None) -> tuple[str, Publication]:
    """The choice `name` from the first of `tables` that makes it, else the default; and where it comes from.

    Raises:
        KeyError: there is no choice of this name.
    """
    default = CHOICES[name]
    for table in tables:
        word: str | None = getattr(table, name) if table is not None else None
        if table is not None and word is not None:
            return word, Publication(f"set in the design, {table.where(name)}")
    return default, common_practice("unless the design says otherwise")
