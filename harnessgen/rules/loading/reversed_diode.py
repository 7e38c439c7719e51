"""A coil whose suppression diode sits the wrong way round."""

from harnessgen.design.records.device import Relay
from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.relay_coil import CoilFault, Unsuppressed
from harnessgen.rules.loading.suppression_place import suppression_place

RULE = "reversed-diode"


def check(physics: Physics) -> list[Finding]:
    """One finding for each coil with such a diode, in the first state that feeds it."""
    return [_finding(physics, each) for each in physics.coil_faults if each.fault is CoilFault.REVERSED]


def _finding(physics: Physics, found: Unsuppressed) -> Finding:
    device = found.device
    ends = ("86", "85") if isinstance(device, Relay) else ("1", "2")
    point = physics.points[found.state]
    element = next(each for each in physics.network.electrical.elements if each.name == found.element)
    fed, other = ends if point.volts[element.a] >= point.volts[element.b] else ends[::-1]
    numbers = (Number("diode carries", abs(point.amperes[found.element]), "A", f"in state {found.state}"),)
    return Finding(
        RULE,
        Severity.ERROR,
        device.name,
        suppression_place(device, "cathode"),
        f"The diode across {device.name} has its cathode at {other}, and {fed} is fed: it shorts the coil.",
        numbers,
        state=found.state,
    )
