"""The rules that are examined while circuits are laid along the route and cut into wires."""

from harnessgen.evidence.finding import Severity
from harnessgen.evidence.publication import common_practice
from harnessgen.evidence.rule import Requirement, Rule

NETWORK_RULES = (
    Rule(
        "unrouted-wire",
        Severity.ERROR,
        Requirement.DESIGN,
        "a circuit that cannot be laid along the route from one end to the other",
        "harnessgen.network:pages/unrouted_wire.md",
        (common_practice(),),
    ),
)
