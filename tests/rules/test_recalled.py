"""A verdict that rests on a figure from memory says so wherever it is printed, and one that does not is silent."""

import json
from dataclasses import replace

import pytest

from harnessgen.catalogue import rule_named
from harnessgen.documents.data import findings_json
from harnessgen.documents.pages.page import PageTitle
from harnessgen.documents.pages.tables import tables_page
from harnessgen.documents.text import findings as findings_text
from harnessgen.documents.text.rules import page_designs
from harnessgen.evidence.finding import Finding
from harnessgen.schedules.results.findings import standing_table
from harnessgen.schedules.results.status import status_of
from tests.line import MAIN, examine_text, only
from tests.rules.test_fuse_rules import HORN, changed

RESTING = (
    "fuse-too-large",
    "fuse-too-slow",
    "fuse-nuisance",
    "breaking-capacity",
    "return-to-ground-hazard",
    "wire-overload",
    "excess-drop",
    "weak-pull-in",
    "uneven-bank",
)
"""Rules whose page shows a finding that rests on a figure from memory: of insulation, copper, fuses or a clause."""
OWN = """\
parts:
  wires:
    own-175:
      title: wire with its data sheet at hand
      rating: 175 degC
      overload: 225 degC
      system: mm2
      source: data sheet
      standing: published
      sizes:
        1.5: {area: 1.5 mm2, resistance: 12.7 mohm/m, diameter: 2.4 mm}
        2.5: {area: 2.5 mm2, resistance: 7.6 mohm/m, diameter: 3 mm}
"""


def html_of(finding: Finding) -> str:
    """The table of findings as a page."""
    status = status_of([finding])
    return tables_page(PageTitle("Findings", "Horn harness", "HN-1", "A", ""), status, [standing_table(status)])


@pytest.mark.parametrize("name", RESTING)
def test_it_says_so_in_every_form(name: str) -> None:
    """Text, JSON and HTML of the finding that the rule's page shows."""
    text, _ = page_designs(rule_named(name).page_text())
    (finding,) = examine_text(text).findings
    assert finding.rule == name
    assert "from memory" in " ".join(findings_text.render([finding], {MAIN: text}, width=400).split())
    (record,) = json.loads(findings_json.render([finding]))["findings"]
    assert any("from memory" in number["source"] for number in record["numbers"])
    assert "from memory" in html_of(finding)


def test_a_family_with_its_data_sheet_at_hand_says_nothing_of_memory() -> None:
    """The same slow fuse over a wire of stated origin: what that stands is not from memory."""
    own = OWN + changed(("wire: thin-wall-175", "wire: own-175")).removeprefix("format: 2\n")
    for text, is_recalled in ((HORN, True), ("format: 2\n" + own, False)):
        finding = only(text)
        assert finding.rule == "fuse-too-slow"
        assert ("from memory" in finding.numbers[1].source) is is_recalled
        stands = replace(finding, numbers=finding.numbers[1:])
        assert ("from memory" in html_of(stands)) is is_recalled
