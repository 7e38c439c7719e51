"""Rules at a terminal: the list, the page as plain text, the near name, and the designs on a page."""

import sys
from pathlib import Path

import pytest

from harnessgen.documents.text.rules import (
    HEADINGS,
    UnknownRule,
    find_rule,
    page_designs,
    page_title,
    rule_text,
    rules_table,
)
from harnessgen.evidence.finding import Severity
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.evidence.rule import Requirement, Rule

_PAGE = """\
# too-hot

## What it catches

A wire that gets **hotter** than its insulation stands.
It looks at every state, see [the format](format.md) and [the standard](https://example.org/s).

## Why it matters

Insulation melts.

## Formula and source

t = a * b * c, rise over ambient.

| class | limit |
| --- | --- |
| C | 125 |

## A design that shows it

Some words.

```yaml
# a remark, no heading
## nor is this
zones: {plenum: 200 degC}

circuits: {}
```

## The same, mended

```yaml
zones: {plenum: 100 degC}
```

## When to accept

```text
accept: never
```
"""


@pytest.fixture
def rules(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[Rule]:
    """Three rules; the first has the page above."""
    package = tmp_path / "pages_of_rule_test"
    package.mkdir()
    (package / "__init__.py").write_text("", encoding="utf-8")
    (package / "too_hot.md").write_text(_PAGE, encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))
    monkeypatch.delitem(sys.modules, "pages_of_rule_test", raising=False)
    sources = (Publication("Wire standard:2011", "table 4"), common_practice())
    page = "pages_of_rule_test:too_hot.md"
    return [
        Rule("too-hot", Severity.ERROR, Requirement.PHYSICS, "A wire gets too hot.", page, sources),
        Rule("odd-key", Severity.WARNING, Requirement.FILE, "A key is odd. " * 8, page, ()),
        Rule("bad-key", Severity.ERROR, Requirement.FILE, "A key is bad.", page, ()),
    ]


def test_rules_are_listed_by_severity_and_name(rules: list[Rule]) -> None:
    """The list has name, need and a line of each rule, errors first, and fills long lines under their beginning."""
    assert (
        rules_table(rules, 70)
        == """\
error
  bad-key  the file            A key is bad.
  too-hot  the solved network  A wire gets too hot.

warning
  odd-key  the file            A key is odd. A key is odd. A key is
                               odd. A key is odd. A key is odd. A key
                               is odd. A key is odd. A key is odd.
"""
    )
    assert rules_table([]) == "no rules\n"


def test_a_page_is_plain_text_at_a_terminal(rules: list[Rule]) -> None:
    """A page is printed with its severity, its sections, its designs and its sources, without Markdown's signs."""
    assert (
        rule_text(rules[0], 70)
        == """\
too-hot: error; needs the solved network
A wire gets too hot.

What it catches

  A wire that gets hotter than its insulation stands.
  It looks at every state, see the format and the standard
  (https://example.org/s).

Why it matters

  Insulation melts.

Formula and source

  t = a * b * c, rise over ambient.

  | class | limit |
  | --- | --- |
  | C | 125 |

A design that shows it

  Some words.

    # a remark, no heading
    ## nor is this
    zones: {plenum: 200 degC}

    circuits: {}

The same, mended

    zones: {plenum: 100 degC}

When to accept

    accept: never

Sources
  Wire standard:2011, table 4
  common practice, no source
"""
    )


def test_a_rule_is_found_by_its_name(rules: list[Rule]) -> None:
    """The exact name finds its rule."""
    assert find_rule("bad-key", rules) is rules[2]


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("to-hot", "No rule is called to-hot; did you mean too-hot?"),
        ("TOO-HOT", "No rule is called TOO-HOT; did you mean too-hot?"),
        ("zzz", "No rule is called zzz; known: too-hot, odd-key, bad-key"),
    ],
)
def test_an_unknown_rule_names_the_nearest(name: str, sentence: str, rules: list[Rule]) -> None:
    """A name that no rule has is refused with the nearest, or with those that there are."""
    with pytest.raises(UnknownRule) as caught:
        find_rule(name, rules)
    assert str(caught.value) == sentence


def test_the_designs_of_a_page_are_its_yaml_blocks() -> None:
    """The two designs come out as they were written, remarks and empty lines included."""
    showing, mended = page_designs(_PAGE)
    assert showing == "# a remark, no heading\n## nor is this\nzones: {plenum: 200 degC}\n\ncircuits: {}\n"
    assert mended == "zones: {plenum: 100 degC}\n"


def test_a_page_is_called_like_its_rule() -> None:
    """The title of a page is its first heading."""
    assert page_title(_PAGE) == "too-hot"
    assert page_title("too-hot\n# x\n") == ""


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ("## Why it matters", "## Why", "the headings are What it catches, Why, Formula and source"),
        ("## Why it matters\n\nInsulation melts.\n\n", "", "the headings are What it catches, Formula and source"),
        ("Insulation melts.", "## Why it matters", "the headings are What it catches, Why it matters, Why it matters"),
        ("zones: {plenum: 100 degC}\n```", "```\n```yaml\n```", "2 blocks fenced as yaml stand under"),
        ("```yaml\nzones", "```\nzones", "0 blocks fenced as yaml stand under 'The same, mended'; one is needed"),
        ("accept: never\n```", "accept: never\n", "a fence (```) is not closed"),
    ],
)  # fmt: skip
def test_a_page_of_another_form_is_refused(old: str, new: str, sentence: str) -> None:
    """A page without its set headings, or without exactly one design under each of the two, is refused."""
    with pytest.raises(ValueError, match=r"^.+") as caught:
        page_designs(_PAGE.replace(old, new))
    assert str(caught.value).startswith(sentence)


def test_the_headings_are_those_of_the_design() -> None:
    """A page has the six set headings."""
    assert HEADINGS == (
        "What it catches",
        "Why it matters",
        "Formula and source",
        "A design that shows it",
        "The same, mended",
        "When to accept",
    )
