"""The records of the rules on network and physics; what they compute with is imported only when they run."""

from harnessgen.evidence.finding import Severity
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.evidence.rule import Need, Rule
from harnessgen.physics.air import AIR_SOURCE, CONVECTION_SOURCE, RADIATION_SOURCE
from harnessgen.physics.resistance import TEMPERATURE_SOURCE

_ROOT = "harnessgen.rules"


def _page(group: str, stem: str) -> str:
    return f"{_ROOT}.{group}:{stem}.md"


def _check(group: str, stem: str) -> str:
    return f"{_ROOT}.{group}.{stem}:check"


RULES = (
    Rule(
        "short-circuit",
        Severity.ERROR,
        Need.PHYSICS,
        "a supply joined to ground, or to another supply, without a load between",
        _page("continuity", "short_circuit"),
        (common_practice(),),
        _check("continuity", "short_circuit"),
    ),
    Rule(
        "open-circuit",
        Severity.ERROR,
        Need.PHYSICS,
        "a load or a relay's coil that gets current in no declared state",
        _page("continuity", "open_circuit"),
        (common_practice(),),
        _check("continuity", "open_circuit"),
    ),
    Rule(
        "relay-unsettled",
        Severity.ERROR,
        Need.PHYSICS,
        "a relay that neither holds nor falls off for good in a declared state",
        _page("continuity", "relay_unsettled"),
        (common_practice(),),
        _check("continuity", "relay_unsettled"),
    ),
    Rule(
        "orphan-cavity",
        Severity.ERROR,
        Need.NETWORK,
        "a wire in a cavity behind which nothing stands, or a device's terminal behind a cavity without a wire",
        _page("cavity", "orphan_cavity"),
        (common_practice(),),
        _check("cavity", "orphan_cavity"),
    ),
    Rule(
        "wire-overload",
        Severity.ERROR,
        Need.PHYSICS,
        "a wire that carries more than it may carry for ever in its bundle and zone",
        _page("loading", "wire_overload"),
        (
            CONVECTION_SOURCE,
            AIR_SOURCE,
            RADIATION_SOURCE,
            TEMPERATURE_SOURCE,
            common_practice("conductivity of insulation and bundle, emissivity; every wire of the bundle as loaded"),
        ),
        _check("loading", "wire_overload"),
    ),
    Rule(
        "leg-too-short",
        Severity.ERROR,
        Need.PHYSICS,
        "a wire with a stated cut length that may not reach",
        _page("reach", "leg_too_short"),
        (
            Publication(
                "JCGM 100:2008 (GUM)", "4.3.7 rectangular bounds, 5.1.2 combination, 6.2.1 expanded uncertainty"
            ),
            common_practice(),
        ),
        _check("reach", "leg_too_short"),
    ),
    Rule(
        "unneeded-acceptance",
        Severity.WARNING,
        Need.FILE,
        "an accepted finding that does not occur",
        f"{_ROOT}:unneeded_acceptance.md",
        (common_practice(),),
    ),
)
"""In the order in which they are examined; the last is found while findings are held against what is accepted."""
