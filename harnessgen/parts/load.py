"""Generic loads: what the current does its work in."""

from collections.abc import Mapping

from harnessgen.measures.quantity import INDUCTANCE, RATIO, RESISTANCE, TEMPERATURE, TIME, VOLTAGE, Quantity
from harnessgen.parts.part import Part
from harnessgen.parts.suppression import Suppression
from harnessgen.parts.volts import HIGHEST, POSITIVE, RATED, WORKS_FROM
from harnessgen.source.container import MapOf, RecordOf
from harnessgen.source.key import key, record
from harnessgen.source.kind import Choice, Text
from harnessgen.source.measure_kind import Measure

LOAD_KINDS = ("resistor", "coil", "motor", "lamp", "sensor")

KEEPS = ("resistance", "current", "power")
"""What of a load stays the same when its voltage changes."""

VOLTAGE_PATTERN = r"[0-9]{1,6}(\.[0-9]{1,6})?"
DEAD_TIME = "Time that an injector takes to open less the time that it takes to close, by the voltage across it in V."

RUN_UP = (
    "Time in which what a motor takes at rest beyond its running current falls to a third; a large fan needs longer."
)


@record
class LoadPart(Part):
    """A load family, between two terminals called 1 and 2; a sensor may have a third, called signal."""

    title: str = key("title", Text(), "What it is, in words.")
    kind: str = key("kind", Choice(LOAD_KINDS), "How it is drawn and how it behaves.")
    resistance_ohm: Quantity = key(
        "resistance",
        Measure(RESISTANCE, above=0),
        "Resistance while it works, at 20 degC where it is a coil; of a sensor with a signal, on each side of that.",
    )
    inductance_h: Quantity | None = key(
        "inductance", Measure(INDUCTANCE, above=0), "Inductance of a coil.", default=None
    )
    stall_ohm: Quantity | None = key(
        "stall", Measure(RESISTANCE, above=0), "Resistance of a motor that is held.", default=None
    )
    run_up_s: Quantity | None = key("run-up", Measure(TIME, above=0), RUN_UP, default=None)
    cold_ohm: Quantity | None = key(
        "cold", Measure(RESISTANCE, above=0), "Resistance of a lamp at the moment when it is switched on.", default=None
    )
    rating_degc: Quantity | None = key("rating", Measure(TEMPERATURE), "Highest temperature.", default=None)
    keeps: str = key(
        "keeps",
        Choice(KEEPS),
        "What stays the same when its voltage changes, from 13.5 V on: a converter keeps its power.",
        default="resistance",
        default_words="resistance",
    )
    lowest_v: Quantity | None = key(
        "lowest-voltage",
        Measure(VOLTAGE, above=0),
        "Voltage below which it no longer keeps its current or power, and takes less.",
        default=None,
    )
    dead_time_s: Mapping[str, Quantity] = key(
        "dead-time", MapOf(Measure(TIME, above=0), "voltage in V", VOLTAGE_PATTERN), DEAD_TIME, factory=dict
    )
    flow_match: Quantity | None = key(
        "flow-match",
        Measure(RATIO, above=0, highest=1),
        "How far the flow of an injector may lie from that of its set, either way.",
        default=None,
    )
    positive: str = key("positive", Choice(("1", "2")), POSITIVE, default="", default_words="either")
    rated_v: Quantity | None = key(
        "rated-voltage", Measure(VOLTAGE, above=0), RATED, default=None, default_words="not known"
    )
    highest_v: Quantity | None = key(
        "highest-voltage",
        Measure(VOLTAGE, above=0),
        HIGHEST,
        default=None,
        default_words="one and a half times the rated voltage",
    )
    works_from_v: Quantity | None = key(
        "works-from", Measure(VOLTAGE, above=0), WORKS_FROM, default=None, default_words="not known"
    )
    suppression: Suppression | None = key(
        "suppression", RecordOf(Suppression), "What sits across the coil.", default=None, default_words="not known"
    )

    noun = "a load family"
    example = """\
parts:
  loads:
    solenoid-8: {title: purge solenoid, kind: coil, resistance: 8 ohm +/- 5 %, inductance: 20 mH, suppression: diode}
    injector-13:
      title: injector with its own figures
      kind: coil
      resistance: 13.8 ohm
      inductance: 12 mH
      dead-time: {8: 2.9 ms, 10: 1.9 ms, 12: 1.35 ms, 14: 1.05 ms, 16: 0.85 ms}
      flow-match: 2 %
"""
