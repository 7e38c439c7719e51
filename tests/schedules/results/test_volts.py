"""The schedule of volts and fuel: what it prints adds up, and the limits that it prints are those that applied."""

import json
from pathlib import Path

import pytest

from harnessgen.cli.main import main
from harnessgen.documents.pages.page import page_title
from harnessgen.documents.pages.tables import tables_page
from harnessgen.schedules.results.limits import limit_rows, limits_table
from harnessgen.schedules.results.status import Status
from harnessgen.schedules.results.volts import fuel_table, volts_table
from harnessgen.schedules.tables.table import Cell
from tests.line import FLAT_SIX, edited, examine_text, physics_of, told
from tests.physics.small_designs import BANK, changed
from tests.schedules.reading import keyed


def number(row: dict[str, Cell], key: str) -> float:
    value = row[key]
    assert isinstance(value, float)
    return value


def test_the_volts_of_each_row_add_up() -> None:
    """Feed, load and return take what the supply has; the ends lie as far from ground as the ways say."""
    physics = physics_of(FLAT_SIX)
    found = keyed(volts_table(physics.network, physics))
    assert {row["state"] for row in found} == {"key-on", "left-bank", "right-bank", "boost"}
    assert {row["load"] for row in found if row["state"] == "left-bank"} == {"K1 coil", "ECU", "INJ1", "INJ2", "INJ3"}
    for row in found:
        parts = number(row, "feed_volt") + number(row, "across_volt") + number(row, "return_volt")
        assert parts == pytest.approx(number(row, "supply_volt"), abs=1e-9)
        assert number(row, "low_volt") == pytest.approx(number(row, "return_volt"), abs=1e-9)
        assert number(row, "high_volt") - number(row, "low_volt") == pytest.approx(number(row, "across_volt"), abs=1e-9)
        if row["allowed_volt"] is not None:
            assert row["allowed_volt"] == pytest.approx(0.1 * number(row, "supply_volt"), rel=1e-12)


def test_a_limit_of_one_circuit_holds_there_alone() -> None:
    """A drop of 6 % on the left bank's feed: its loads may lose so much, the others the 10 % of the default."""
    text = edited(("feed: {circuit: 21,", "feed: {circuit: 21, limits: {drop: 6 %},"))
    physics = physics_of(text)
    for row in keyed(volts_table(physics.network, physics)):
        if row["allowed_volt"] is not None:
            share = 0.06 if row["load"] in ("INJ1", "INJ2", "INJ3") else 0.1
            assert row["allowed_volt"] == pytest.approx(share * number(row, "supply_volt"), rel=1e-12)


def test_fuel_is_printed_beside_the_injectors_own_match() -> None:
    """A bank with dead times has a row for each injector, and one sentence that calls the spread what it is."""
    table = fuel_table(physics_of(BANK))
    assert [(row["state"], row["load"], row["match_percent"]) for row in keyed(table)] == [
        (state, load, 2.0) for state in ("steady", "boost") for load in ("INJ1", "INJ2", "INJ3")
    ]
    assert all("matched to +/- 2 %, so it is negligible" in note for note in table.notes)
    poor = fuel_table(physics_of(changed(BANK, ("at: left-3, title", "at: left-3, resistance: 40 ohm, title"))))
    assert fuel_table(physics_of(FLAT_SIX)).rows == ()
    assert poor.rows != table.rows


@pytest.mark.long
def test_limits_override_through_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """For all and for one circuit: the check holds them, and the page of volts prints which applied and who set it."""
    text = edited(("feed: {circuit: 21,", "feed: {circuit: 21, limits: {drop: 1 %},")) + "limits: {fuse-load: 60 %}\n"
    design = tmp_path / "six.yaml"
    design.write_text(text, encoding="utf-8")
    assert main(["check", str(design), "--format", "json"]) == 1
    found = json.loads(capsys.readouterr().out)["findings"]
    errors = {(each["rule"], each["subject"]) for each in found if each["severity"] == "error"}
    assert {rule for rule, _ in errors} == {"excess-drop", "fuse-too-small"}
    assert {subject for rule, subject in errors if rule == "excess-drop"} <= {"INJ1", "INJ2", "INJ3"}
    main(["build", str(design), "-o", str(tmp_path / "out")])
    page = (tmp_path / "out" / "volts.html").read_text(encoding="utf-8")
    for printed in ("circuit 21", "set in the design, ", "fuse-load", "whole harness", "common practice, no source"):
        assert printed in page
    capsys.readouterr()


def test_a_limit_of_a_circuit_and_one_for_all_are_held_and_printed() -> None:
    """What the command line does below, without fixes tried: the rules hold the limits, the notes say who set them."""
    text = edited(("feed: {circuit: 21,", "feed: {circuit: 21, limits: {drop: 1 %},")) + "limits: {fuse-load: 60 %}\n"
    assert {rule for rule, _, _ in told(text)} == {"excess-drop", "fuse-too-small"}
    physics = physics_of(text)
    tables = [volts_table(physics.network, physics), limits_table(limit_rows(physics.network))]
    printed = tables_page(page_title(physics.network, "Volts"), Status(), tables)
    for words in ("circuit 21", "set in the design, ", "fuse-load", "whole harness", "common practice, no source"):
        assert words in printed


def test_a_circuit_has_no_limit_that_nobody_asks_it_for() -> None:
    """A limit of the whole harness under a circuit is told at its value, and not silently left aside."""
    text = edited(("feed: {circuit: 21,", "feed: {circuit: 21, limits: {fuse-load: 50 %},"))
    assert [each[0] for each in told(text)] == ["bad-value"]
    (finding,) = examine_text(text).findings
    assert text[finding.place.start : finding.place.end] == "50 %"
    assert "fuse-load" in finding.message
