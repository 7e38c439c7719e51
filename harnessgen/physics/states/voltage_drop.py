"""Volts at each load in a state: what the feed takes on the way there, what the return takes, and what is left."""

import math
from collections.abc import Iterable, Mapping

from harnessgen.design.records.device import Supply
from harnessgen.evidence.derivation import Balance, Evaluated, Input, Solved, evaluated
from harnessgen.evidence.publication import common_practice
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.kirchhoff import VOLTAGE_LAW
from harnessgen.physics.electrical.main_current_path import Strongest, strongest, way
from harnessgen.physics.electrical.operating_point import OperatingPoint
from harnessgen.physics.states.solved import SolvedStates

_PARTS = common_practice("the parts of a path in series add their drops")

# Below this a load carries only what leaks.
_WORKING_A = 1e-6


@frozen
class PathPart:
    """One element on the way to or from a load, with the volts that it takes of the current's direction."""

    element: str
    kind: ElementKind
    drop_v: float
    current_a: float

    @property
    def is_wiring(self) -> bool:
        """True for wires, contacts and mated cavities: what the harness itself is made of."""
        return self.kind in (ElementKind.WIRE, ElementKind.CONTACT, ElementKind.MATING)


@frozen
class LoadDrop:
    """A load that carries current in a state: where its volts go.

    `source_v` is the supply's voltage without load, `across_v` what the load gets; `feed` are the parts from the
    supply's terminal to the load, `return_` those from the load to the reference. Where ways run side by side, it is
    the one that carries most. `high_v` and `low_v` are the load's two ends against the reference.
    """

    state: str
    case: Case
    load: str
    title: str
    supply: str
    source_v: float
    current_a: float
    high_v: float
    low_v: float
    inside_v: float
    feed: tuple[PathPart, ...]
    return_: tuple[PathPart, ...]

    @property
    def across_v(self) -> float:
        """Volts across the load."""
        return self.high_v - self.low_v

    @property
    def feed_v(self) -> float:
        """Volts that the feed takes, from the supply's terminal on."""
        return math.fsum(part.drop_v for part in self.feed)

    @property
    def return_v(self) -> float:
        """Volts that the return takes, its driver and the way through the ground point included."""
        return math.fsum(part.drop_v for part in self.return_)

    @property
    def supply_v(self) -> float:
        """Volts at the supply's terminal, under load."""
        return self.source_v - self.inside_v

    @property
    def lost_v(self) -> float:
        """Volts lost between the supply's terminals and the load, out and back."""
        return self.feed_v + self.return_v

    @property
    def derivation(self) -> Solved:
        """Where the volts across the load come from: all of the loop adds up to the supply's voltage."""
        terms = [(f"{self.supply} without load", self.source_v), (f"inside {self.supply}", -self.inside_v)]
        terms += [(part.element, -part.drop_v) for part in (*self.feed, *self.return_)]
        terms.append((f"across {self.load}", -self.across_v))
        balance = Balance(f"round the loop through {self.load}", tuple(terms), "V")
        title = f"volts across {self.load} in {self.state}, {self.case.value}"
        equations = (
            "node voltages of the whole network from Kirchhoff's current law; round each loop the volts add to 0"
        )
        return Solved(title, equations, (balance,), self.across_v, "V", (VOLTAGE_LAW,))

    def path_derivation(self, side: str) -> Evaluated:
        """Drop of the `feed` or the `return` from its parts.

        Raises:
            ValueError: there is no such side.
        """
        sides = {"feed": self.feed, "return": self.return_}
        if side not in sides:
            raise ValueError(f"a load has a feed and a return, and no {side}")
        inputs = tuple(
            Input(f"d{number}", f"drop in {part.element} at {part.current_a:.3g} A", part.drop_v, "V", VOLTAGE_LAW)
            for number, part in enumerate(sides[side], start=1)
        )
        formula = " + ".join(each.symbol for each in inputs) or "0"
        return evaluated(
            f"drop in the {side} of {self.load} in {self.state}, {self.case.value}", formula, inputs, "V", _PARTS
        )


def drops_in(physics: SolvedStates, state: str, case: Case = Case.WEAK) -> tuple[LoadDrop, ...]:
    """As `load_drops`, computed once for each state and case.

    Raises:
        KeyError: no state has this name.
    """
    name = f"drops {case.name} {state}"
    if name not in physics.kept:
        physics.kept[name] = load_drops(physics, state, case)
    found: tuple[LoadDrop, ...] = physics.kept[name]
    return found


def load_drops(physics: SolvedStates, state: str, case: Case = Case.WEAK) -> tuple[LoadDrop, ...]:
    """Every load and relay coil that carries current in a state, in the order of the design.

    Raises:
        KeyError: no state has this name.
    """
    point, source_v = physics.point_in(state, case), physics.conditions_in(state, case).supply_v
    elements = physics.network.electrical.elements
    brings, takes = strongest(elements, point.amperes)
    works = [each for each in elements if each.kind.does_work and abs(point.amperes[each.name]) > _WORKING_A]
    beside_v = {name: (ampere, physics.ohms_in(case)[name]) for name, ampere in physics.carried.items() if ampere}
    found = (_drop(each, point, brings, takes, source_v, beside_v) for each in works)
    return tuple(each for each in found if each is not None)


def _drop(
    element: Element,
    point: OperatingPoint,
    brings: Strongest,
    takes: Strongest,
    source_v: Mapping[str, float],
    beside: Mapping[str, tuple[float, float]],
) -> LoadDrop | None:
    """Where the volts of one load go; None where no supply feeds it."""
    forward = point.amperes[element.name] > 0.0
    high, low = (element.a, element.b) if forward else (element.b, element.a)
    up, down = way(high, brings), way(low, takes)
    if not up or up[-1].kind is not ElementKind.SUPPLY or not isinstance(up[-1].device, Supply) or not down:
        return None
    supply = up[-1].device.name
    inside = source_v[supply] - point.volts[up[-1].a]
    feed = tuple(_part(each, point, beside) for each in reversed(up[:-1]))
    back = tuple(_part(each, point, beside) for each in down)
    return LoadDrop(
        point.state,
        point.case,
        element.name,
        element.device.title if element.device is not None else "",
        supply,
        source_v[supply],
        abs(point.amperes[element.name]),
        point.volts[high] - _beside_v(up[:-1], beside),
        point.volts[low] + _beside_v(down, beside),
        inside,
        feed,
        back,
    )


def _beside_v(elements: Iterable[Element], beside: Mapping[str, tuple[float, float]]) -> float:
    """Volts that the current takes which the vehicle's own wires carry already; it adds in the worst direction."""
    return math.fsum(ampere * ohm for ampere, ohm in (beside[each.name] for each in elements if each.name in beside))


def _part(element: Element, point: OperatingPoint, beside: Mapping[str, tuple[float, float]]) -> PathPart:
    across = point.volts[element.a] - point.volts[element.b]
    ampere, ohm = beside.get(element.name, (0.0, 0.0))
    return PathPart(element.name, element.kind, abs(across) + ampere * ohm, abs(point.amperes[element.name]) + ampere)
