"""Every rule of every stage, in one explicit list."""

from harnessgen.bench.bench_rules import BENCH_RULES
from harnessgen.design.file_rules import FILE_RULES
from harnessgen.evidence.finding import Severity
from harnessgen.evidence.rule import Release, Rule
from harnessgen.network.network_rules import NETWORK_RULES
from harnessgen.rules.bundle_records import BUNDLE_RULES
from harnessgen.rules.records import RULES as EXAMINED_RULES
from harnessgen.rules.working_records import WORKING_RULES

RULES: tuple[Rule, ...] = (*FILE_RULES, *NETWORK_RULES, *EXAMINED_RULES, *WORKING_RULES, *BUNDLE_RULES, *BENCH_RULES)
"""All rules, from the file to the fault simulation."""

_BY_NAME = {rule.name: rule for rule in RULES}


def withheld_by(name: str) -> tuple[Release, ...]:
    """Releases that an open error of the rule called `name` withholds: all, where no rule has this name."""
    rule = _BY_NAME.get(name)
    return rule.withholds if rule is not None else tuple(Release)


def withheld_unexamined(name: str) -> tuple[Release, ...]:
    """Releases that the rule called `name` withholds while it is not examined: what its errors would."""
    rule = _BY_NAME.get(name)
    return () if rule is not None and rule.severity is not Severity.ERROR else withheld_by(name)


def rule_named(name: str) -> Rule:
    """The rule called `name`.

    Raises:
        LookupError: no rule has this name.
    """
    if name not in _BY_NAME:
        raise LookupError(f"no rule is called {name}")
    return _BY_NAME[name]
