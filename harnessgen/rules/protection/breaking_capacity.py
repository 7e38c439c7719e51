"""A fuse that a short right behind it asks to break more current than it breaks safely."""

from harnessgen.evidence.finding import Finding, Number, Severity, at_most
from harnessgen.measures.quantity import plain_number
from harnessgen.physics.physics import Physics
from harnessgen.rules.protection.guards import guards
from harnessgen.rules.protection.unexamined import ideal_supplies

RULE = "breaking-capacity"


def check(physics: Physics) -> list[Finding]:
    """One finding for each fuse whose largest prospective current lies above its breaking capacity.

    A supply without inner resistance gives no current of a short that could be held against anything: `unbroken` tells
    that it is not examined.
    """
    found: list[Finding] = []
    for guard in guards(physics):
        fuse, near = guard.protects.fuse, guard.currents.near
        breaking = physics.network.parts.fuses[fuse.form].breaking
        if breaking is None or near.current_a <= breaking.capacity_a.value:
            continue
        if ideal_supplies(physics, guard.protects.element):
            continue
        back = f"{plain_number(1000 * near.return_ohm, 1)} mohm back through the body"
        numbers = (
            Number("short draws", near.current_a, "A", f"{plain_number(near.volts, 1)} V, cold conductors, {back}", 0),
            Number("breaks", breaking.capacity_a.value, "A", f"{fuse.form}: {breaking.publication}", 0),
        )
        message = f"{fuse.name} may not break a short right behind it: it can burst or go on arcing."
        mend = "use a fuse form that breaks more"
        place = fuse.where("form" if "form" in fuse.places else "rating_a")
        deciding = at_most(*numbers)
        found.append(Finding(RULE, Severity.ERROR, fuse.name, place, message, numbers, mend=mend, deciding=deciding))
    return found
