"""The records of the rules on network and physics; what they compute with is imported only when they run."""

from harnessgen.evidence.finding import Severity
from harnessgen.evidence.publication import common_practice
from harnessgen.evidence.rule import Need, Rule

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
)
