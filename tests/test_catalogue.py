"""The catalogue: every rule of every stage, each with its page, its check and its sources."""

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

from harnessgen.catalogue import RULES, rule_named
from harnessgen.documents.text.rules import HEADINGS, page_designs, page_title
from harnessgen.evidence.publication import Standing
from harnessgen.evidence.rule import Requirement, Rule
from harnessgen.lengths.wire_length import margin_derivation
from harnessgen.physics.heat.ampacity import allowed_current_derivation
from tests.line import FLAT_SIX, physics_of

PACKAGE = Path(__file__).parents[1] / "harnessgen"
EACH_RULE = pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)


def page_path(rule: Rule) -> Path:
    package, _, file = rule.page.partition(":")
    return PACKAGE.joinpath(*package.split(".")[1:], file)


@EACH_RULE
def test_a_page_has_the_name_and_the_headings(rule: Rule) -> None:
    """Every page is titled with the name of its rule, has the set headings in order, and says something under each."""
    text = rule.page_text()
    assert page_title(text) == rule.name
    page_designs(text)
    parts = re.split(r"^## .*$", text, flags=re.MULTILINE)[1:]
    assert len(parts) == len(HEADINGS)
    assert all(part.strip() for part in parts)


@EACH_RULE
def test_a_rule_is_named_in_plain_words_and_has_a_source(rule: Rule) -> None:
    """Names are words joined by hyphens; a summary is one line; every rule says what it rests on."""
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", rule.name)
    assert 10 < len(rule.summary) <= 110
    assert "\n" not in rule.summary
    assert rule.sources


def test_names_are_given_once() -> None:
    """No two rules share a name, and each is found by it."""
    assert len({rule.name for rule in RULES}) == len(RULES)
    assert [rule_named(rule.name) for rule in RULES] == list(RULES)
    with pytest.raises(LookupError, match="no rule is called wire-overlod"):
        rule_named("wire-overlod")


@EACH_RULE
def test_a_check_can_be_loaded(rule: Rule) -> None:
    """A rule on network or physics has a check beside its page; the others are examined by an earlier stage."""
    if rule.need in (Requirement.NETWORK, Requirement.PHYSICS, Requirement.BENCH):
        assert callable(rule.load_check())
        module = rule.check.partition(":")[0].split(".")
        assert page_path(rule) == PACKAGE.joinpath(*module[1:]).with_suffix(".md")
    else:
        assert rule.check == ""


def test_every_page_and_every_check_is_listed() -> None:
    """No page lies about without a rule, and no module of a rules folder with a `check` is missing from the list."""
    pages = {path for folder in ("rules", "design", "network", "bench") for path in (PACKAGE / folder).rglob("*.md")}
    assert pages == {page_path(rule) for rule in RULES}
    checks = {
        f"harnessgen.{'.'.join(path.relative_to(PACKAGE).with_suffix('').parts)}:check"
        for path in (PACKAGE / "rules").rglob("*.py")
        for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef) and node.name == "check"
    }
    assert checks == {rule.check for rule in RULES if rule.check.startswith("harnessgen.rules.")}


def test_every_fault_has_a_rule() -> None:
    """Every rule that a stage names when it tells of a fault, or sets as the rule of its findings, is in the list."""
    named: dict[str, str] = {}
    for path in PACKAGE.rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            words: list[ast.expr] = []
            if isinstance(node, ast.Call):
                name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
                places = {"Fault": 0, "Finding": 0, "_tell": 0, "Refusal": 3}
                if name in places and len(node.args) > places[name]:
                    words.append(node.args[places[name]])
            elif (
                node in tree.body
                and isinstance(node, ast.Assign)
                and ast.unparse(node.targets[0]) in ("RULE", "UNNEEDED")
            ):
                words.append(node.value)
            for word in words:
                if isinstance(word, ast.Constant):
                    named[str(word.value)] = f"{path.name}:{word.lineno}"
    assert {name: where for name, where in named.items() if name not in {rule.name for rule in RULES}} == {}
    silent = {rule.name for rule in RULES} - set(named)
    # A value that its key cannot take is a refusal that names no other rule.
    assert silent <= {"bad-value"}


def test_the_sources_are_those_that_the_physics_uses() -> None:
    """What the derivations of the deciding numbers cite stands among the sources of the rule."""
    physics = physics_of(FLAT_SIX)
    wire = physics.network.wires[0]
    heat = allowed_current_derivation(wire, physics.allowed[wire.mark]).sources
    length = margin_derivation(physics.lengths[wire.mark]).sources
    for name, sources in (("wire-overload", heat), ("leg-too-short", length)):
        published = {each for each in sources if each.standing is Standing.PUBLISHED}
        assert published
        assert published <= set(rule_named(name).sources)


def test_listing_the_rules_imports_no_solver() -> None:
    """The catalogue loads neither numpy, networkx nor scipy."""
    code = (
        "import sys; from harnessgen.catalogue import RULES;"
        " print([name for name in ('numpy', 'networkx', 'scipy', 'yaml') if name in sys.modules], len(RULES))"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60).stdout
    assert out.strip() == f"[] {len(RULES)}"
