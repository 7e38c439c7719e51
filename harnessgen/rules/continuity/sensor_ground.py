"""A sensor of a controller whose return shares its wires with the return of what takes power."""

from harnessgen.design.records.device import SIGNAL, Load, Supply
from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics.physics import Physics
from harnessgen.rules.wording.places import node_place

RULE = "sensor-ground"
_LEAST_SHARE = 0.1
"""Of a sensor's resistance: what has less of it than this takes power beside the sensor."""


def check(physics: Physics) -> list[Finding]:
    """One finding for each sensor with a signal or a supply of a controller, on the net of a power ground."""
    network = physics.network
    net_of = network.net_of
    grounds = {net_of[each.a] for each in network.electrical.elements if each.kind is ElementKind.GROUND}
    found: dict[str, Finding] = {}
    for element in network.electrical.elements:
        sensor = element.device
        if not isinstance(sensor, Load) or not _is_sensor(physics, element) or sensor.name in found:
            continue
        for node in (element.a, element.b):
            if net_of[node] not in grounds or not _is_fed_by_controller(physics, element):
                continue
            power = _powers(physics, element, net_of[node])
            if power:
                found[sensor.name] = _finding(physics, element, node, power[0])
    return list(found.values())


def _is_sensor(physics: Physics, element: Element) -> bool:
    return isinstance(element.device, Load) and _kind(physics, element.device) == "sensor"


def _kind(physics: Physics, load: Load) -> str:
    return load.kind or (physics.network.parts.loads[load.part].kind if load.part else "resistor")


def _is_fed_by_controller(physics: Physics, element: Element) -> bool:
    """Whether it has a signal, or hangs on a supply that stands behind a connector: that of a controller."""
    if isinstance(element.device, Load) and SIGNAL in element.device.terminals:
        return True
    nets = {physics.network.net_of[element.a], physics.network.net_of[element.b]}
    return any(
        isinstance(each.device, Supply) and each.device.cavity is not None and physics.network.net_of[each.a] in nets
        for each in physics.network.electrical.elements
        if each.kind is ElementKind.SUPPLY
    )


def _powers(physics: Physics, sensor: Element, net: int) -> list[Element]:
    """What returns by the same net and is no sensor nor an input: it takes many times the sensor's current."""
    own = physics.ohms[sensor.name]
    return [
        each
        for each in physics.network.electrical.elements
        if net in (physics.network.net_of[each.a], physics.network.net_of[each.b])
        and (
            each.kind is ElementKind.DRIVER
            or (each.kind.does_work and not _is_sensor(physics, each) and physics.ohms[each.name] < _LEAST_SHARE * own)
        )
    ]


def _finding(physics: Physics, sensor: Element, node: str, power: Element) -> Finding:
    assert sensor.device is not None
    name = sensor.device.name
    return Finding(
        RULE,
        Severity.WARNING,
        name,
        node_place(physics.network, node.removesuffix(" mate")),
        f"Sensor {name} returns to the ground of {power.name}, whose current shifts its signal.",
        (
            Number("sensor", physics.ohms[sensor.name], "ohm", name, 0),
            Number("beside it", physics.ohms[power.name], "ohm", power.name),
        ),
        mend=f"lead the return of {name} to the sensor ground of the controller",
    )
