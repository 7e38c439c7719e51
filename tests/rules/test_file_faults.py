"""Faults of the file that breed no others."""

from harnessgen.design.reading.read import UnreadableFile, read_files
from harnessgen.design.understand import understand
from tests.line import MAIN, beyond_notes, edited, examine_text, line_of, only, told


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


def test_a_file_that_cannot_be_had_is_one_finding() -> None:
    """Names that may stand in the file are not told to be missing; what is wrong besides is told."""
    included = ("units: {length: mm", "include: my-parts.yaml\nunits: {length: mm")
    lacking = edited(included, ("wire: thin-wall-175", "wire: my-wire"), ("C2: {part: sealed-2,", "C2: {part: my-2,"))
    assert [rule for rule, *_ in told(lacking)] == ["unreadable-file"]
    besides = edited(("  91: {from: K1/85, to: G1,", "  91: {from: K1/85,"), text=lacking)
    assert [rule for rule, *_ in told(besides)] == ["unreadable-file", "unclear-circuit"]


def test_the_name_of_a_file_that_stands_beside_is_offered() -> None:
    """The edge may say which files stand there, and the nearest is named."""
    text = edited(("units: {length: mm", "include: lib/my-part.yaml\nunits: {length: mm"))

    def one(name: str) -> str:
        if name == MAIN:
            return text
        raise UnreadableFile("no such file", beside=["engine.yaml", "my-parts.yaml"])

    (fault,) = understand(read_files(MAIN, one)).faults
    assert (fault.rule, fault.mend) == ("unreadable-file", "did you mean my-parts.yaml?")


def test_a_misspelled_start_of_the_route_is_one_finding() -> None:
    """The point that nothing leads to is told at its own line, with the end that it should go on from."""
    text = edited(("  firewall:\n", "  firewal:\n"))
    assert told(text) == [("unknown-reference", line_of(text, "  firewal:\n"), "firewal")]


def test_two_trees_are_one_finding() -> None:
    """Wires between two parts of the route that nothing joins lack one stretch; an independent pair is told apart."""
    text = edited(("  firewall:\n", "  elsewhere:\n"))
    (finding,) = examine_text(text).findings
    assert (finding.rule, finding.subject) == ("unrouted-wire", "14")
    assert "and none for 15, 90, 31 and 32 either" in finding.message
    other = edited(("  rb1:\n", "  nowhere:\n"), text=text)
    assert [rule for rule, *_ in told(other)] == ["unrouted-wire"] * 2


def test_a_key_without_its_colon_is_mended() -> None:
    """A value that follows its key without a colon reads as one long key."""
    finding = only(edited(("{title: engine block", "{title engine block")))
    assert (finding.rule, finding.mend) == ("unknown-key", "write the colon: title: engine block rear")


def test_a_connector_that_many_places_name_is_one_finding() -> None:
    """The block that lost a connector is one cause; another unknown name beside it is told too."""
    lost = edited(("  C1: {part: header-26, at: ecu, mate: engine controller}\n", ""))
    (finding,) = beyond_notes(examine_text(lost).findings)
    assert (finding.rule, finding.place.line) == ("unknown-reference", line_of(lost, "out: C1/14, ground"))
    assert finding.mend == "add C1, or mend its name where it is declared"
    besides = edited(("at: block, resistance", "at: blok, resistance"), text=lost)
    assert [subject for _, _, subject in told(besides)] == ["blok", "C1/14"]


def test_a_wrong_connector_is_led_to_one_that_has_the_cavity() -> None:
    """The nearest number is offered among those with such a cavity: C2 has two, C1 has twenty-six."""
    assert only(edited(("to: C1/14, through", "to: C9/14, through"))).mend == "did you mean C1/14?"
    assert only(edited(("from: C2/2", "from: C3/2"))).mend == "did you mean C2/2?"


def test_the_loads_of_a_broken_bank_are_there() -> None:
    """A wrong colour in a bank is told alone, and not that the states name loads which stand nowhere."""
    assert [rule for rule, *_ in told(edited(("color: RD/YE", "color: RD/YL")))] == ["bad-value"]


def test_a_ground_that_is_nowhere_is_told_once() -> None:
    """Two wires land on it, and one word is missing; a letter that looks like a digit is led to that digit."""
    assert [subject for *_, subject in told(edited(("at: block, resistance", "resistance")))] == ["G1"]
    assert only(edited(("91: {from: K1/85, to: G1", "91: {from: K1/85, to: GI"))).mend == "did you mean G1?"
