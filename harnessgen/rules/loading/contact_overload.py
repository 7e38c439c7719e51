"""A contact that carries more than it may: in a cavity, at a terminal, in a switch or a relay."""

from collections.abc import Iterator

from harnessgen.design.records.device import Relay, Switch
from harnessgen.evidence.finding import Finding, Number, Severity, at_most, worst_first
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.wires import EndKind
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading.steady import steady
from harnessgen.rules.wording.places import node_place

RULE = "contact-overload"


def check(physics: Physics) -> list[Finding]:
    """One finding for each contact whose highest steady current lies above its rating."""
    elements = physics.network.electrical.elements
    return [finding for element in elements for finding in worst_first(_contacts(physics, element))]


def _contacts(physics: Physics, element: Element) -> Iterator[tuple[float, Finding]]:
    """Findings of the contacts of an element, one for each state, with what it carries."""
    network, device = physics.network, element.device
    if element.kind in (ElementKind.CONTACT, ElementKind.MATING):
        part = network.parts.contacts[element.part]
        source = f"{part.name}, {part.publication}"
        yield from _judged(
            physics, element, f"The contact of {element.name}", element.name, part.current_a.value, source
        )
    elif element.wire is not None:
        for end in element.wire.ends:
            landed = network.contact_at(end) if end.kind is EndKind.LANDING else None
            if landed is not None:
                said, source = f"The terminal of {element.name} at {end}", f"{landed.name}, {landed.publication}"
                yield from _judged(physics, element, said, end.node, landed.current_a.value, source)
    elif isinstance(device, Relay) and element.kind in (ElementKind.MAKE, ElementKind.BREAK):
        relay = network.parts.relays[device.part]
        source = f"{relay.name}, {relay.publication}"
        yield from _judged(
            physics, element, f"The contact of {device.name}", device.name, relay.current_a.value, source
        )
    elif isinstance(device, Switch) and device.current_a is not None:
        yield from _judged(physics, element, device.name, device.name, device.current_a.value, "as the design says")


def _judged(
    physics: Physics, element: Element, said: str, subject: str, allowed_a: float, source: str
) -> Iterator[tuple[float, Finding]]:
    over = [each for each in steady(physics, element) if each[0] > allowed_a]
    if not over:
        return
    design = physics.network.design
    place = design.devices[subject].place if subject in design.devices else node_place(physics.network, element.a)
    if subject in physics.network.electrical.nodes:
        place = node_place(physics.network, subject)
    message = f"{said} carries more than it may."
    for carries_a, state in over:
        numbers = (Number("carries", carries_a, "A", f"in state {state}"), Number("allowed", allowed_a, "A", source))
        deciding = at_most(*numbers)
        finding = Finding(RULE, Severity.ERROR, subject, place, message, numbers, state=state, deciding=deciding)
        yield carries_a, finding
