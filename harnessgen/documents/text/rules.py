"""Rules explained at a terminal: all of them in a table, or one by its page; and the parts that such a page has."""

import re
import textwrap
from collections.abc import Sequence

from harnessgen.evidence.finding import Severity
from harnessgen.evidence.rule import Rule
from harnessgen.measures.frozen import frozen
from harnessgen.source.near import did_you_mean

HEADINGS = (
    "What it catches",
    "Why it matters",
    "Formula and source",
    "A design that shows it",
    "The same, mended",
    "When to accept",
)
"""Headings of every rule page, in this order, below its title."""

_FENCE = re.compile(r" {0,3}(```+)\s*(\w*)\s*")
_WIDTH = 110


@frozen
class _Block:
    """A run of lines of a page: prose, or code fenced as `language`."""

    language: str | None
    lines: list[str]


class UnknownRule(LookupError):
    """No rule has this name; the text says which one is near."""


def find_rule(name: str, rules: Sequence[Rule]) -> Rule:
    """The rule called `name`.

    Raises:
        UnknownRule: there is none.
    """
    for rule in rules:
        if rule.name == name:
            return rule
    hint = did_you_mean(name, [rule.name for rule in rules])
    raise UnknownRule(f"No rule is called {name}" + (f"; {hint}" if hint else "."))


def rules_table(rules: Sequence[Rule], width: int = _WIDTH) -> str:
    """All rules with what they need and a line on each, the most serious kind first, in at most `width` columns."""
    if not rules:
        return "no rules\n"
    names = max(len(rule.name) for rule in rules)
    needs = max(len(rule.need.value) for rule in rules)
    lines: list[str] = []
    for severity in Severity:
        kin = sorted((rule for rule in rules if rule.severity is severity), key=lambda rule: rule.name)
        if not kin:
            continue
        lines += ["", severity.value] if lines else [severity.value]
        for rule in kin:
            head = f"  {rule.name:<{names}}  {rule.need.value:<{needs}}  "
            lines += _filled(rule.summary, head, width)
    return "\n".join(lines) + "\n"


def rule_text(rule: Rule, width: int = _WIDTH) -> str:
    """The page of a rule as plain text, headed by its severity and what it needs, followed by its sources.

    Raises:
        ValueError: a fence of the page is not closed.
    """
    lines = [f"{rule.name}: {rule.severity.value}; needs {rule.need.value}", *_filled(rule.summary, "", width)]
    for block in _blocks(rule.page_text()):
        if block.language is not None:
            lines += ["", *(f"    {line}".rstrip() for line in block.lines), ""]
            continue
        for line in block.lines:
            lines += _plain_lines(line, width)
    if rule.sources:
        lines += ["", "Sources"]
        lines += [line for each in rule.sources for line in _filled(str(each), "  ", width)]
    return re.sub(r"\n{3,}", "\n\n", "\n".join(lines)).strip() + "\n"


def _plain_lines(line: str, width: int) -> list[str]:
    if line.startswith("# "):
        return [""]
    if line.startswith("## "):
        return ["", line[3:].strip()]
    if line.startswith("|"):
        return [f"  {line}"]
    plain = re.sub(r"\*\*(.+?)\*\*", r"\1", line)
    plain = re.sub(r"\[([^\]]+)\]\((https?:[^)]+)\)", r"\1 (\2)", plain)
    plain = re.sub(r"\[([^\]]+)\]\([^)]+\)", r"\1", plain)
    return _filled(plain, "  ", width) if plain.strip() else [""]


def _filled(text: str, indent: str, width: int) -> list[str]:
    return textwrap.wrap(
        text,
        max(width, len(indent) + 20),
        initial_indent=indent,
        subsequent_indent=" " * len(indent),
        break_long_words=False,
        break_on_hyphens=False,
    ) or [indent.rstrip()]


def page_title(text: str) -> str:
    """The title of a rule page, which is the name of its rule; empty when the page does not begin with one."""
    first = text.lstrip().partition("\n")[0]
    return first[2:].strip() if first.startswith("# ") else ""


def page_designs(text: str) -> tuple[str, str]:
    """The design that shows the fault, and the same mended: the fenced block under each of the two headings.

    Raises:
        ValueError: the page has other headings than `HEADINGS` or another order, a fence is not closed, or there is not
            exactly one block fenced as yaml under one of the two headings.
    """
    headings: list[str] = []
    designs: list[list[str]] = [[]]
    for block in _blocks(text):
        if block.language == "yaml":
            designs[-1].append("\n".join(block.lines) + "\n")
        elif block.language is None:
            found = [line[3:].strip() for line in block.lines if line.startswith("## ")]
            headings += found
            designs += [[] for _ in found]
    if tuple(headings) != HEADINGS:
        raise ValueError(f"the headings are {', '.join(headings) or 'missing'}; they have to be {', '.join(HEADINGS)}")
    # What stands before the first heading belongs to none of them.
    by_heading = dict(zip(HEADINGS, designs[1:], strict=True))
    return _only_design(by_heading, HEADINGS[3]), _only_design(by_heading, HEADINGS[4])


def _only_design(by_heading: dict[str, list[str]], heading: str) -> str:
    designs = by_heading[heading]
    if len(designs) != 1:
        raise ValueError(f"{len(designs)} blocks fenced as yaml stand under {heading!r}; one is needed")
    return designs[0]


def _blocks(text: str) -> list[_Block]:
    blocks = [_Block(None, [])]
    fence = ""
    for line in text.splitlines():
        mark = _FENCE.fullmatch(line)
        if mark and not fence:
            fence = mark[1]
            blocks.append(_Block(mark[2], []))
        elif mark and mark[1] == fence and not mark[2]:
            fence = ""
            blocks.append(_Block(None, []))
        else:
            blocks[-1].lines.append(line)
    if fence:
        raise ValueError("a fence (```) is not closed")
    return blocks
