"""A harness without a supply or without a load: no current, drop or temperature can be known."""

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.network import Network

RULE = "nothing-to-solve"


def check(network: Network) -> list[Finding]:
    """One finding where there is no supply, or neither load nor relay coil."""
    design = network.design
    missing = [] if design.supplies else ["no supply"]
    missing += [] if design.loads or design.relays else ["no load"]
    if not missing:
        return []
    message = f"The design has {' and '.join(missing)}: currents, drops and temperatures were not examined."
    mend = "add what is missing; of a passive lead, accept this with a reason"
    place = design.harness.place if design.harness is not None else design.place
    subject = design.harness.number if design.harness is not None else ""
    return [Finding(RULE, Severity.ERROR, subject, place, message, mend=mend)]
