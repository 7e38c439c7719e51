"""Devices: what feeds, protects, switches and does the work, each with its terminals."""

from collections.abc import Mapping
from typing import ClassVar

from harnessgen.design.records.drive import PeakAndHold
from harnessgen.measures.quantity import (
    CURRENT,
    ENERGY,
    INDUCTANCE,
    LENGTH,
    MASS,
    POWER,
    RATIO,
    RESISTANCE,
    TIME,
    VOLTAGE,
    Quantity,
)
from harnessgen.parts.load import DEAD_TIME, KEEPS, LOAD_KINDS, RUN_UP, VOLTAGE_PATTERN
from harnessgen.parts.suppression import Suppression
from harnessgen.parts.volts import HIGHEST, POSITIVE, RATED, WORKS_FROM
from harnessgen.source.container import MapOf, RecordOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Choice, End, EndOf, Ref, Text
from harnessgen.source.measure_kind import Measure

ACTS_ON = ("hand", "position", "temperature", "pressure", "level", "signal")
"""What works a switch; `position` is that of a door or a lever, `signal` that of a control unit whose output it is."""
SIGNAL = "signal"
"""The third terminal that a sensor may have: what it tells the controller."""


@record
class Device(Record):
    """A device. Its wires land on it at a point of the route, or it stands behind connectors of the harness."""

    title: str = key("title", Text(), "What it is or where, in words.", default="")
    at: str = key("at", Ref("point"), "Point of the route where wires land straight on it.", default="")
    contact: str = key(
        "terminal",
        Ref("contact"),
        "Terminal crimped to each wire that lands on it.",
        default="",
        default_words="what fits the fuse form or relay family, else the title block's",
    )
    wire_end_mm: Quantity = key(
        "wire-end",
        Measure(LENGTH),
        "How far a wire that lands on it reaches beyond the point (negative: ends before it).",
        default=Quantity(0.0),
        default_words="0",
    )
    connector: str = key(
        "connector",
        Ref("connector"),
        "Connector that serves it; its terminals are the cavities of the same names.",
        default="",
    )
    terminals: Mapping[str, End] = key(
        "terminals", MapOf(EndOf("cavity"), "terminal"), "Cavity behind which each terminal stands.", factory=dict
    )

    direct: Mapping[str, str] = key(
        "direct",
        MapOf(Ref("bus bar, ground point or supply"), "terminal"),
        "Terminals that sit on a bus bar or ground point by themselves, so that no wire leads to them.",
        factory=dict,
    )

    own_terminals: ClassVar[tuple[str, ...]] = ()
    """Names of the terminals that every device of its kind has, where the part does not give them."""

    @property
    def terminal_names(self) -> tuple[str, ...]:
        """Names of its terminals; empty where its part gives them."""
        return self.own_terminals

    def cavity_of(self, terminal: str) -> End | None:
        """Cavity behind which a terminal stands; None where wires land on the terminal itself."""
        own = self.terminals.get(terminal)
        if own is None and self.connector and terminal and terminal not in self.direct:
            return End(self.connector, terminal, self.where("connector"))
        return own


@record
class Pole(Device):
    """A device of one terminal, which has no name: `from: BAT`, `to: G1`."""

    cavity: End | None = key(
        "cavity", EndOf("cavity"), "Cavity behind which it stands, where no wire lands straight on it.", default=None
    )

    own_terminals = ("",)

    def cavity_of(self, terminal: str) -> End | None:
        """Cavity behind which it stands; None where wires land on it."""
        return self.cavity


@record
class Supply(Pole):
    """A source of battery current: a voltage against ground behind an inner resistance. One terminal, not named."""

    voltage_v: Quantity = key("voltage", Measure(VOLTAGE, above=0), "Voltage without load.")
    resistance_ohm: Quantity = key(
        "resistance", Measure(RESISTANCE, lowest=0), "Inner resistance.", default=Quantity(0.0), default_words="0 ohm"
    )

    noun = "a supply"
    example = """\
supplies:
  BAT: {voltage: 13.8 V, resistance: 8 mohm, at: battery, terminal: ring-m8}
"""


@record
class Ground(Pole):
    """A ground point: the way back to the supply. One terminal, not named."""

    resistance_ohm: Quantity = key(
        "resistance",
        Measure(RESISTANCE, lowest=0),
        "Resistance from it back to the supply, through body or block.",
        default=Quantity(0.0),
        default_words="0 ohm",
    )

    noun = "a ground point"
    example = """\
grounds:
  G1: {title: engine block rear, at: block, resistance: 2 mohm}
"""


@record
class Bus(Pole):
    """A bus bar or a stud: what lands on it is joined. One terminal, not named."""

    noun = "a bus bar"
    example = """\
buses:
  B1: {title: always-on bus, at: panel, terminal: ring-m6}
"""


@record
class Fuse(Device):
    """A fuse with the terminals `in` and `out`. `from: F1` means its `out`, `to: F1` its `in`."""

    rating_a: Quantity = key("rating", Measure(CURRENT, above=0), "Rating.")
    form: str = key("form", Ref("fuse form"), "Fuse form.", default="blade-medium", default_words="blade-medium")

    noun = "a fuse"
    own_terminals = ("in", "out")
    example = """\
fuses:
  F1: {rating: 7.5 A, at: fusebox, terminal: tab-6.3}
  F2: {rating: 10 A, at: fusebox, direct: {in: B1}}     # in a box whose bus bar is B1
"""


@record
class Relay(Device):
    """A relay with the terminals of DIN 72552: `K1/85`, `K1/86`, `K1/30`, `K1/87`, `K1/87a`."""

    part: str = key("part", Ref("relay family"), "Relay family.")
    positive: str = key("positive", Choice(("85", "86")), POSITIVE, default="", default_words="the family's")
    rated_v: Quantity | None = key(
        "rated-voltage", Measure(VOLTAGE, above=0), RATED, default=None, default_words="the family's"
    )
    highest_v: Quantity | None = key(
        "highest-voltage", Measure(VOLTAGE, above=0), HIGHEST, default=None, default_words="the family's"
    )
    suppression: Suppression | None = key(
        "suppression", RecordOf(Suppression), "What sits across its coil.", default=None, default_words="the family's"
    )

    noun = "a relay"
    example = """\
relays:
  K1: {part: plug-in-make, at: fusebox, terminal: tab-6.3}
"""


@record
class Switch(Device):
    """A switch with the terminals `in` and `out`; closed in the states that list it as on."""

    resistance_ohm: Quantity = key(
        "resistance",
        Measure(RESISTANCE, above=0),
        "Resistance of the closed contact.",
        default=Quantity(0.02),
        default_words="20 mohm",
    )
    current_a: Quantity | None = key(
        "current", Measure(CURRENT, above=0), "Highest current it may switch.", default=None
    )
    acts_on: str = key(
        "acts-on",
        Choice(ACTS_ON),
        "What works it, so it is drawn; `position`: a door or lever; `signal`: a control unit, as its output.",
        default="hand",
        default_words="`hand`",
    )

    noun = "a switch"
    own_terminals = ("in", "out")
    example = """\
switches:
  SW1: {title: ignition switch, connector: C2, terminals: {in: C2/1, out: C2/2}}
"""


@record
class Driver(Device):
    """A low-side output of a controller, from its terminal `out` to its terminal `ground`; conducts where it is on."""

    resistance_ohm: Quantity = key(
        "resistance",
        Measure(RESISTANCE, above=0),
        "Resistance while on.",
        default=Quantity(0.1),
        default_words="100 mohm",
    )
    current_a: Quantity | None = key(
        "current",
        Measure(CURRENT, above=0),
        "Highest current that it may carry; RMS where `peak-current` is given too.",
        default=None,
    )
    peak_current_a: Quantity | None = key(
        "peak-current", Measure(CURRENT, above=0), "Highest peak of a pulse that it may carry.", default=None
    )
    clamp_v: Quantity | None = key(
        "clamp",
        Measure(VOLTAGE, above=0),
        "Voltage to ground at which it takes over the current of a coil that it switches off.",
        default=None,
        default_words="the limit `driver-clamp`",
    )
    clamp_energy_j: Quantity | None = key(
        "clamp-energy", Measure(ENERGY, above=0), "Highest energy that its clamp may take in a pulse.", default=None
    )
    clamp_power_w: Quantity | None = key(
        "clamp-power", Measure(POWER, above=0), "Highest power that its clamp may take on average.", default=None
    )
    drive: PeakAndHold | None = key(
        "drive", RecordOf(PeakAndHold), "Peak and hold, where it limits its current.", default=None
    )

    noun = "a low-side driver"
    own_terminals = ("out", "ground")
    example = """\
drivers:
  Q1: {title: output A, current: 8 A, terminals: {out: C1/14, ground: C1/1}}
  Q2: {title: output B, current: 2 A, peak-current: 5 A, clamp: 55 V, clamp-energy: 40 mJ, clamp-power: 2 W,
       drive: {peak: 4 A, hold: 1 A}, terminals: {out: C1/15, ground: C1/1}}
"""


@record
class Load(Device):
    """A load between the terminals `1` and `2`: a family of the library, or its own kind and resistance.

    A power or a current at a voltage gives the resistance where none is named. A sensor may have a
    third terminal, `signal`, with its resistance from `1` to `signal` and as much again from `signal` to `2`.
    """

    part: str = key("part", Ref("load family"), "Load family.", default="")
    kind: str = key(
        "kind",
        Choice(LOAD_KINDS),
        "How it is drawn and behaves.",
        default="",
        default_words="the family's, or resistor",
    )
    resistance_ohm: Quantity | None = key(
        "resistance",
        Measure(RESISTANCE, above=0),
        "Resistance while it works.",
        default=None,
        default_words="the family's",
    )
    inductance_h: Quantity | None = key(
        "inductance", Measure(INDUCTANCE, above=0), "Inductance of a coil.", default=None, default_words="the family's"
    )
    winding_g: Quantity | None = key(
        "winding",
        Measure(MASS, above=0),
        "Mass of the copper of its coil: how much it can warm in an output test.",
        default=None,
        default_words="not known",
    )
    power_w: Quantity | None = key(
        "power", Measure(POWER, above=0), "Power that it takes at `at-voltage`.", default=None
    )
    current_a: Quantity | None = key(
        "current", Measure(CURRENT, above=0), "Current that it takes at `at-voltage`.", default=None
    )
    at_voltage_v: Quantity | None = key(
        "at-voltage",
        Measure(VOLTAGE, above=0),
        "Voltage at which the power or the current is stated.",
        default=None,
        default_words="13.5 V",
    )
    keeps: str = key(
        "keeps",
        Choice(KEEPS),
        "What stays the same when its voltage changes: a converter keeps its power.",
        default="",
        default_words="the family's, or resistance",
    )
    lowest_v: Quantity | None = key(
        "lowest-voltage",
        Measure(VOLTAGE, above=0),
        "Voltage below which it no longer keeps its current or power, and takes less.",
        default=None,
    )
    stall_ohm: Quantity | None = key(
        "stall",
        Measure(RESISTANCE, above=0),
        "Resistance of a motor that is held.",
        default=None,
        default_words="the family's, or by the limit `motor-stall`",
    )
    run_up_s: Quantity | None = key(
        "run-up",
        Measure(TIME, above=0),
        RUN_UP,
        default=None,
        default_words="the family's, or the limit `motor-run-up`",
    )
    cold_ohm: Quantity | None = key(
        "cold",
        Measure(RESISTANCE, above=0),
        "Resistance of a lamp at the moment when it is switched on.",
        default=None,
        default_words="the family's, or by the limit `lamp-inrush`",
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
    positive: str = key("positive", Choice(("1", "2")), POSITIVE, default="", default_words="the family's")
    rated_v: Quantity | None = key(
        "rated-voltage", Measure(VOLTAGE, above=0), RATED, default=None, default_words="the family's, or at-voltage"
    )
    highest_v: Quantity | None = key(
        "highest-voltage",
        Measure(VOLTAGE, above=0),
        HIGHEST,
        default=None,
        default_words="the family's, or one and a half times the rated voltage",
    )
    works_from_v: Quantity | None = key(
        "works-from", Measure(VOLTAGE, above=0), WORKS_FROM, default=None, default_words="the family's"
    )
    suppression: Suppression | None = key(
        "suppression", RecordOf(Suppression), "What sits across its coil.", default=None, default_words="the family's"
    )

    noun = "a load"
    own_terminals = ("1", "2")
    example = """\
loads:
  M1: {title: left fan, kind: motor, power: 220 W, at-voltage: 13 V, connector: C5}
  DRL: {title: daytime lamp with LEDs, kind: lamp, current: 0.4 A, keeps: current, lowest-voltage: 8 V, positive: 1,
        rated-voltage: 12 V, highest-voltage: 16 V, works-from: 9 V, connector: C6}
  TPS: {title: throttle sensor, kind: sensor, resistance: 2.5 kohm, terminals: {1: C31/1, 2: C31/2, signal: C31/3}}
"""

    @property
    def terminal_names(self) -> tuple[str, ...]:
        """Names of its terminals, with a sensor's third where it has one."""
        return (*self.own_terminals, SIGNAL) if SIGNAL in self.terminals else self.own_terminals


@record
class Shield(Pole):
    """Where the shield of a cable is cut back and hangs free: nothing is crimped to it, and it leads nowhere.

    It is made from a cable's `shield`; a file does not write it.
    """

    noun = "a cable's shield"
