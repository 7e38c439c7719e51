"""Devices: what feeds, protects, switches and does the work, each with its terminals."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from harnessgen.measures.quantity import CURRENT, INDUCTANCE, LENGTH, POWER, RESISTANCE, VOLTAGE, Quantity
from harnessgen.parts.load import LOAD_KINDS
from harnessgen.source.container import MapOf
from harnessgen.source.key import Record, key
from harnessgen.source.kind import Choice, End, EndOf, Measure, Ref, Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Device(Record):
    """A device. Its wires land on it at a point of the route, or it stands behind connectors of the harness."""

    title: str = key("title", Text(), "What it is or where, in words.", default="")
    at: str = key("at", Ref("point"), "Point of the route where wires land straight on it.", default="")
    contact: str = key(
        "terminal",
        Ref("contact"),
        "Terminal crimped to each wire that lands on it.",
        default="",
        default_words="the title block's",
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
        "terminals", MapOf(EndOf("cavity"), "terminal"), "Cavity behind which each terminal stands.", empty=dict
    )

    terminal_names: ClassVar[tuple[str, ...]] = ()
    """Names of its terminals, where the part does not give them."""

    def cavity_of(self, terminal: str) -> End | None:
        """Cavity behind which a terminal stands; None where wires land on the terminal itself."""
        own = self.terminals.get(terminal)
        if own is None and self.connector and terminal:
            return End(self.connector, terminal, self.where("connector"))
        return own


@dataclass(frozen=True, slots=True, kw_only=True)
class Pole(Device):
    """A device of one terminal, which has no name: `from: BAT`, `to: G1`."""

    cavity: End | None = key(
        "cavity", EndOf("cavity"), "Cavity behind which it stands, where no wire lands straight on it.", default=None
    )

    terminal_names = ("",)

    def cavity_of(self, terminal: str) -> End | None:
        """Cavity behind which it stands; None where wires land on it."""
        return self.cavity


@dataclass(frozen=True, slots=True, kw_only=True)
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


@dataclass(frozen=True, slots=True, kw_only=True)
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Fuse(Device):
    """A fuse with the terminals `in` and `out`. `from: F1` means its `out`, `to: F1` its `in`."""

    rating_a: Quantity = key("rating", Measure(CURRENT, above=0), "Rating.")
    form: str = key("form", Ref("fuse form"), "Fuse form.", default="blade-medium", default_words="blade-medium")

    noun = "a fuse"
    terminal_names = ("in", "out")
    example = """\
fuses:
  F1: {rating: 7.5 A, at: fusebox, terminal: tab-6.3}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Relay(Device):
    """A relay with the terminals of DIN 72552: `K1/85`, `K1/86`, `K1/30`, `K1/87`, `K1/87a`."""

    part: str = key("part", Ref("relay family"), "Relay family.")

    noun = "a relay"
    example = """\
relays:
  K1: {part: plug-in-make, at: fusebox, terminal: tab-6.3}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
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

    noun = "a switch"
    terminal_names = ("in", "out")
    example = """\
switches:
  SW1: {title: ignition switch, connector: C2, terminals: {in: C2/1, out: C2/2}}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
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
        "current", Measure(CURRENT, above=0), "Highest current that it may carry.", default=None
    )

    noun = "a low-side driver"
    terminal_names = ("out", "ground")
    example = """\
drivers:
  Q1: {title: output A, current: 8 A, terminals: {out: C1/14, ground: C1/1}}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Load(Device):
    """A load between the terminals `1` and `2`: a family of the library, or its own kind and resistance.

    A power at a voltage gives the resistance where neither a family nor a resistance is named.
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
    power_w: Quantity | None = key(
        "power", Measure(POWER, above=0), "Power that it takes at `at-voltage`.", default=None
    )
    at_voltage_v: Quantity | None = key(
        "at-voltage",
        Measure(VOLTAGE, above=0),
        "Voltage at which the power is stated.",
        default=None,
        default_words="13.5 V",
    )

    noun = "a load"
    terminal_names = ("1", "2")
    example = """\
loads:
  M1: {title: left fan, kind: motor, power: 220 W, at-voltage: 13 V, connector: C5}
"""
