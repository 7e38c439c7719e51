"""Status, findings, limits and the table itself."""

import pytest

from harnessgen.evidence.finding import Finding, NotExamined, Number, Severity
from harnessgen.evidence.rule import Release
from harnessgen.schedules.findings_table import accepted_table, standing_table
from harnessgen.schedules.limits_table import limit_rows
from harnessgen.schedules.status import Status, status_of
from harnessgen.schedules.table import Column, Table, cell_text, number_column
from harnessgen.source.place import Place
from tests.line import FLAT_SIX, edited, physics_of

PLACE = Place("six.yaml", 0, 3, 4, 7, 4, 10)


def finding(rule: str, severity: Severity, accepted: str | None = None) -> Finding:
    return Finding(rule, severity, "21A", PLACE, "Words.", (Number("carries", 9.6, "A"),), "mend it", accepted=accepted)


def test_an_open_error_is_not_for_build() -> None:
    """One error that nobody accepted keeps the harness from being built; an accepted one and a warning do not."""
    error = finding("a", Severity.ERROR)
    assert status_of([error]).withheld == tuple(Release)
    assert status_of([finding("a", Severity.ERROR, "known"), finding("b", Severity.WARNING)]).withheld == ()
    assert Status().withheld == ()


def test_a_rule_that_was_not_examined_is_told() -> None:
    """The line under the title counts errors, other findings, accepted ones, and rules that were not examined."""
    status = status_of(
        [finding("a", Severity.ERROR), finding("b", Severity.NOTE), finding("c", Severity.ERROR, "known")],
        [NotExamined("d", "no network")],
    )
    assert status.words == "1 error stands, 1 other finding stands, 1 finding accepted, 1 rule not examined"
    assert standing_table(status).notes == ("Not examined, so not passed: d (no network).",)
    assert Status().words == "no finding stands"


def test_findings_are_printed_with_numbers_and_reason() -> None:
    """Standing findings carry place, numbers and mend; accepted ones their reason."""
    status = status_of([finding("a", Severity.ERROR), finding("c", Severity.WARNING, "a spare wire")])
    assert standing_table(status).rows == (("error", "a", "21A", "Words.", "carries 9.6 A", "six.yaml:4:7", "mend it"),)
    assert [row[-1] for row in accepted_table(status).rows] == ["a spare wire"]


def test_the_limits_that_applied_name_their_source() -> None:
    """A default stands with its source; what the design or one circuit sets stands beside it with its place."""
    plain = {row.name: row for row in limit_rows(physics_of(FLAT_SIX).network)}
    assert (plain["cutting-tolerance"].value, plain["cutting-tolerance"].unit) == ("+/- 3", "mm")
    assert "common practice" in plain["cutting-step"].source
    units, circuit = "units: {length: mm, temperature: degC}", "11: {from: F10, to: K1/30, color: RD, size: 2.5 mm2"
    text = edited(
        (units, f"{units}\nlimits: {{cutting-step: 1 mm}}"),
        (circuit + "}", circuit + ", limits: {wire-load: 50 %}}"),
    )
    rows = limit_rows(physics_of(text).network)
    steps = [(row.value, row.applies_to) for row in rows if row.name == "cutting-step"]
    assert steps == [("1", "whole harness")]
    loads = [(row.value, row.applies_to) for row in rows if row.name == "wire-load"]
    assert loads[-1] == ("0.5", "circuit 11")
    assert len(loads) == 2
    assert all("set in the design" in row.source for row in rows if row.applies_to == "circuit 11")


def test_a_ragged_row_is_refused() -> None:
    """A table has one cell for each column in every row."""
    columns = (Column("a", "a"), number_column("b", "b", "mm"))
    with pytest.raises(ValueError, match="a row of 1 cells"):
        Table("t", "T", columns, (("x",),))
    assert cell_text(columns[1], 3.14159) == "3.1"
    assert columns[1].title == "b (mm)"
