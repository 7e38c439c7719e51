"""A ground point of a resistance that no sound ground has."""

from harnessgen.design.limits.table import limit
from harnessgen.design.records.device import Ground
from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.network.network import Network

RULE = "poor-ground"


def check(network: Network) -> list[Finding]:
    """One finding for each ground point of the vehicle whose resistance is above the limit."""
    most = limit("ground-resistance", None, network.design.limits)
    found = []
    for ground in network.design.devices.values():
        # One behind a cavity is a terminal of a controller, which may well be an input of many ohms.
        if (
            not isinstance(ground, Ground)
            or ground.cavity is not None
            or ground.resistance_ohm.value <= most.value.value
        ):
            continue
        numbers = (
            Number("resistance", 1000.0 * ground.resistance_ohm.value, "mohm", f"of {ground.name}"),
            Number("at most", 1000.0 * most.value.value, "mohm", f"{most.name}: {most.source}"),
        )
        message = f"Ground point {ground.name} has more resistance than a sound ground."
        mend = "measure it again; clean and tighten the joint, or write mohm where ohm is written"
        place = ground.where("resistance_ohm")
        found.append(Finding(RULE, Severity.ERROR, ground.name, place, message, numbers, mend=mend))
    return found
