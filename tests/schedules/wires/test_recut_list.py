"""The re-cut list, and the remedies under a finding: every one that works, each with its effect."""

from harnessgen.documents.data import findings_json
from harnessgen.documents.text import findings as findings_text
from harnessgen.run import examine_text as checked
from harnessgen.schedules.collection import schedules_of
from harnessgen.schedules.wires.recut_list import recut_rows, recut_table
from tests.lengths.designs import changed
from tests.line import FLAT_SIX, physics_of
from tests.schedules.reading import keyed

SHORT = changed(
    ("{from: S1, to: V1/1}", "{from: S1, to: V1/1, cut: 172 mm}"),
    ("C1: {part: sealed-2, at: v1}", "C1: {part: sealed-2, at: v1, reach: {turn: 90 deg, radius: 40 mm}}"),
)


def test_every_remedy_stands_in_the_list_with_its_effect() -> None:
    """20B is too short: turning C1, a longer cut and moving S1 each do, and each has its line."""
    physics = physics_of(SHORT)
    rows = recut_rows(physics.network, physics)
    kinds = [row.remedy.kind.value for row in rows if row.remedy is not None]
    assert kinds[:2] == ["turn the connector", "cut the wire longer"]
    assert "move the splice" in kinds
    moved = next(row for row in rows if row.remedy is not None and row.remedy.kind.value == "move the splice")
    assert "needs" in moved.others
    table = recut_table(rows)
    cells = keyed(table)
    assert {each["mark"] for each in cells} == {"20B"}
    assert all(float(each["wins_mm"] or 0.0) >= float(each["short_mm"] or 0.0) - 1e-6 for each in cells)
    assert [each["recut_mm"] is not None for each in cells].count(True) == 1


def test_the_text_tells_the_mend_and_every_other_remedy() -> None:
    """Under the finding the mend that was tried stands first, then the others; the frozen JSON keeps its keys."""
    done = checked(SHORT)
    finding = next(each for each in done.examination.findings if each.rule == "leg-too-short")
    assert finding.mend
    assert len(finding.other_remedies) == len(finding.remedies) - 1 >= 2
    text = findings_text.render([finding], done.understood.texts, width=200)
    assert text.count("\n  or  ") == len(finding.other_remedies)
    assert all(each in text for each in finding.remedies)
    assert "remedies" not in findings_json.render([finding])


def test_a_good_design_has_no_such_list() -> None:
    """No file and no table where every wire reaches."""
    physics = physics_of(FLAT_SIX)
    schedules = schedules_of(physics.network, physics)
    assert "recut-list" not in schedules.by_kind
    assert "recut-list" in schedules_of(*(lambda each: (each.network, each))(physics_of(SHORT))).by_kind
