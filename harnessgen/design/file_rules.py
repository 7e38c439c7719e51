"""The rules of the file, examined while it is read and understood."""

from harnessgen.evidence.finding import Severity
from harnessgen.evidence.publication import Publication, Standing, common_practice
from harnessgen.evidence.rule import Requirement, Rule

_YAML = Publication("YAML Ain't Markup Language (YAML), version 1.1 (2005)", standing=Standing.FROM_MEMORY)
_COLOURS = Publication("IEC 60757:2021, Code for designation of colours", standing=Standing.FROM_MEMORY)


def _rule(name: str, summary: str, source: Publication | None = None, severity: Severity = Severity.ERROR) -> Rule:
    page = f"harnessgen.design:pages/{name.replace('-', '_')}.md"
    return Rule(name, severity, Requirement.FILE, summary, page, (source or common_practice(),))


FILE_RULES = (
    _rule("unreadable-file", "a file of the design that cannot be had as text"),
    _rule("syntax", "a text that cannot be read as YAML", _YAML),
    _rule("alias-or-tag", "an anchor, alias, tag or merge key, which hide what is written", _YAML),
    _rule("duplicate-key", "a key or a name that is written twice in one place", _YAML),
    _rule("old-format", "a file of an earlier version of the format", severity=Severity.WARNING),
    _rule("unknown-key", "a key that the format does not have"),
    _rule("missing-key", "a key that has to be there and is not"),
    _rule("bad-value", "a value that its key cannot take", _COLOURS),
    _rule("wrong-unit", "a quantity without a number, or with a unit that does not measure it"),
    _rule("unknown-reference", "a name that stands nowhere in the design or the parts"),
    _rule("duplicate-designator", "one designator for two things"),
    _rule("route-not-a-tree", "a point of the route with two ways to it, or a ring"),
    _rule("unclear-circuit", "a circuit that does not say which wires it has"),
)
"""In the order in which the stages meet them."""
