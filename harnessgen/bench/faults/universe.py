"""Every fault of a harness that its network and its geometry can have, class by class, and what was left out."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain, combinations, product
from math import ceil, inf

from harnessgen.bench.faults.adjacent_nets import side_by_side
from harnessgen.bench.faults.consequence import Consequences
from harnessgen.bench.faults.fault import (
    METAL,
    Consequence,
    Exchanged,
    FaultKind,
    Gone,
    HarnessFault,
    Meets,
    Series,
    Shorted,
    Spot,
    Stuck,
    Swapped,
    Thinner,
)
from harnessgen.bench.setup.connector_half import Half, seal_in
from harnessgen.bench.setup.installed import Fitted
from harnessgen.design.records.device import Load, Relay
from harnessgen.design.records.fault_sizes import FaultSizes
from harnessgen.measures.designator import natural_key
from harnessgen.network.network import Network
from harnessgen.network.route import Leg, Mating, Route
from harnessgen.network.wires import EndKind, Wire
from harnessgen.parts.suppression import Suppression


@dataclass(frozen=True, slots=True)
class Universe:
    """All faults that are simulated, in the order of their classes, and what is left out with the reason."""

    faults: tuple[HarnessFault, ...]
    left_out: tuple[str, ...]

    @property
    def counts(self) -> Mapping[FaultKind, int]:
        """Number of faults of each class."""
        return Counter(fault.kind for fault in self.faults)


def universe_of(fitted: Fitted) -> Universe:
    """The faults of a whole harness; those of its wires and connectors say which section they are in."""
    maker = _FaultMaker(fitted)
    return Universe(tuple(maker.faults()), tuple(maker.left_out()))


@dataclass(frozen=True)
class _FaultMaker:
    fitted: Fitted

    @cached_property
    def network(self) -> Network:
        return self.fitted.network

    @cached_property
    def sizes(self) -> FaultSizes:
        return self.network.design.fault_sizes

    @cached_property
    def weigh(self) -> Consequences:
        return Consequences(self.fitted)

    def faults(self) -> Iterator[HarnessFault]:
        for wire in self.network.wires:
            yield from self._wire(wire)
        for wire in self.network.wires:
            yield from self._chafed(wire)
        yield from self._bridged_nets()
        for name, half in self.fitted.halves.items():
            yield from self._connector(name, half)
        yield from self._exchanged()
        yield from self._devices()
        yield from seen_faults(self.fitted, self.weigh)

    def left_out(self) -> Iterator[str]:
        yield (
            "A contact that comes and goes counts as shown by the steps in which its wire is bent while current flows;"
            " a bend that misses the spot shows nothing. A wire that comes and goes between its ends is not counted."
        )
        yield "Two faults at once, and faults inside a load, a controller or a relay."
        yield "Insulation that is weak but not through: a meter on ohms does not see it."
        if self._alike:
            yield (
                "Harmless exchanges, since both connectors lie on the same two nets: "
                + ", ".join(f"{one} with {other}" for one, other in self._alike)
            )

    def _wire(self, wire: Wire) -> Iterator[HarnessFault]:
        weigh, section = self.weigh, wire.section
        opened = weigh.opened(wire)
        yield HarnessFault(
            FaultKind.WIRE_OPEN, f"{wire.mark} broken", wire.mark, Series(Spot(wire.mark), inf), opened, section
        )
        for end, place in enumerate(wire.ends):
            spot = Spot(wire.mark, end)
            is_splice = place.kind is EndKind.SPLICE
            kind = FaultKind.SPLICE_LEG_OPEN if is_splice else FaultKind.TERMINAL_OPEN
            words = f"{wire.mark} not in splice {place}" if is_splice else f"{wire.mark} without contact at {place}"
            yield HarnessFault(kind, words, wire.mark, Series(spot, inf), opened, section, place.designator)
            words = f"{wire.mark} at {place}: contact that comes and goes"
            yield HarnessFault(FaultKind.COMES_AND_GOES, words, wire.mark, Series(spot, inf), opened, section)
            for ohm in (each.value for each in self.sizes.joints_ohm):
                name = f"{wire.mark} at {place}: joint of {ohm:g} ohm"
                yield HarnessFault(
                    FaultKind.POOR_JOINT, name, wire.mark, Series(spot, ohm), weigh.poor_joint(wire, ohm), section
                )
        yield from self._thinner(wire)

    def _thinner(self, wire: Wire) -> Iterator[HarnessFault]:
        """The next smaller size of its family, where there is one."""
        area_mm2 = wire.figures.area_mm2.value
        smaller = [
            (size.area_mm2.value, label, size.resistance_ohm_per_m.value)
            for label, size in wire.family.sizes.items()
            if size.area_mm2.value < area_mm2
        ]
        if smaller:
            _, label, ohm_per_m = max(smaller)
            change = Thinner(wire.mark, ohm_per_m / wire.figures.resistance_ohm_per_m.value)
            name = f"{wire.mark} of size {label} in place of {wire.size}"
            grave = self.weigh.too_thin(wire)
            yield HarnessFault(
                FaultKind.SIZE_WRONG, name, wire.mark, change, grave, wire.section, wire.a.designator, True
            )

    def _chafed(self, wire: Wire) -> Iterator[HarnessFault]:
        """To metal in each stretch that it lies in; the end nearer to that stretch stands for the place."""
        grave = self.weigh.chafed(wire)
        whole_mm = sum(leg.length_mm for leg in wire.way)
        before_mm = 0.0
        for leg in wire.way:
            spot = Spot(wire.mark, int(before_mm + leg.length_mm / 2 > whole_mm / 2))
            before_mm += leg.length_mm
            for ohm in (each.value for each in self.sizes.chafes_ohm):
                name = f"{wire.mark} chafed to ground between {leg.from_point} and {leg.to_point}, {ohm:g} ohm"
                change = Meets(spot, METAL, ohm)
                yield HarnessFault(FaultKind.CHAFED_TO_GROUND, name, wire.mark, change, grave, wire.section)

    def _bridged_nets(self) -> Iterator[HarnessFault]:
        """Every two nets that lie side by side in a stretch, told by the first one that they share."""
        for pair in side_by_side(self.network):
            marks = f"{pair.one.mark} and {pair.other.mark}"
            more = f", or in {pair.others} more stretch{'es' if pair.others > 1 else ''}" if pair.others else ""
            name = f"{marks} chafed together between {pair.leg.from_point} and {pair.leg.to_point}{more}"
            change = Meets(Spot(pair.one.mark), Spot(pair.other.mark), 0.0)
            grave = self.weigh.joined(pair.one, pair.other)
            yield HarnessFault(FaultKind.NETS_BRIDGED, name, marks, change, grave, pair.one.section)

    def _connector(self, name: str, half: Half) -> Iterator[HarnessFault]:
        at = self._wires_in(name)
        for one, other in neighbours(half):
            if one in at and other in at and not self._is_one_net(at[one][0], at[other][0]):
                words = f"{name}/{one} and {name}/{other} bridged"
                # Wires that share a cavity are one net: the first of them stands for the contact.
                touching = Meets(at[one][0], at[other][0], 0.0)
                grave = self.weigh.joined(self._wire_of(at[one][0]), self._wire_of(at[other][0]))
                yield HarnessFault(FaultKind.NEIGHBOURS_BRIDGED, words, name, touching, grave, half.section, name)
        for one, other in combinations(at, 2):
            if self._is_one_net(at[one][0], at[other][0]):
                continue
            for here, there in product(at[one], at[other]):
                first, second = self._wire_of(here), self._wire_of(there)
                words = f"{first.mark} and {second.mark} in each other's place, {name}/{one} and {name}/{other}"
                is_seen = first.colour != second.colour
                grave = self.weigh.swapped(first, second)
                change = Swapped(here, there)
                yield HarnessFault(FaultKind.WIRES_SWAPPED, words, name, change, grave, half.section, name, is_seen)

    def _wires_in(self, name: str) -> dict[str, list[Spot]]:
        """The ends of wires in each wired cavity of a connector: mostly one."""
        found: dict[str, list[Spot]] = {}
        for cavity in self.fitted.halves[name].part.cavities:
            for wire in self.network.wires_at.get(f"{name}/{cavity}", ()):
                end = next(place for place, each in enumerate(wire.ends) if each.node == f"{name}/{cavity}")
                found.setdefault(cavity, []).append(Spot(wire.mark, end))
        return found

    def _wire_of(self, spot: Spot) -> Wire:
        return self.network.wire_of[spot.mark]

    def _is_one_net(self, one: Spot, other: Spot) -> bool:
        net_of = self.network.net_of
        return net_of[self._wire_of(one).a.node] == net_of[self._wire_of(other).a.node]

    @cached_property
    def _pairs(self) -> list[tuple[str, str]]:
        """Connectors of one family that are near enough to be plugged into the wrong thing, loads behind both."""
        design, route = self.network.design, self.network.route
        served = sorted((each for each in self.fitted.load_connectors if self.fitted.served[each]), key=natural_key)
        kinds = [(route.node_of(design.connectors[each].at), design.connectors[each].part) for each in served]
        like: dict[tuple[str, str], list[int]] = {}
        for place, kind in enumerate(kinds):
            like.setdefault(kind, []).append(place)
        near = in_reach(route, {node for node, _ in kinds}, self.sizes.exchange_reach_mm.value)
        return [
            (served[one], served[other])
            for one, (node, part) in enumerate(kinds)
            for other in sorted(place for beside in near[node] for place in like.get((beside, part), ()))
            if other > one
        ]

    @cached_property
    def _alike(self) -> dict[tuple[str, str], None]:
        behind = {name: self._nets_behind(name) for name in dict.fromkeys(chain.from_iterable(self._pairs))}
        return dict.fromkeys(pair for pair in self._pairs if behind[pair[0]] == behind[pair[1]])

    def _nets_behind(self, name: str) -> dict[str, int]:
        cavities = self.fitted.halves[name].part.cavities
        net_of = self.network.net_of
        return {cavity: net_of[f"{name}/{cavity}"] for cavity in cavities if f"{name}/{cavity}" in net_of}

    def _exchanged(self) -> Iterator[HarnessFault]:
        for one, other in self._pairs:
            if (one, other) not in self._alike:
                loads = tuple(device.name for name in (one, other) for device in self.fitted.served[name])
                name = f"{one} and {other} plugged into each other's place ({', '.join(loads)})"
                grave = self.weigh.exchanged(loads)
                section = self.fitted.halves[one].section
                yield HarnessFault(
                    FaultKind.CONNECTORS_EXCHANGED, name, one, Exchanged(one, other), grave, section, one
                )

    def _devices(self) -> Iterator[HarnessFault]:
        design = self.network.design
        for name in design.fuses:
            missing = f"{name} missing or blown"
            yield HarnessFault(FaultKind.FUSE_MISSING, missing, name, Gone(name), self.weigh.fuse_out(name), looks=name)
            if name in design.vehicle.fuses:
                continue
            wrong = f"{name} of a higher rating than {design.fuses[name].rating_a.value:g} A"
            yield HarnessFault(FaultKind.FUSE_WRONG, wrong, name, None, Consequence.FIRE, looks=name, is_seen=True)
        coils: list[Relay | Load] = [*design.relays.values(), *design.loads.values()]
        for device in coils:
            if self._diode(device) is not None:
                words = f"diode across {device.name} the wrong way round"
                grave = self.weigh.load_out((device.name,))
                yield HarnessFault(
                    FaultKind.DIODE_REVERSED, words, device.name, Shorted(device.name), grave, looks=device.name
                )
        for name in design.drivers:
            stuck_on, stuck_off = self.weigh.output(name)
            yield HarnessFault(FaultKind.OUTPUT_STUCK_ON, f"{name} stuck on", name, Stuck(name), stuck_on)
            yield HarnessFault(FaultKind.OUTPUT_STUCK_OFF, f"{name} stuck off", name, Gone(name), stuck_off)

    def _diode(self, device: Relay | Load) -> Suppression | None:
        parts = self.network.parts
        family = parts.relays[device.part] if isinstance(device, Relay) else parts.loads.get(device.part)
        held = device.suppression or (family.suppression if family is not None else None)
        return held if held is not None and held.kind == "diode" else None


def neighbours(half: Half) -> Sequence[tuple[str, str]]:
    """Pairs of cavities that lie side by side or one above the other on the face of a connector."""
    cavities = half.part.cavities
    across = ceil(len(cavities) / half.part.rows)
    grid = {(place // across, place % across): name for place, name in enumerate(cavities)}
    return [
        (name, grid[beside])
        for (row, column), name in grid.items()
        for beside in ((row, column + 1), (row + 1, column))
        if beside in grid
    ]


def in_reach(route: Route, starts: Collection[str], reach_mm: float) -> Mapping[str, tuple[str, ...]]:
    """For each node of `starts` those at most `reach_mm` from it along the route, past mated disconnects, itself first.

    Each walk ends where the reach does, so that it costs what lies near and not what the harness holds.
    """
    beside: dict[str, list[tuple[str, float]]] = {}
    edges: tuple[Leg | Mating, ...] = (*route.legs, *route.matings)
    for edge in edges:
        length_mm = edge.length_mm if isinstance(edge, Leg) else 0.0
        beside.setdefault(edge.start, []).append((edge.end, length_mm))
        beside.setdefault(edge.end, []).append((edge.start, length_mm))
    return {start: _walked(beside, start, reach_mm) for start in starts}


def _walked(beside: Mapping[str, list[tuple[str, float]]], start: str, reach_mm: float) -> tuple[str, ...]:
    so_far_mm = {start: 0.0}
    queue = [start]
    for node in queue:
        for after, length_mm in beside.get(node, ()):
            if after not in so_far_mm and so_far_mm[node] + length_mm <= reach_mm:
                so_far_mm[after] = so_far_mm[node] + length_mm
                queue.append(after)
    return tuple(queue)


def seen_faults(fitted: Fitted, weigh: Consequences) -> Iterator[HarnessFault]:
    """Each wired cavity unlatched or without its seal, each free one without its plug, each splice, crimp and label."""
    network = fitted.network
    for section in network.sections.sections:
        if any(wire.section == section.letter for wire in network.wires):
            yield _seen(FaultKind.LABEL_WRONG, section.number, section.number, Consequence.LIMP, section.letter)
    for name, half in fitted.halves.items():
        for cavity in half.part.cavities:
            place = f"{name}/{cavity}"
            wires = network.wires_at.get(place, [])
            is_sealed = seal_in(network, half, cavity) is not None
            if not wires:
                if is_sealed and name not in network.design.vehicle.connectors:
                    yield _seen(FaultKind.PLUG_MISSING, place, f"{name} free", _WET, half.section)
                continue
            yield _seen(FaultKind.LATCH_OPEN, place, name, weigh.opened(wires[0]), half.section)
            if is_sealed:
                yield _seen(FaultKind.SEAL_MISSING, place, name, weigh.opened(wires[0]), half.section)
    for name, wire in _splices(network):
        yield _seen(FaultKind.SPLICE_UNSEALED, name, name, weigh.opened(wire), wire.section)
    for wire in network.wires:
        for end in wire.ends:
            if end.kind is EndKind.LANDING and network.contact_at(end) is not None:
                subject = f"{wire.mark} at {end}"
                yield _seen(FaultKind.CRIMP_LOOSE, subject, end.designator, weigh.opened(wire), wire.section)


_WET = Consequence.LIMP
"""Water in a connector eats contacts in months, and shows before it stops an engine."""


def _seen(kind: FaultKind, subject: str, looks: str, consequence: Consequence, section: str) -> HarnessFault:
    return HarnessFault(kind, f"{subject}: {kind.value}", subject, None, consequence, section, looks, is_seen=True)


def _splices(network: Network) -> Iterator[tuple[str, Wire]]:
    for name in network.design.splices:
        wires = network.wires_at.get(name, [])
        if wires:
            yield name, wires[0]
