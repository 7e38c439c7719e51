"""The whole of what the builder wrote."""

from collections.abc import Mapping
from dataclasses import field

from harnessgen.design.limits.table import Limits
from harnessgen.design.records.bank import Bank
from harnessgen.design.records.cable import Cable
from harnessgen.design.records.circuit import Circuit, WireOwnSize
from harnessgen.design.records.connector import Connector, Disconnect, Splice
from harnessgen.design.records.device import Bus, Device, Driver, Fuse, Ground, Load, Relay, Supply, Switch
from harnessgen.design.records.fault_sizes import FaultSizes
from harnessgen.design.records.route import Point, Stretch
from harnessgen.design.records.shared import SharedFeed, SharedReturn
from harnessgen.design.records.state import ASSUMED_STATE, Acceptance, State
from harnessgen.design.records.stock import StockPiece
from harnessgen.design.records.title import Section, Title, Units, Zone
from harnessgen.design.records.vehicle import Vehicle
from harnessgen.parts.library import Parts
from harnessgen.source.container import ListOf, MapOf, RecordOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Choice, End, EndOf, Text

_MOST_LETTERS_OF_A_PATH = 1000


@record
class Design(Record):
    """A design file. Several files make one design: a file includes others, and their maps are joined."""

    format: str = key("format", Choice(("2",)), "Version of the format; it stands in every file.")
    include: tuple[str, ...] = key(
        "include",
        ListOf(Text(_MOST_LETTERS_OF_A_PATH)),
        "Further files of the design, by path from this one.",
        default=(),
    )
    units: Units = key("units", RecordOf(Units), "Units of bare numbers in this file.", factory=Units)
    harness: Title | None = key("harness", RecordOf(Title), "Title block; one file of the design has it.", default=None)
    zones: Mapping[str, Zone] = key("zones", MapOf(RecordOf(Zone), "zone"), "Zones by name.", factory=dict)
    route: Mapping[str, Mapping[str, Stretch]] = key(
        "route",
        MapOf(MapOf(RecordOf(Stretch), "point"), "point"),
        "The route: from each point the points that follow.",
        factory=dict,
    )
    points: Mapping[str, Point] = key(
        "points",
        MapOf(RecordOf(Point), "point"),
        "Coordinates of points of the route.",
        factory=dict,
    )
    sections: Mapping[str, Section] = key(
        "sections", MapOf(RecordOf(Section), "section"), "Sections by letter.", factory=dict
    )
    connectors: Mapping[str, Connector] = key(
        "connectors", MapOf(RecordOf(Connector), "connector"), "Connectors by designator.", factory=dict
    )
    disconnects: Mapping[str, Disconnect] = key(
        "disconnects", MapOf(RecordOf(Disconnect), "disconnect"), "Disconnects by designator.", factory=dict
    )
    splices: Mapping[str, Splice] = key(
        "splices", MapOf(RecordOf(Splice), "splice"), "Splices by designator.", factory=dict
    )
    supplies: Mapping[str, Supply] = key("supplies", MapOf(RecordOf(Supply), "supply"), "Supplies.", factory=dict)
    grounds: Mapping[str, Ground] = key(
        "grounds", MapOf(RecordOf(Ground), "ground point"), "Ground points.", factory=dict
    )
    buses: Mapping[str, Bus] = key("buses", MapOf(RecordOf(Bus), "bus bar"), "Bus bars and studs.", factory=dict)
    fuses: Mapping[str, Fuse] = key("fuses", MapOf(RecordOf(Fuse), "fuse"), "Fuses.", factory=dict)
    relays: Mapping[str, Relay] = key("relays", MapOf(RecordOf(Relay), "relay"), "Relays.", factory=dict)
    switches: Mapping[str, Switch] = key("switches", MapOf(RecordOf(Switch), "switch"), "Switches.", factory=dict)
    drivers: Mapping[str, Driver] = key("drivers", MapOf(RecordOf(Driver), "driver"), "Low-side drivers.", factory=dict)
    loads: Mapping[str, Load] = key(
        "loads", MapOf(RecordOf(Load), "load"), "Loads that are not in a bank.", factory=dict
    )
    circuits: Mapping[str, Circuit] = key(
        "circuits", MapOf(RecordOf(Circuit), "circuit number"), "Circuits by number.", factory=dict
    )
    cables: Mapping[str, Cable] = key("cables", MapOf(RecordOf(Cable), "cable"), "Cables by designator.", factory=dict)
    feeds: Mapping[str, SharedFeed] = key(
        "feeds", MapOf(RecordOf(SharedFeed), "feed"), "Feeds that banks share, by name.", factory=dict
    )
    returns: Mapping[str, SharedReturn] = key(
        "returns", MapOf(RecordOf(SharedReturn), "return"), "Returns that banks share, by name.", factory=dict
    )
    banks: Mapping[str, Bank] = key("banks", MapOf(RecordOf(Bank), "bank"), "Banks by name.", factory=dict)
    vehicle: Vehicle = key(
        "vehicle", RecordOf(Vehicle), "What the vehicle has already, and the taps on it.", factory=Vehicle
    )
    marks: Mapping[str, tuple[End, ...]] = key(
        "marks",
        MapOf(ListOf(EndOf()), "wire mark"),
        "Wire marks that are fixed, with the two ends of the wire: a printed mark never moves to another wire.",
        factory=dict,
    )
    sizes: Mapping[str, WireOwnSize] = key(
        "sizes",
        MapOf(RecordOf(WireOwnSize), "wire mark"),
        "Sizes of single wires, by mark, in place of what their circuit or bank says.",
        factory=dict,
    )
    states: Mapping[str, State] = key("states", MapOf(RecordOf(State), "state"), "Operating states.", factory=dict)
    fault_sizes: FaultSizes = key(
        "fault-sizes",
        RecordOf(FaultSizes),
        "How large the faults are taken to be that the test procedure is held against.",
        factory=FaultSizes,
    )
    limits: Limits = key("limits", RecordOf(Limits), "Limits in place of the defaults.", factory=Limits)
    accept: tuple[Acceptance, ...] = key(
        "accept", ListOf(RecordOf(Acceptance)), "Findings that are accepted.", default=()
    )
    stock: Mapping[str, StockPiece] = key(
        "stock", MapOf(RecordOf(StockPiece), "stock label"), "Wire on the shelf, by its label.", factory=dict
    )
    parts: Parts = key("parts", RecordOf(Parts), "Parts of the design's own.", factory=Parts)

    # Asked for once a wire: gathered on first use. A changed copy of the design starts afresh.
    devices_by_name: dict[str, Device] = field(default_factory=dict, init=False)
    points_before: dict[str, list[str]] = field(default_factory=dict, init=False)

    noun = "a design"
    example = """\
format: 2
harness: {title: Horn harness, number: HN-1, revision: A}
route: {battery: {horn: 900 mm}}
supplies: {BAT: {voltage: 13.5 V, resistance: 20 mohm, at: battery}}
"""

    @property
    def shared(self) -> tuple[SharedFeed | SharedReturn, ...]:
        """All feeds and returns that banks share."""
        return (*self.feeds.values(), *self.returns.values())

    def before(self, point: str) -> list[str]:
        """Points of the route from which a stretch leads to `point`: one, unless the route is faulty."""
        if not self.points_before:
            for start, stretches in self.route.items():
                for end in stretches:
                    self.points_before.setdefault(end, []).append(start)
        return self.points_before.get(point, [])

    @property
    def declares_states(self) -> bool:
        """False where the one state that is examined was assumed, or there is none yet."""
        return any(name != ASSUMED_STATE or state.place.file for name, state in self.states.items())

    @property
    def devices(self) -> Mapping[str, Device]:
        """All devices by designator: poles first, then fuses to loads, and the free ends of shields."""
        known = self.devices_by_name
        if known:
            return known
        free_ends = {name: end for name, cable in self.cables.items() if (end := cable.free_end) is not None}
        poles = (self.supplies, self.grounds, self.buses)
        kinds = (*poles, self.fuses, self.relays, self.switches, self.drivers, self.loads, free_ends)
        known.update((name, device) for devices in kinds for name, device in devices.items())
        return known
