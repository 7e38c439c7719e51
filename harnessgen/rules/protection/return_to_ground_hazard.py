"""What a switched return would turn on if it chafed through to ground, and whether a fuse would see it."""

from collections.abc import Iterator

from harnessgen.design.limits.table import limit
from harnessgen.design.records.device import Fuse
from harnessgen.evidence.finding import Finding, Severity, derived
from harnessgen.evidence.publication import Publication, Standing
from harnessgen.measures.designator import natural_key
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics.electrical.operating_point import OperatingPoint
from harnessgen.physics.electrical.shorted import is_shorted
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.current_derivation import point_derivation
from harnessgen.source.kind import names_in

RULE = "return-to-ground-hazard"
_OPENS_AT = 1.1
"""Share of its rating up to which a fuse holds for ever."""
_HELD_SOURCE = Publication("110 % of it is held for ever by ISO 8820-3", standing=Standing.FROM_MEMORY)

# What differs by less is one and the same, so that the order of the file decides nothing.
_DECIMALS = 6


def check(physics: Physics) -> list[Finding]:
    """One note for each driver whose output at ground turns loads on without opening a fuse."""
    drivers = [each for each in physics.network.electrical.elements if each.kind is ElementKind.DRIVER]
    return [finding for driver in drivers for finding in _hazard(physics, driver)]


def _hazard(physics: Physics, driver: Element) -> Iterator[Finding]:
    """The state in which most loads are turned on, and of such the one in which they take most."""
    elements = physics.network.electrical.elements
    assert driver.device is not None
    name = driver.device.name
    found: list[tuple[tuple[int, float], str, list[str], list[tuple[Fuse, float]], OperatingPoint]] = []
    for state, before in physics.points.items():
        if name in before.on or state in physics.shorted:
            continue
        after = physics.solve(state, before.on | {name})
        turned_on = _turned_on(physics, before, after)
        if not turned_on or is_shorted(physics.network.electrical, after):
            continue
        fuses = [(each.device, abs(after.amperes[each.name])) for each in elements if isinstance(each.device, Fuse)]
        carrying = [(fuse, ampere) for fuse, ampere in fuses if ampere > abs(before.amperes[fuse.name]) + 1e-6]
        if any(ampere > _OPENS_AT * fuse.rating_a.value for fuse, ampere in carrying):
            continue
        taken_a = round(sum(abs(after.amperes[each]) for each in turned_on), _DECIMALS)
        found.append(((-len(turned_on), -taken_a), state, turned_on, carrying, after))
    if found:
        _, state, turned_on, carrying, after = min(found, key=lambda each: (each[0], natural_key(each[1])))
        yield _finding(physics, driver, state, turned_on, sorted(carrying, key=_most_used_first), after)


def _most_used_first(each: tuple[Fuse, float]) -> tuple[float, object]:
    fuse, ampere = each
    return -round(ampere / fuse.rating_a.value, _DECIMALS), natural_key(fuse.name)


def _turned_on(physics: Physics, before: OperatingPoint, after: OperatingPoint) -> list[str]:
    """Loads that take twice as much as before, and more than a load that counts as off."""
    share = limit("sneak-share", physics.network.design.limits).value.value
    sound = [point for name, point in physics.points.items() if name not in physics.shorted]
    names = []
    for each in physics.network.electrical.elements:
        if each.kind is ElementKind.LOAD and abs(after.amperes[each.name]) > 2 * abs(before.amperes[each.name]) + 1e-3:
            # Between two splices of one feed a link takes some millivolts, which drive a little through loads at rest.
            working_a = max((abs(point.amperes[each.name]) for point in sound), default=0.0)
            if abs(after.amperes[each.name]) > share * working_a:
                names.append(each.name)
    return sorted(names, key=natural_key)


def _finding(
    physics: Physics,
    driver: Element,
    state: str,
    turned_on: list[str],
    fuses: list[tuple[Fuse, float]],
    after: OperatingPoint,
) -> Finding:
    wires = physics.network.wires_at.get(driver.a.removesuffix(" mate"), ())
    assert driver.device is not None
    subject = wires[0].circuit if wires else driver.device.name
    place = wires[0].place if wires else driver.device.place
    said = f"Circuit {subject}" if wires else f"The output of {subject}"
    message = f"{said} chafed through to ground turns on {names_in(turned_on)} in state {state}, and no fuse opens."
    title = "current of {} in " + f"{state} with {subject} chafed through to ground, as stated"
    numbers = tuple(
        derived(
            f"{fuse.name} carries",
            point_derivation(physics.network, after, fuse.name, title.format(fuse.name)),
            f"rated {fuse.rating_a.value:g} A, {_HELD_SOURCE}",
        )
        for fuse, _ in fuses[:2]
    )
    return Finding(RULE, Severity.NOTE, subject, place, message, numbers, state=state)
