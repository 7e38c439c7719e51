"""What the vehicle has already: fuses, relays, connectors and circuits of its own, and the taps that we put on them."""

from collections.abc import Mapping

from harnessgen.design.records.connector import Connector, Splice
from harnessgen.design.records.device import Fuse, Relay
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.quantity import CURRENT, LENGTH, Quantity
from harnessgen.source.container import ListOf, MapOf, RecordOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import End, EndOf, Name, Ref
from harnessgen.source.measure_kind import Measure, Size

CARRIES = "Current that it carries already, to what is not in this design."


@record
class VehicleFuse(Fuse):
    """A fuse of the vehicle. What it carries already adds to what the harness takes through it."""

    carries_a: Quantity | None = key(
        "carries",
        Measure(CURRENT, lowest=0),
        CARRIES,
        default=None,
        default_words="what the vehicle's circuits at its `in`, or else at its `out`, carry together",
    )

    noun = "a fuse of the vehicle"
    example = """\
vehicle:
  fuses: {VF7: {title: ignition feed, rating: 20 A}}
"""


@record
class VehicleConnector(Connector):
    """A connector of the vehicle: our contacts go into its free cavities. It is not bought, nor are its plugs."""

    occupied: tuple[str, ...] = key(
        "occupied",
        ListOf(Name("cavity")),
        "Cavities that hold a wire of the vehicle, beside those in which a circuit under `vehicle` ends.",
        default=(),
    )

    noun = "a connector of the vehicle"
    example = """\
vehicle:
  connectors: {C1: {part: header-26, at: ecu, mate: engine controller, occupied: [3, 4, 7]}}
"""


@record
class VehicleCircuit(Record):
    """A wire of the vehicle from one end to another: solved and tested with the harness, never cut, bought or laid.

    Its crimps and terminals are part of what the vehicle's wire is taken to be: they add no resistance.
    """

    from_: End = key("from", EndOf(), "End that it starts at.")
    to: End = key("to", EndOf(), "End that it goes to.")
    size: ConductorSize = key("size", Size(), "Size, as measured on it or by the vehicle's diagram.")
    length_mm: Quantity = key("length", Measure(LENGTH, above=0), "Length, as measured or estimated in the vehicle.")
    wire: str = key(
        "wire",
        Ref("wire family"),
        "Wire family nearest to it.",
        default="",
        default_words="the first of the title block's that has its size",
    )
    zone: str = key("zone", Ref("zone"), "Zone that it lies in.", default="", default_words="none: the limit `ambient`")
    carries_a: Quantity | None = key(
        "carries",
        Measure(CURRENT, lowest=0),
        CARRIES,
        default=None,
        default_words="not known, and what it may carry is not examined",
    )

    noun = "a circuit of the vehicle"
    example = """\
vehicle:
  circuits:
    V7: {from: BAT, to: VF7, size: 2.5 mm2, length: 1200 mm, zone: cabin, carries: 6 A}
"""


@record
class Tap(Splice):
    """A joint of ours on a wire of the vehicle: bought, drawn and tested like any splice, and it stays in its place."""

    onto: str = key("onto", Ref("circuit of the vehicle"), "Circuit of the vehicle that it sits on.")
    after_mm: Quantity = key(
        "after", Measure(LENGTH, lowest=0), "Length of that wire before the joint, from its `from` end."
    )

    noun = "a tap"
    shorthand = ""
    example = """\
vehicle:
  taps: {S9: {onto: V7, after: 400 mm, at: dash}}
"""


@record
class Vehicle(Record):
    """What is there already and takes part: given, solved and tested, never cut, bought or drawn as ours.

    Supplies, grounds, switches, drivers and loads are never bought; they stand outside, whoever made them.
    """

    fuses: Mapping[str, VehicleFuse] = key(
        "fuses", MapOf(RecordOf(VehicleFuse), "fuse"), "Fuses of the vehicle.", factory=dict
    )
    relays: Mapping[str, Relay] = key("relays", MapOf(RecordOf(Relay), "relay"), "Relays of the vehicle.", factory=dict)
    circuits: Mapping[str, VehicleCircuit] = key(
        "circuits", MapOf(RecordOf(VehicleCircuit), "circuit of the vehicle"), "Wires of the vehicle.", factory=dict
    )
    connectors: Mapping[str, VehicleConnector] = key(
        "connectors",
        MapOf(RecordOf(VehicleConnector), "connector"),
        "Connectors of the vehicle that wires of ours go into too.",
        factory=dict,
    )
    taps: Mapping[str, Tap] = key("taps", MapOf(RecordOf(Tap), "tap"), "Joints of ours on its wires.", factory=dict)

    noun = "what the vehicle has"
    example = """\
vehicle:
  fuses: {VF7: {rating: 20 A}}
  circuits: {V7: {from: VF7, to: C8/2, size: 2.5 mm2, length: 1200 mm, zone: cabin, carries: 6 A}}
  connectors: {C1: {part: header-26, at: ecu, occupied: [3, 4, 7]}}
  taps: {S9: {onto: V7, after: 400 mm, at: dash}}
"""
