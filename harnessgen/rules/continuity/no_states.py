"""A design that declares no operating states: what is said of it rests on one that was assumed."""

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.network import Network
from harnessgen.source.kind import names_in

RULE = "no-states"


def check(network: Network) -> list[Finding]:
    """One finding where the design declares no states."""
    design = network.design
    if design.declares_states:
        return []
    switched = [*design.switches, *design.drivers]
    on = f"with {names_in(switched)} on" if switched else "as it is"
    message = f"No states are declared: one state was examined, {on}."
    mend = "declare states: {running: {on: [...], works: [...]}}"
    place = design.harness.place if design.harness is not None else design.place
    return [Finding(RULE, Severity.NOTE, "states", place, message, mend=mend)]
