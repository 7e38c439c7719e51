"""A solved state as JSON: every voltage, every current, and how well the solution balances."""

import math
from collections.abc import Sequence
from typing import Any

from harnessgen.documents.data.json_text import json_text
from harnessgen.documents.data.spice import spice_names, supply_volts
from harnessgen.network.electrical import REFERENCE, Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.operating_point import OperatingPoint
from harnessgen.physics.heat.harness import StretchHeat
from harnessgen.physics.states.voltage_drop import LoadDrop

FORMAT = 1


def solution_json(
    network: Network, point: OperatingPoint, drops: Sequence[LoadDrop] = (), heat: Sequence[StretchHeat] = ()
) -> str:
    """The state as one JSON object; a node that hangs free has no voltage (null).

    Currents count from `a` to `b`. A supply's element leads from its terminal to the reference, so that a supply that
    feeds has a negative current. `drops` say of each load that carries current which volts its feed and return take.
    `heat` are the temperatures of the stretches in this state; a temperature that does not exist (null) is one above
    the melting point of copper.
    """
    names = spice_names(network, point)
    elements = network.electrical.elements
    drop_of = {each.load: each for each in drops}
    document = {
        "format": FORMAT,
        "state": point.state,
        "on": sorted(point.on),
        "relays_pulled_in": sorted(point.pulled_in),
        "is_at_rest": point.is_at_rest,
        "nodes": [
            {"name": name, "spice": names.nodes[name], "volt": _number(point.volts[name])}
            for name in network.electrical.nodes
        ],
        "elements": [_element(each, point, names.elements.get(each.name)) for each in elements],
        "splices": [
            {"name": name, "through_ampere": _through(network, point, name)} for name in network.design.splices
        ],
        "loads": [
            {
                "name": each.name,
                "volt_across": point.across(each),
                "ampere": point.amperes[each.name],
                **_way(drop_of.get(each.name)),
            }
            for each in elements
            if each.kind is ElementKind.LOAD
        ],
        "stretches": [_stretch(each) for each in heat],
        "balance": _balance(network, point),
    }
    return json_text(document, indent=1)


def _way(drop: LoadDrop | None) -> dict[str, Any]:
    """Where the volts of a load go on the way from its supply's terminal and back; null where nothing flows."""
    if drop is None:
        return dict.fromkeys(("supply", "supply_volt", "feed_volt", "return_volt"))
    return {
        "supply": drop.supply,
        "supply_volt": drop.supply_v,
        "feed_volt": drop.feed_v,
        "return_volt": drop.return_v,
    }


def _number(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _stretch(heat: StretchHeat) -> dict[str, Any]:
    bundle, found = heat.bundle, heat.found
    return {
        "stretch": bundle.leg.name if bundle.leg is not None else None,
        "ambient_degc": bundle.ambient_degc,
        "lasts_s": heat.lasts_s,
        "deciding": [bundle.wires[index].mark for index in found.deciding],
        "bundle_mm": bundle.diameter_mm,
        "covering": bundle.covering.name if bundle.covering is not None else None,
        "surface_degc": _number(found.surface_degc),
        "covering_inside_degc": _number(found.inner_degc) if bundle.covering is not None else None,
        "wires": [
            {
                "name": wire.mark,
                "rms_ampere": current_a,
                "conductor_degc": _number(degc),
                "stands_degc": wire.family.rating_degc.value,
            }
            for wire, current_a, degc in zip(bundle.wires, heat.currents_a, found.conductors_degc, strict=True)
        ],
    }


def _element(element: Element, point: OperatingPoint, spice: str | None) -> dict[str, Any]:
    across = point.volts[element.a] - point.volts[element.b]
    return {
        "name": element.name,
        "kind": element.kind.value,
        "spice": spice,
        "a": element.a,
        "b": element.b,
        "conducts": element.name in point.ohms,
        "ohm": point.ohms.get(element.name),
        "ampere": point.amperes[element.name],
        "volt_across": _number(across),
    }


def _through(network: Network, point: OperatingPoint, splice: str) -> float:
    """Current through a splice: what comes in by some of its branches, which is what leaves by the others."""
    branches = (abs(point.amperes[wire.mark]) for wire in network.wires_at.get(splice, ()))
    return math.fsum(branches) / 2


def _balance(network: Network, point: OperatingPoint) -> dict[str, float]:
    """Worst misfit of Kirchhoff's current law at a node, and the power that the supplies give and the rest takes."""
    leaving: dict[str, list[float]] = {}
    given: list[float] = []
    taken: list[float] = []
    for element in network.electrical.elements:
        ampere = point.amperes[element.name]
        leaving.setdefault(element.a, []).append(ampere)
        leaving.setdefault(element.b, []).append(-ampere)
        ohm = point.ohms.get(element.name, 0.0)
        taken.append(ampere**2 * ohm)
        if element.kind is ElementKind.SUPPLY:
            given.append(-ampere * supply_volts(element, point) if ampere else 0.0)
    leaving.pop(REFERENCE, None)
    return {
        "worst_residual_ampere": max((abs(math.fsum(each)) for each in leaving.values()), default=0.0),
        "power_given_watt": math.fsum(given),
        "power_taken_watt": math.fsum(taken),
    }
