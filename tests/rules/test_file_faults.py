"""Faults of the file that breed no others."""

from tests.line import edited, examine_text, told


def test_a_stretch_that_cannot_be_read_still_leads_to_its_point() -> None:
    """What sits at the end of a broken stretch is not told to sit nowhere."""
    assert [
        rule
        for rule, *_ in told(
            edited(
                ("    key: {length: 540", "    key: [{length: 540"),
                ("build: +15/-0}\n  c10:", "build: +15/-0}]\n  c10:"),
            )
        )
    ] == ["bad-value"]


def test_a_design_of_which_a_part_is_left_out_is_not_concluded_from() -> None:
    """The second of two circuits with one number is left out; what is missing then is no fault of its own."""
    examination = examine_text(edited(("  91: {from: K1/85", "  90: {from: K1/85")))
    assert [each.rule for each in examination.findings] == ["duplicate-key"]
    assert "open-circuit" in [each.rule for each in examination.not_examined]
