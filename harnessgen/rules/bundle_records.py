"""The records of the rules on bundles."""

from harnessgen.evidence.finding import Severity
from harnessgen.evidence.publication import Publication, Standing, common_practice
from harnessgen.evidence.rule import Release, Requirement, Rule

_ROOT = "harnessgen.rules.bundle"
_FAA = "FAA AC 43.13-1B CHG 1"

BUNDLE_RULES = (
    Rule(
        "covering-too-small",
        Severity.ERROR,
        Requirement.NETWORK,
        "a covering into which its bundle, or a splice on it, does not go",
        f"{_ROOT}:covering_too_small.md",
        (
            Publication(_FAA, "11-249, conduit about 25 % larger than the bundle"),
            common_practice("room in heat-shrink, and the size of finished splices"),
        ),
        f"{_ROOT}.covering_too_small:check",
    ),
    Rule(
        "covering-too-loose",
        Severity.NOTE,
        Requirement.NETWORK,
        "a covering that is much wider than its bundle, or heat-shrink that does not grip it",
        f"{_ROOT}:covering_too_loose.md",
        (common_practice("share of a covering that a bundle has to fill"),),
        f"{_ROOT}.covering_too_loose:check",
    ),
    Rule(
        "bend-too-tight",
        Severity.WARNING,
        Requirement.NETWORK,
        "a bend of the route that is tighter than its bundle stands",
        f"{_ROOT}:bend_too_tight.md",
        (
            Publication(_FAA, "11-96, 10 times the largest wire or cable"),
            Publication(_FAA, "11-96, 3 times where it is supported", Standing.FROM_MEMORY),
            Publication("IPC/WHMA-A-620", "shielded wire and cable, 5 times its diameter"),
        ),
        f"{_ROOT}.bend_too_tight:check",
    ),
    Rule(
        "clips-too-far-apart",
        Severity.WARNING,
        Requirement.NETWORK,
        "a stretch whose clips are further apart than a bundle may hang",
        f"{_ROOT}:clips_too_far_apart.md",
        (
            Publication(_FAA, "11-96 a, supports 24 in apart"),
            Publication("46 CFR 183.340", "610 mm"),
            Publication("ISO 10133:2012", "7.3, 450 mm; 7.4, 300 mm for battery cable"),
        ),
        f"{_ROOT}.clips_too_far_apart:check",
        withholds=(Release.RUNNING,),
    ),
    Rule(
        "grommet-too-small",
        Severity.ERROR,
        Requirement.NETWORK,
        "a grommet through whose bore its bundle does not go",
        f"{_ROOT}:grommet_too_small.md",
        (common_practice("the bundle over its covering and tape goes through the bore"),),
        f"{_ROOT}.grommet_too_small:check",
    ),
    Rule(
        "panel-hole-too-small",
        Severity.WARNING,
        Requirement.NETWORK,
        "a panel hole that the finished harness does not go through from either side",
        f"{_ROOT}:panel_hole_too_small.md",
        (common_practice("one side of the finished harness is drawn through the hole"),),
        f"{_ROOT}.panel_hole_too_small:check",
    ),
)
"""Rules on bundles."""
