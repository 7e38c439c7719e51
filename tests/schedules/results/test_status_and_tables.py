"""Status, findings, limits and the table itself."""

from harnessgen.evidence.finding import Finding, NotExamined, Number, Severity
from harnessgen.evidence.rule import Release
from harnessgen.schedules.results.findings import accepted_table, standing_table
from harnessgen.schedules.results.limits import limit_rows
from harnessgen.schedules.results.status import Status, status_of
from harnessgen.schedules.tables.table import Column, Medium, Table, cell_text, number_column, tick_column
from harnessgen.source.place import Place
from tests.line import FLAT_SIX, edited, physics_of
from tests.schedules.reading import keyed

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
    assert [[*each.values()] for each in keyed(standing_table(status))] == [
        ["error", "a", "21A", "Words.", "carries 9.6 A", "six.yaml:4:7", "mend it"]
    ]
    assert [each["reason"] for each in keyed(accepted_table(status))] == ["a spare wire"]


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


def test_a_column_has_its_unit_and_decimals() -> None:
    """A number is printed with as many decimals as its column has, under a heading with the unit."""
    column = number_column("b", "b", "mm", float)
    assert cell_text(column, column.get("3.14159")) == "3.1"
    assert column.title == "b (mm)"


def test_each_medium_prints_what_its_columns_say() -> None:
    """One declaration for file, page, paper and test sheet; what no row fills is left out, boxes stay."""
    columns: tuple[Column[int], ...] = (
        Column("a", "a", str, paper_heading="short"),
        Column("b", "b", str, on=Medium.CSV),
        Column("c", "c", lambda each: each, on=Medium.CSV | Medium.PAPER, is_zero_blank_on_paper=True),
        Column("d", "d", lambda _: ""),
        tick_column(),
    )
    table = Table("t", "T", columns, (0, 7))
    assert [each.key for each in table.columns_on(Medium.CSV)] == ["a", "b", "c", "d"]
    shown, cells = table.printed(Medium.PAGE)
    assert ([each.title_on(Medium.PAGE) for each in shown], cells) == (["a", "done"], (("0", None), ("7", None)))
    shown, cells = table.printed(Medium.PAPER)
    assert [each.title_on(Medium.PAPER) for each in shown] == ["short", "c", "done"]
    assert cells == (("0", None, None), ("7", 7, None))
    assert [each.cell_on(Medium.CSV, 0) for each in columns[1:3]] == ["0", 0]


def test_a_column_of_a_part_is_the_same_column() -> None:
    """It has its key, heading and place; its cell is that of the part of a row that it is given."""
    column = number_column("n", "n", "mm", len)
    of_second: Column[tuple[str, str]] = column.of(lambda pair: pair[1])
    assert of_second == column
    assert of_second.get(("a", "bcd")) == 3
