"""Operating states, and findings that the builder accepts."""

from collections.abc import Iterable, Mapping

from harnessgen.design.records.keyed import MapByName
from harnessgen.measures.quantity import RATIO, SPEED, TIME, VOLTAGE, Quantity
from harnessgen.source.container import ListOf, RecordOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Choice, Count, Name, Ref, Text
from harnessgen.source.measure_kind import Measure

CONDITIONS = ("cranking", "normal", "high")
"""Conditions of a supply; the limits `supply-cranking`, `supply-normal` and `supply-high` give their voltages."""

TURNS_PER_CYCLE = 2
"""Turns of the crankshaft in one cycle of a four-stroke engine."""


MOMENT_S = 60.0
"""A state that lasts less is no steady load of a wire, a contact or a fuse (common practice, no source)."""


@record
class Pulse(Record):
    """How an output is pulsed: a share of the time, or a width; over a period, or by the engine speed of the state."""

    duty: Quantity | None = key(
        "duty", Measure(RATIO, above=0, highest=1), "Share of the period in which it is on.", default=None
    )
    width_s: Quantity | None = key("width", Measure(TIME, above=0), "Time for which it is on.", default=None)
    period_s: Quantity | None = key(
        "period",
        Measure(TIME, above=0),
        "Time from one switching on to the next.",
        default=None,
        default_words="from the speed of the state",
    )
    per_cycle: int = key(
        "per-cycle",
        Count(1, 100),
        "Pulses in an engine cycle of two turns, where the speed gives the period.",
        default=1,
        default_words="1",
    )
    delay: Quantity = key(
        "delay",
        Measure(RATIO, lowest=0, highest=1),
        "Share of the period by which it comes later than outputs without delay.",
        default=Quantity(0.0),
        default_words="0, all outputs together",
    )

    noun = "a pulse"
    shorthand = "duty"
    example = """\
states:
  boost: {on: [SW1, Q1, Q2], speed: 6500 rpm, pulse: {Q1: {width: 12 ms}, Q2: {width: 12 ms, delay: 50 %}}}
  idle: {on: [SW1, Q3], pulse: {Q3: {duty: 30 %, period: 10 ms}}}
"""


@record
class State(Record):
    """What is on in one way of running the vehicle. Relays follow from what their coils get.

    Without more, the supplies have the voltages that they state, for ever, and outputs that are on stay on.
    """

    on: tuple[str, ...] = key("on", ListOf(Ref("switch or driver")), "Switches and drivers that are on.", default=())
    off: tuple[str, ...] = key("off", ListOf(Ref("load")), "Loads that have to be without current.", default=())
    works: tuple[str, ...] = key(
        "works",
        ListOf(Ref("load")),
        "Loads that have to work: with at least the limit `works-share` of their rated current, and enough volts.",
        default=(),
    )
    after: str = key(
        "after",
        Ref("state"),
        "State that it follows: it begins with the relays as they stand there, so that one that holds itself stays.",
        default="",
        default_words="every relay begins unpulled",
    )
    parked: str = key(
        "parked",
        Choice(("no", "yes")),
        "`yes` where the vehicle stands parked: then no relay's coil may draw current.",
        default="no",
        default_words="`no`",
    )
    title: str = key("title", Text(), "What happens in it, in words.", default="")
    lasts_s: Quantity | None = key(
        "lasts", Measure(TIME, above=0), "How long it lasts.", default=None, default_words="for ever"
    )
    supply: str = key(
        "supply",
        Choice(CONDITIONS),
        "Condition of the supplies, with the range of voltages of the limits (`supply-cranking`, ...).",
        default="",
        default_words="the voltages that the supplies state",
    )
    voltage_v: Mapping[str, Quantity] = key(
        "voltage",
        MapByName(Measure(VOLTAGE, above=0), "supply"),
        "Voltage of a supply in this state, with its range.",
        factory=dict,
    )
    speed_rpm: Quantity | None = key("speed", Measure(SPEED, above=0), "Engine speed.", default=None)
    pulse: Mapping[str, Pulse] = key(
        "pulse",
        MapByName(RecordOf(Pulse), "driver"),
        "Drivers that are pulsed while they are on.",
        factory=dict,
    )
    stalled: tuple[str, ...] = key(
        "stalled", ListOf(Ref("load")), "Motors that stand still though they are fed.", default=()
    )
    cold: tuple[str, ...] = key("cold", ListOf(Ref("load")), "Lamps whose filament is still cold.", default=())

    noun = "a state"
    shorthand = "on"
    example = """\
states:
  parked: {parked: yes, after: boost, off: [ECU, INJ1, INJ2]}
  key-on: {on: [SW1], works: ECU, off: [INJ1, INJ2]}
  boost: {on: [SW1, Q1, Q2], works: [ECU, INJ1, INJ2], title: full boost, speed: 6500 rpm,
          pulse: {Q1: 85 %, Q2: 85 %}, supply: normal}
  start: {on: [SW1, SW2], supply: cranking, lasts: 10 s}
  blocked: {on: [SW1], stalled: M1, lasts: 5 s, voltage: {BAT: 14.4 V +/- 0.3}}
"""

    @property
    def is_parked(self) -> bool:
        """True where the vehicle stands parked in it."""
        return self.parked == "yes"

    @property
    def is_momentary(self) -> bool:
        """True for what passes before heat counts: a held motor, a cold lamp, or a state shorter than a minute."""
        is_short = self.lasts_s is not None and self.lasts_s.value < MOMENT_S
        return bool(self.stalled or self.cold) or is_short

    def period_s_of(self, driver: str) -> float | None:
        """Time from one pulse of a driver to the next, in s; None where neither a period nor a speed gives it."""
        pulse = self.pulse[driver]
        if pulse.period_s is not None:
            return pulse.period_s.value
        if self.speed_rpm is None:
            return None
        return 60.0 * TURNS_PER_CYCLE / self.speed_rpm.value / pulse.per_cycle


ASSUMED_STATE = "everything-on"
"""Name of the one state that is examined where the design declares none."""


def assumed_state(on: Iterable[str]) -> State:
    """The state that is examined where the design declares none: all switches and outputs of `on` are on."""
    return State(name=ASSUMED_STATE, on=tuple(on), title="every switch and output on (no states are declared)")


@record
class Acceptance(Record):
    """A finding that the builder knows of and accepts; the reason is printed in the documents."""

    rule: str = key("rule", Name("rule"), "Rule of the finding.")
    subject: str = key("subject", Text(), "What the finding is about, as it names it (21C, C10/2, F1).")
    reason: str = key("reason", Text(1000), "Why it is right as it is.")
    state: str = key(
        "state",
        Text(),
        "State that decides the finding, or `any`. Without it no finding is accepted that a state decides.",
        default="",
    )
    wire: str = key(
        "wire",
        Text(),
        "Wire at which the thing fails (the wire that a fuse does not protect), or `any`.",
        default="",
    )
    up_to: str = key(
        "up-to",
        Text(),
        "Figure up to which it is accepted (down to which, where it has to be at least its limit), with its unit. What"
        " is worse is reported again. Needed where a figure decides; a drop may be given in % of the supply.",
        default="",
    )
    limit: str = key(
        "limit",
        Text(),
        "Limit that the figure is held against today, with its unit. A stricter one is reported again. Needed where a"
        " wire, a part or a length of the design sets the limit.",
        default="",
    )

    noun = "an acceptance"
    example = """\
accept:
  - {rule: orphan-cavity, subject: C10/4, reason: spare wire for a later sensor}
  - {rule: excess-drop, subject: INJ3, state: boost, up-to: 7.4 %, reason: measured on the bench}
  - {rule: fuse-too-large, subject: F1, wire: 21C, up-to: 15 A, limit: 11.2 A, reason: leg of 80 mm in the box}
"""
