"""The harness in the vehicle with some of its connectors apart: which those are, and what is solved then."""

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from harnessgen.bench.setup.connector_half import Half, halves
from harnessgen.bench.setup.load_figures import LoadFigures, load_figures
from harnessgen.bench.setup.section_nets import cavity_reach
from harnessgen.bench.setup.step import TouchPlace
from harnessgen.design.records.device import Device, Driver, Ground, Load, Supply
from harnessgen.measures.designator import natural_key
from harnessgen.network.electrical import Electrical, Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.operating_point import OperatingPoint, operating_point
from harnessgen.physics.physics import Physics


@dataclass(frozen=True)
class Fitted:
    """The whole harness with its devices, and the questions that the powered phases ask of it."""

    network: Network
    physics: Physics

    @cached_property
    def halves(self) -> Mapping[str, Half]:
        """Connectors and halves of disconnects by designator."""
        return halves(self.network)

    @cached_property
    def served(self) -> Mapping[str, tuple[Device, ...]]:
        """Devices behind each connector."""
        found: dict[str, dict[str, Device]] = {name: {} for name in self.network.design.connectors}
        for device in self.network.design.devices.values():
            named = {end.designator for end in device.terminals.values()} | {device.connector}
            pole = device.cavity_of("")
            named |= {pole.designator} if pole is not None else set()
            for designator in named & found.keys():
                found[designator][device.name] = device
        return {name: tuple(devices.values()) for name, devices in found.items()}

    @cached_property
    def load_connectors(self) -> tuple[str, ...]:
        """Connectors that serve loads alone, or nothing."""
        return tuple(n for n, devices in self.served.items() if all(isinstance(each, Load) for each in devices))

    @cached_property
    def controllers(self) -> tuple[str, ...]:
        """Connectors of controllers: they serve a driver, and nothing that feeds or switches the rest."""
        return tuple(
            name
            for name, devices in self.served.items()
            if any(isinstance(each, Driver) for each in devices)
            and all(isinstance(each, Driver | Load) or each.name in self.inner for each in devices)
        )

    @cached_property
    def inner(self) -> frozenset[str]:
        """Supplies and ground points inside controllers, such as a sensor supply: no post of theirs can be touched.

        A supply counts as one only beside another that is not.
        """
        poles = {
            device.name: device
            for devices in self.served.values()
            if any(isinstance(each, Driver) for each in devices)
            for device in devices
            if isinstance(device, Supply | Ground)
        }
        has_outer = any(name not in poles for name in self.network.design.supplies)
        return frozenset(name for name, pole in poles.items() if has_outer or isinstance(pole, Ground))

    @cached_property
    def supplies(self) -> Mapping[str, Supply]:
        """Supplies that feed the harness from outside."""
        return {name: each for name, each in self.network.design.supplies.items() if name not in self.inner}

    @cached_property
    def electronics(self) -> frozenset[str]:
        """Sensors, and loads that share a connector with a driver: no meter on ohms goes across them."""
        beside_driver = {
            device.name
            for devices in self.served.values()
            if any(isinstance(each, Driver) for each in devices)
            for device in devices
            if isinstance(device, Load)
        }
        return frozenset(beside_driver | {name for name, load in self.figures.items() if load.kind == "sensor"})

    @cached_property
    def element_of(self) -> Mapping[str, Element]:
        """Elements by name."""
        return {element.name: element for element in self.network.electrical.elements}

    @cached_property
    def relay_outputs(self) -> frozenset[str]:
        """Drivers that pull in a relay: what the relay feeds works only while they are held on.

        They lie on the net of a relay's coil, or beyond switches, fuses and plugs that are closed.
        """
        net_of = self.network.net_of
        beside: dict[int, set[int]] = {}
        for each in self.network.electrical.elements:
            if each.kind in (ElementKind.SWITCH, ElementKind.FUSE):
                one, other = net_of[each.a], net_of[each.b]
                beside.setdefault(one, set()).add(other)
                beside.setdefault(other, set()).add(one)
        coils = (each for each in self.network.electrical.elements if each.kind is ElementKind.COIL)
        waiting = [net_of[end] for coil in coils for end in (coil.a, coil.b)]
        reached: set[int] = set()
        while waiting:
            net = waiting.pop()
            if net not in reached:
                reached.add(net)
                waiting += beside.get(net, ())
        drivers = (each for each in self.network.electrical.elements if each.kind is ElementKind.DRIVER)
        return frozenset(each.name for each in drivers if net_of[each.a] in reached)

    @cached_property
    def lasting(self) -> frozenset[str]:
        """What is set before an output is tried, and stays so: switches, and outputs that pull in relays."""
        return frozenset(self.network.design.switches) | self.relay_outputs

    def plug_of(self, output: str) -> str:
        """Connector that a driver's output is in; empty where its wire lands on a terminal."""
        return self.element_of[output].a.removesuffix(" mate").partition("/")[0]

    def named(self, output: str) -> str:
        """A driver with its title, as said to the person at the bench."""
        title = self.network.design.drivers[output].title
        return f"{output} ({title})" if title else output

    def set_words(self, on: Collection[str]) -> str:
        """Switches that are on and outputs that are held on, as said to the person at the bench; empty for none."""
        switches = [each for each in on if each not in self.network.design.drivers]
        held = [self.named(each) for each in on if each in self.network.design.drivers]
        parts = [f"{listed(switches)} on"] if switches else []
        return "; ".join([*parts, f"{listed(held)} held on"] if held else parts)

    @cached_property
    def load_elements(self) -> Mapping[str, tuple[Element, ...]]:
        """Elements of each load: one, or the two sides of a sensor's signal."""
        found: dict[str, list[Element]] = {}
        for element in self.network.electrical.elements:
            if element.kind is ElementKind.LOAD and element.device is not None:
                found.setdefault(element.device.name, []).append(element)
        return {name: tuple(elements) for name, elements in found.items()}

    @cached_property
    def figures(self) -> Mapping[str, LoadFigures]:
        """Figures of each load."""
        return {name: load_figures(self.network, load) for name, load in self.network.design.loads.items()}

    def has_kind(self, *kinds: str) -> bool:
        """Whether any load is of one of these kinds."""
        return any(load.kind in kinds for load in self.figures.values())

    @cached_property
    def disconnects(self) -> tuple[str, ...]:
        """Disconnects of the design."""
        return tuple(self.network.design.disconnects)

    @cached_property
    def ground_nets(self) -> frozenset[int]:
        """Nets that lead to a ground point with everything mated."""
        net_of = self.network.net_of
        return frozenset(net_of[each.a] for each in self.network.electrical.elements if each.kind is ElementKind.GROUND)

    def with_apart(self, apart: Collection[str], out: Collection[str] = ()) -> Network:
        """The network with these connectors and disconnects unplugged and these devices taken out."""
        unplugged = set(apart)

        def stays(element: Element) -> bool:
            if element.kind in (ElementKind.CONTACT, ElementKind.MATING):
                designator = element.name.partition("/")[0]
                return designator not in unplugged
            if element.kind is ElementKind.SUPPLY and element.name in self.inner:
                # Whether a controller makes its own supplies when it is awake, its own test tells.
                return False
            return element.device is None or element.device.name not in out

        electrical = self.network.electrical
        kept = tuple(each for each in electrical.elements if stays(each))
        return replace(self.network, electrical=Electrical(electrical.nodes, kept))

    def solve(
        self, apart: Collection[str], on: Collection[str], ohms: Mapping[str, float] | None = None
    ) -> OperatingPoint:
        """Operating point with connectors apart; `ohms` in place of the usual resistances."""
        return operating_point(self.with_apart(apart), "bench", frozenset(on), ohms or self.physics.ohms)

    def open_places(self, apart: Collection[str]) -> Iterator[TouchPlace]:
        """Cavities with a wire that can be touched while these connectors and disconnects are apart."""
        for name, half in self.halves.items():
            if (half.disconnect or name) not in apart:
                continue
            for cavity in sorted(half.part.cavities, key=natural_key):
                node = f"{name}/{cavity}"
                wires = self.network.wires_at.get(node, [])
                if wires:
                    reach = cavity_reach(self.network, self.halves, name, cavity)
                    yield TouchPlace(node, node, name, cavity, reach, tuple(wire.mark for wire in wires))

    def landings(self) -> Iterator[TouchPlace]:
        """Terminals of loads and drivers that wires land straight on."""
        for device in self.network.design.devices.values():
            if not isinstance(device, Load | Driver):
                continue
            for terminal in device.terminal_names:
                node = f"{device.name}/{terminal}"
                wires = self.network.wires_at.get(node, [])
                if wires:
                    reach = "metal of the terminal itself"
                    yield TouchPlace(node, node, device.name, terminal, reach, tuple(wire.mark for wire in wires))

    @cached_property
    def metal(self) -> TouchPlace:
        """What volts are read against, and insulation tried against: the ground point, or the supply's other pole."""
        for name, ground in self.network.design.grounds.items():
            if name in self.inner:
                continue
            title = f" ({ground.title})" if ground.title else ""
            return TouchPlace(name, f"metal at {name}", name, "", f"clean bare metal beside {name}{title}")
        return TouchPlace("", "negative pole", "", "", "negative pole of the supply")

    @cached_property
    def supply_place(self) -> TouchPlace | None:
        """The post of the first supply that wires land on; None without one."""
        for name, supply in self.supplies.items():
            wires = self.network.wires_at.get(name, [])
            if wires:
                title = f" ({supply.title})" if supply.title else ""
                marks = tuple(wire.mark for wire in wires)
                return TouchPlace(name, f"{name} post", name, "", f"metal of the post itself{title}", marks)
        return None

    @cached_property
    def supply_v(self) -> float:
        """Highest voltage of the supplies."""
        return max((each.voltage_v.value for each in self.supplies.values()), default=0.0)


def listed(names: Sequence[str]) -> str:
    """Names in a sentence: F1, F2 and F3."""
    return ", ".join(names[:-1]) + (" and " if len(names) > 1 else "") + names[-1] if names else "nothing"


def is_live(volts: float, least_v: float) -> bool:
    """Whether a node carries volts; one that hangs free does not."""
    return not math.isnan(volts) and abs(volts) >= least_v
