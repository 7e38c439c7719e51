"""Unpowered, loads plugged in: each bank read through its loads, from one end of its wires to the other."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.setup.instruments import OHM_METER
from harnessgen.bench.setup.load_figures import LoadFigures
from harnessgen.bench.setup.path_resistance import Beside, Edge, beside, ohm_between
from harnessgen.bench.setup.section_nets import SectionNet
from harnessgen.bench.setup.step import Expected, Phase, Setup, Step, TouchPlace
from harnessgen.bench.steps.cautions import BATTERY_OFF, MATING_CONTACT
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import HarnessSection


def loads_setup(fitted: Fitted, section: HarnessSection) -> Setup:
    """A section by itself with its plain loads plugged in."""
    design = fitted.network.design
    return Setup(
        Phase.THROUGH_LOADS,
        section.letter,
        f"Through the loads of {section.number}",
        (
            "The section by itself, its loads plugged in. Controllers, relays and fuses are out.",
            "Meter on ohms, leads zeroed. This tells how many loads are there and that each bank is on its own wires."
            " A poor joint hides here: 1 ohm more in one of three 12 ohm legs moves 4.00 to 4.11 ohm.",
        ),
        (BATTERY_OFF, MATING_CONTACT),
        apart=(*fitted.disconnects, *fitted.controllers),
        out=(*design.fuses, *design.relays),
    )


def loads_steps(fitted: Fitted, nets: Sequence[SectionNet]) -> Iterator[Step]:
    """For each bank of a section: from a place on its feed to one on its return, away from the loads' own plugs."""
    circuit = LoadedSection(fitted, nets)
    for (first, second), elements in circuit.banks.items():
        a, b = circuit.place(first), circuit.place(second)
        if first == second or a is None or b is None:
            continue
        loads = [fitted.figures[_load(element)] for element in elements]
        nominal, low, high = (ohm_between(at, a.node, b.node) for at in circuit.bounds)
        covers = tuple(wire.mark for index in (first, second) for wire in nets[index].wires)
        yield bank_step(loads, a, b, (nominal, low, high), covers)


def bank_step(
    loads: Sequence[LoadFigures],
    a: TouchPlace,
    b: TouchPlace,
    ohms: tuple[float, float, float],
    covers: tuple[str, ...],
) -> Step:
    """Reading from `a` to `b` through loads side by side; `ohms` are nominal, lowest and highest."""
    nominal, low, high = ohms
    names = ", ".join(load.name for load in loads)
    if all(load.is_linear for load in loads):
        words = f"{nominal:.2f} ohm"
        bounds = (max(low - OHM_METER.allowance(low), 0.0), high + OHM_METER.allowance(high))
    else:
        words = f"closed, well below the {nominal:.1f} ohm at work: {_why_low(loads)}"
        bounds = (0.0, high + OHM_METER.allowance(high))
    beside_one_another = f"{names} side by side" if len(loads) > 1 else names
    expected = Expected(words, nominal, "ohm", *bounds)
    return Step("", f"through {beside_one_another}", expected, OHM_METER, a, b, covers)


def _why_low(loads: Sequence[LoadFigures]) -> str:
    kinds = {load.kind for load in loads if not load.is_linear}
    reasons = ["a cold filament has about a tenth"] if "lamp" in kinds else []
    reasons += ["a motor at rest has its winding alone"] if "motor" in kinds else []
    return ", ".join(reasons) or "it is not at work"


@dataclass(frozen=True)
class LoadedSection:
    """A section with the loads that may be read through."""

    fitted: Fitted
    nets: Sequence[SectionNet]

    @cached_property
    def net_of(self) -> Mapping[str, int]:
        """Index of the net of each point of the section."""
        return {point: n for n, net in enumerate(self.nets) for edge in net.edges for point in (edge.a, edge.b)}

    @cached_property
    def plugged(self) -> tuple[Element, ...]:
        """Loads with both cavities in the section, without electronics."""
        return tuple(
            element
            for element in self.fitted.network.electrical.elements
            if element.kind is ElementKind.LOAD
            and _load(element) not in self.fitted.electronics
            and all(_cavity(node) in self.net_of for node in (element.a, element.b))
        )

    @cached_property
    def banks(self) -> Mapping[tuple[int, int], list[Element]]:
        """Loads by the two nets that they lie between."""
        groups: dict[tuple[int, int], list[Element]] = {}
        for element in self.plugged:
            ends = self.net_of[_cavity(element.a)], self.net_of[_cavity(element.b)]
            groups.setdefault(ends, []).append(element)
        return groups

    @cached_property
    def taken(self) -> frozenset[str]:
        """Connectors that the loads are plugged into, where no tip can go."""
        return frozenset(_cavity(node).partition("/")[0] for each in self.plugged for node in (each.a, each.b))

    def place(self, net: int) -> TouchPlace | None:
        """A place of a net that can be touched with the loads plugged in."""
        return next((each for each in self.nets[net].places if each.designator not in self.taken), None)

    @cached_property
    def bounds(self) -> tuple[Beside, Beside, Beside]:
        """The circuit with every load at its nominal, its lowest and its highest resistance."""
        return beside(self.edges("value")), beside(self.edges("lowest")), beside(self.edges("highest"))

    def edges(self, which: str) -> list[Edge]:
        """Wires, contacts and loads; each load at its nominal (`value`), `lowest` or `highest` resistance."""
        found = [edge for net in self.nets for edge in net.edges]
        pins = {node for element in self.plugged for node in (element.a, element.b)}
        ohms, figures = self.fitted.physics.ohms, self.fitted.figures
        found += [Edge(_cavity(node), _cavity(node), node, ohms[_cavity(node)]) for node in sorted(pins)]
        loads = ((each, max(getattr(figures[_load(each)].ohm, which), 1e-6)) for each in self.plugged)
        return [*found, *(Edge(each.name, each.a, each.b, ohm) for each, ohm in loads)]


def _load(element: Element) -> str:
    """Designator of the load that an element is, or is a part of."""
    return element.device.name if element.device is not None else element.name


def _cavity(node: str) -> str:
    """Cavity in front of a device's pin."""
    return node.removesuffix(" mate")
