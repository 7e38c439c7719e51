"""A splice whose wires together are more copper than its barrel holds, or less."""

from collections.abc import Iterator
from itertools import product
from math import fsum

from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_least, at_most
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.splices import leaves_towards
from harnessgen.network.vehicle_wires import VehicleWire
from harnessgen.network.wires import Wire
from harnessgen.parts.covering import SplicePart
from harnessgen.source.kind import names_in

RULE = "splice-misfit"
_MOST_GROUPS = 10
"""Groups of wires of which every way to fill two sides is tried."""
_HAIR_MM2 = 1e-9


@frozen
class _Side:
    wires: tuple[Wire | VehicleWire, ...]
    towards: str

    @property
    def area_mm2(self) -> float:
        return fsum(wire.figures.area_mm2.value for wire in self.wires)


def check(network: Network) -> list[Finding]:
    """One finding for each splice that its wires do not fit, however those that leave on other ways are laid in."""
    found = []
    for name in network.design.splices:
        part = network.splice_part(name)
        wires = _wires(network, name)
        # A wire that is too thick by itself is told by its own rule.
        if wires and all(wire.figures.area_mm2.value <= part.to_mm2.value for wire in wires):
            side = _misfit(network, name, part)
            if side is not None:
                found.append(_finding(network, name, part, side))
    return found


def _wires(network: Network, name: str) -> tuple[Wire | VehicleWire, ...]:
    """Our wires in a splice, and where it taps one of the vehicle's, that on both sides."""
    return (*network.wires_at.get(name, ()), *network.given_at.get(name, ()))


def _misfit(network: Network, name: str, part: SplicePart) -> _Side | None:
    """The side that misses the range most, of the filling that misses it least; None where some filling fits."""
    best = min(_fillings(network, name, part), key=lambda sides: max(_miss_mm2(part, side) for side in sides))
    worst = max(best, key=lambda side: _miss_mm2(part, side))
    return worst if _miss_mm2(part, worst) > _HAIR_MM2 else None


def _miss_mm2(part: SplicePart, side: _Side) -> float:
    return max(side.area_mm2 - part.to_mm2.value, part.from_mm2.value - side.area_mm2)


def _fillings(network: Network, name: str, part: SplicePart) -> Iterator[tuple[_Side, ...]]:
    """Each way to lay the wires into the barrel: those that set out for one point of the route lie on one side."""
    wires = _wires(network, name)
    if part.range_of == "all-wires":
        yield (_Side(wires, ""),)
        return
    groups: dict[str, list[Wire | VehicleWire]] = {}
    for wire in wires:
        # A wire that ends where the splice is sets out for nowhere, and lies on either side; so may one of the vehicle.
        towards = leaves_towards(network, wire, name) if isinstance(wire, Wire) else ""
        groups.setdefault(towards or f" {wire.mark}", []).append(wire)
    names = list(groups)[:_MOST_GROUPS]
    rest = [wire for other in list(groups)[_MOST_GROUPS:] for wire in groups[other]]
    for picked in product((True, False), repeat=len(names) - 1):
        first = [names[0], *(each for each, is_first in zip(names[1:], picked, strict=True) if is_first)]
        other = [each for each in names if each not in first]
        sides = [_side(groups, first), *([_side(groups, other)] if other else [])]
        sides[-1] = _Side((*sides[-1].wires, *rest), sides[-1].towards)
        yield tuple(sides)


def _side(groups: dict[str, list[Wire | VehicleWire]], names: list[str]) -> _Side:
    wires = tuple(wire for each in names for wire in groups[each])
    return _Side(wires, names_in(each for each in names if not each.startswith(" ")))


def _finding(network: Network, name: str, part: SplicePart, side: _Side) -> Finding:
    splice = network.design.splices[name]
    is_much = side.area_mm2 > part.to_mm2.value
    where = f" on the side towards {side.towards}" if side.towards else ""
    message = f"Splice {name} has too {'much' if is_much else 'little'} copper{where} for its barrel."
    bound = part.to_mm2.value if is_much else part.from_mm2.value
    words = f"{'at most' if is_much else 'at least'}, {part.name}; {part.publication}"
    marks = names_in(wire.mark for wire in side.wires)
    fitting = [each for each in network.parts.splices.values() if _misfit(network, name, each) is None]
    fitting = [each for each in fitting if each.rating_degc.value >= part.rating_degc.value]
    mend = (
        f"use {' or '.join(each.name for each in fitting)} for {name}"
        if fitting
        else f"divide the wires of {name} between two splices"
    )
    proposals: tuple[Proposal, ...] = ()
    if "part" in splice.places:
        proposals = tuple(Proposal(splice.where("part"), each.name, f"{each.name} for {name}") for each in fitting)
    numbers = Number("copper", side.area_mm2, "mm2", marks), Number("takes", bound, "mm2", words)
    return Finding(
        RULE,
        Severity.ERROR,
        name,
        splice.where("part") if "part" in splice.places else splice.place,
        message,
        numbers,
        deciding=(at_most if side.area_mm2 > bound else at_least)(*numbers),
        mend=mend,
        proposals=proposals,
    )
