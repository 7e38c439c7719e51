"""A solved state as a SPICE netlist, so that anyone can check the solution with another program.

It has the same resistances at the same temperatures, every one with nine digits. `ngspice -b network.cir` prints the
voltage of every node and the current of every element; the comments give the builder's name of each.
"""

import math
import re
from collections.abc import Iterable, Mapping

from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import quantised
from harnessgen.network.electrical import REFERENCE, Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.operating_point import OperatingPoint


@frozen
class SpiceNames:
    """Names that SPICE can take: of each node, and of each element that the netlist has."""

    nodes: Mapping[str, str]
    elements: Mapping[str, str]


def spice_names(network: Network, point: OperatingPoint) -> SpiceNames:
    """Names for a state: letters, digits and underscores, lower case, each of them once."""
    nodes = {REFERENCE: "0"}
    taken = {"0"}
    for name in network.electrical.nodes:
        if name != REFERENCE:
            nodes[name] = _free(f"n_{_plain(name)}", taken)
    elements: dict[str, str] = {}
    for element in _live(network, point):
        letter = "r" if point.ohms[element.name] > 0 else "v"
        elements[element.name] = _free(f"{letter}_{_plain(element.name)}", taken)
    return SpiceNames(nodes, elements)


def _plain(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")


def _free(name: str, taken: set[str]) -> str:
    number, free = 1, name
    while free in taken:
        number += 1
        free = f"{name}__{number}"
    taken.add(free)
    return free


def _live(network: Network, point: OperatingPoint) -> list[Element]:
    """Elements that conduct between nodes that do not hang free: a free node would leave SPICE without a solution."""
    return [
        element
        for element in network.electrical.elements
        if element.name in point.ohms and not math.isnan(point.volts[element.a] + point.volts[element.b])
    ]


def supply_volts(element: Element, point: OperatingPoint) -> float:
    """Voltage of a supply without load, from what its terminal has in the solution."""
    return point.volts[element.a] - point.amperes[element.name] * point.ohms[element.name]


def netlist(network: Network, point: OperatingPoint) -> str:
    """The netlist of a solved state."""
    names = spice_names(network, point)
    title = network.design.harness
    live = _live(network, point)
    held = {element.name for element in live}
    lines = [
        f"* {_comment(title.number if title else '')}, revision {_comment(title.revision if title else '')},"
        f" state {_comment(point.state)}: direct current, conductors at the ambient of their zones",
        "* nodes: SPICE name, name in the harness",
        *(f"*   {names.nodes[name]}  {name}" for name in network.electrical.nodes if not _hangs(point, name)),
        "* elements: what conducts in this state",
        *(line for element in live for line in _cards(element, point, names)),
        "* open in this state, or hanging free:",
        *(f"*   {element.name}" for element in network.electrical.elements if element.name not in held),
        *_control(live, point, names),
        ".end",
    ]
    return "\n".join(lines) + "\n"


def _hangs(point: OperatingPoint, node: str) -> bool:
    return math.isnan(point.volts[node])


def _comment(text: str) -> str:
    return " ".join(text.split())


def _cards(element: Element, point: OperatingPoint, names: SpiceNames) -> Iterable[str]:
    ohm, name = point.ohms[element.name], names.elements[element.name]
    a, b = names.nodes[element.a], names.nodes[element.b]
    remark = f"  ; {element.kind.value} {element.name}"
    if element.kind is ElementKind.SUPPLY:
        volts = supply_volts(element, point)
        if ohm <= 0:
            return [f"{name} {a} 0 dc {quantised(volts):.9g}{remark}"]
        inner = f"e_{name}"
        return [f"v_{name} {inner} 0 dc {quantised(volts):.9g}{remark}", f"{name} {a} {inner} {quantised(ohm):.9g}"]
    if ohm <= 0:
        return [f"{name} {a} {b} dc 0{remark}"]
    return [f"{name} {a} {b} {quantised(ohm):.9g}{remark}"]


def _control(live: list[Element], point: OperatingPoint, names: SpiceNames) -> list[str]:
    """What makes the program print every voltage and current when it is run in batch."""
    nodes = dict.fromkeys(node for element in live for node in (element.a, element.b) if node != REFERENCE)
    lines = [".control", "set numdgt=12", "op"]
    lines += [f"print v({names.nodes[node]})" for node in nodes]
    for element in live:
        name = names.elements[element.name]
        lines.append(f"print @{name}[i]" if point.ohms[element.name] > 0 else f"print i({name})")
    return [*lines, ".endc"] if live else []
