"""A coil that is switched off with nothing to take its current over."""

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.relay_coil import CoilFault
from harnessgen.rules.loading.suppression_place import suppression_place

RULE = "unsuppressed-coil"


def check(physics: Physics) -> list[Finding]:
    """One finding for each coil whose design says that nothing sits across it, and whose driver states no clamp."""
    return [
        Finding(
            RULE,
            Severity.WARNING,
            each.device.name,
            suppression_place(each.device, "kind"),
            f"Nothing takes the current of {each.device.name} over when {each.opened_by} opens.",
        )
        for each in physics.coil_faults
        if each.fault is CoilFault.ABSENT
    ]
