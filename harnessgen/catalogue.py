"""Every rule of every stage, in one explicit list."""

from harnessgen.bench.bench_rules import BENCH_RULES
from harnessgen.design.file_rules import FILE_RULES
from harnessgen.evidence.rule import Rule
from harnessgen.network.network_rules import NETWORK_RULES
from harnessgen.rules.bundle_records import BUNDLE_RULES
from harnessgen.rules.records import RULES as EXAMINED_RULES

RULES: tuple[Rule, ...] = (*FILE_RULES, *NETWORK_RULES, *EXAMINED_RULES, *BUNDLE_RULES, *BENCH_RULES)
"""All rules, from the file to the fault simulation."""

_BY_NAME = {rule.name: rule for rule in RULES}


def rule_named(name: str) -> Rule:
    """The rule called `name`.

    Raises:
        LookupError: no rule has this name.
    """
    if name not in _BY_NAME:
        raise LookupError(f"no rule is called {name}")
    return _BY_NAME[name]
