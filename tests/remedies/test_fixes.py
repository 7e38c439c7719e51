"""Mends: a proposal's words are printed only after the changed design has been run and found good."""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from harnessgen.evidence.finding import Finding, NotExamined, Proposal, Severity, accept
from harnessgen.remedies.changes import in_the_same_spelling
from harnessgen.remedies.fixes import runs_for, with_mends
from harnessgen.rules.examine import Examination
from harnessgen.source.place import Place
from tests.line import MAIN, circuits, edited, examine_text

TEXT = "one: 0.35 mm2\ntwo: 0.35\n"
ONE, TWO = Place("a", 5, 13, 1, 6, 1, 14), Place("a", 19, 23, 2, 6, 2, 10)


def thin(subject: str, place: Place, *sizes: str, mend: str = "", subjects: tuple[str, ...] = ()) -> Finding:
    proposals = tuple(Proposal(place, size, f"{size} (allows more)") for size in sizes)
    return Finding(
        "thin", Severity.ERROR, subject, place, "Too thin.", mend=mend, subjects=subjects, proposals=proposals
    )


class Line:
    """A line that finds what it is told to find in each text, and remembers which texts it was run on."""

    def __init__(self, answers: Mapping[str, list[Finding]], *, skipped: bool = False) -> None:
        self.answers = answers
        self.skipped = (NotExamined("thin", "the file has faults"),) if skipped else ()
        self.texts: list[str] = []

    def __call__(self, changed: Mapping[str, str]) -> Examination:
        (text,) = changed.values()
        self.texts.append(text)
        return Examination(tuple(self.answers.get(text, [])), self.skipped)


def test_the_first_proposal_that_clears_the_finding_is_the_mend() -> None:
    """A size that does not help is passed over; the next that does is kept, and the file is not touched."""
    finding = thin("21A", ONE, "0.5 mm2", "0.75 mm2", "1 mm2")
    line = Line({TEXT.replace("0.35 mm2", "0.5 mm2"): [finding]})
    (mended,) = with_mends([finding], {"a": TEXT}, line)
    assert mended.mend == "0.75 mm2 (allows more)"
    assert line.texts == [TEXT.replace("0.35 mm2", "0.5 mm2"), TEXT.replace("0.35 mm2", "0.75 mm2")]


def test_a_mend_that_brings_a_new_error_is_none() -> None:
    """What clears the finding and breaks something else is not offered; an error that stood before is no reason."""
    finding, other = thin("21A", ONE, "0.5 mm2"), thin("31A", TWO)
    line = Line({TEXT.replace("0.35 mm2", "0.5 mm2"): [other]})
    assert with_mends([finding], {"a": TEXT}, line)[0].mend == ""
    assert with_mends([finding, other], {"a": TEXT}, line)[0].mend == "0.5 mm2 (allows more)"


def test_a_mend_clears_all_that_share_the_cause() -> None:
    """A folded finding is mended only when none of its subjects is told any more, an accepted one included."""
    finding = thin("21C", ONE, "0.5 mm2", subjects=("21C", "21D"))
    changed = TEXT.replace("0.35 mm2", "0.5 mm2")
    assert with_mends([finding], {"a": TEXT}, Line({changed: [thin("21D", ONE)]}))[0].mend == ""
    assert with_mends([finding], {"a": TEXT}, Line({changed: []}))[0].mend == "0.5 mm2 (allows more)"


def test_a_design_that_cannot_be_examined_any_more_is_not_mended() -> None:
    """A change after which rules are not examined has not passed them."""
    assert with_mends([thin("21A", ONE, "0.5 mm2")], {"a": TEXT}, Line({}, skipped=True))[0].mend == ""


def test_advice_of_a_rule_stays() -> None:
    """A mend that the rule gave stays where there is no proposal, and where none passes."""
    plain, tried = thin("21A", ONE, mend="part the two"), thin("31A", TWO, "0.5 mm2", mend="part the two")
    line = Line({TEXT.replace("two: 0.35", "two: 0.5"): [tried]})
    assert [each.mend for each in with_mends([plain, tried], {"a": TEXT}, line)] == ["part the two", "part the two"]


def test_what_is_accepted_is_not_tried() -> None:
    """An accepted finding costs no run."""
    line = Line({})
    accepted = accept(thin("21A", ONE, "0.5 mm2"), "known")
    assert with_mends([accepted], {"a": TEXT}, line) == [accepted]
    assert line.texts == []


def test_the_number_of_runs_is_bounded() -> None:
    """What comes after the last run is left without a mend; the same change is run once."""
    same = [replace(thin(f"2{number}A", ONE, "0.5 mm2"), rule=f"thin-{number}") for number in range(3)]
    late = thin("31A", TWO, "0.5 mm2")
    line = Line({TEXT.replace("0.35 mm2", "0.5 mm2"): [late]})
    mends = [each.mend for each in with_mends([*same, late], {"a": TEXT}, line, most_runs=1)]
    assert mends == ["0.5 mm2 (allows more)"] * 3 + [""]
    assert len(line.texts) == 1


def test_two_mends_never_write_different_things_at_one_place() -> None:
    """A value with two faults is not mended by one that has either, and nothing is offered that is denied below."""
    small, large = thin("F1", ONE, "5 A", "15 A"), replace(thin("F1", ONE, "5 A", "15 A"), rule="thin-too")
    line = Line({TEXT.replace("0.35 mm2", "5 A"): [small], TEXT.replace("0.35 mm2", "15 A"): [large]})
    assert [each.mend for each in with_mends([small, large], {"a": TEXT}, line)] == ["", ""]
    other = replace(thin("F2", TWO, "5 A"), rule="thin-too")
    other = replace(other, proposals=(Proposal(ONE, "15 A", "15 A"),))
    answers = {TEXT.replace("0.35 mm2", "5 A"): [other], TEXT.replace("0.35 mm2", "15 A"): []}
    small = replace(small, proposals=small.proposals[:1])
    assert [each.mend for each in with_mends([small, other], {"a": TEXT}, Line(answers))] == ["5 A (allows more)", ""]


def test_two_added_lines_have_two_numbers() -> None:
    """Each finding proposes the first free number; the second of the list takes the next."""
    gap = ONE._replace(end=ONE.start)

    def added(subject: str, target: str) -> Finding:
        text = f"7: {{to: {target}}}"
        return replace(thin(subject, ONE), proposals=(Proposal(gap, f"{text}\n", f"add {text}", numbers=("7", "8")),))

    first, second = added("E1", "G1"), added("E2", "G2")
    one, two = (TEXT.replace("0.35 mm2", f"{new}\n0.35 mm2") for new in ("7: {to: G1}", "8: {to: G2}"))
    line = Line({one: [second], two: [first]})
    assert [each.mend for each in with_mends([first, second], {"a": TEXT}, line)] == [
        "add 7: {to: G1}",
        "add 8: {to: G2}",
    ]


def test_mends_that_do_not_pass_together_are_not_all_told() -> None:
    """Each passes by itself; the second is left out where both in one text bring an error."""
    first, second = thin("21A", ONE, "0.5 mm2"), thin("31A", TWO, "0.5 mm2")
    one, two = TEXT.replace("0.35 mm2", "0.5 mm2"), TEXT.replace("two: 0.35", "two: 0.5")
    both = two.replace("0.35 mm2", "0.5 mm2")
    line = Line({one: [second], two: [first], both: [thin("41A", ONE)]})
    told = with_mends([first, second], {"a": TEXT}, line)
    assert [each.mend for each in told] == ["0.5 mm2 (allows more)", ""]


def test_what_is_gone_by_a_probe_is_told_beneath() -> None:
    """A probe is never told; what follows from the finding names it as its cause, and keeps its words."""
    probe = Proposal(ONE, "25 degC", "never told", is_probe=True)
    cause = replace(thin("rail", ONE), rule="over-temperature", proposals=(probe,))
    hot, own = thin("21A", TWO), thin("31A", TWO)
    line = Line({TEXT.replace("0.35 mm2", "25 degC"): [own]})
    told = with_mends([cause, hot, own], {"a": TEXT}, line)
    assert [(each.subject, each.mend) for each in told] == [("rail", ""), ("31A", "")]
    assert told[0].consequences == (replace(hot, caused_by="over-temperature:rail"),)


def test_findings_of_a_rule_that_one_mend_clears_are_one() -> None:
    """The first is told with all of them as its subjects; what the mend leaves is told by itself."""
    first, second, third = thin("21A", ONE, "0.5 mm2"), thin("21B", TWO), thin("31A", TWO, "0.5 mm2")
    # The last alone would clear the first too, whose second would then go untold.
    other_way = TEXT.replace("two: 0.35", "two: 0.5")
    line = Line({TEXT.replace("0.35 mm2", "0.5 mm2"): [third], other_way: [second]})
    told = [(each.subject, each.subjects) for each in with_mends([first, second, third], {"a": TEXT}, line)]
    assert told == [("21A", ("21A", "21B")), ("31A", ())]


def test_the_value_that_a_mend_replaces_is_underlined() -> None:
    """In the line of the finding the value that a passing change replaces is to blame; another line is shown."""
    text = "one: {size: 0.35 mm2, to: G1}\ntwo: 0.35\n"
    size, end = Place("a", 12, 20, 1, 13, 1, 21), Place("a", 26, 28, 1, 27, 1, 29)
    finding = replace(thin("21A", size), proposals=(Proposal(end, "G2", "G2 for 21A"),))
    (mended,) = with_mends([finding], {"a": text}, Line({}))
    assert (mended.place, mended.see) == (end, ())
    other = replace(thin("21A", size), proposals=(Proposal(Place("a", 35, 39, 2, 6, 2, 10), "0.5", "0.5 for two"),))
    (mended,) = with_mends([other], {"a": text}, Line({}))
    assert (mended.place, mended.see) == (size, ((other.proposals[0].place, "the mend is made here"),))


@pytest.mark.parametrize(
    ("typed", "text"),
    [
        ("0.35 mm2", "0.5 mm2"),
        ("0.35mm2", "0.5mm2"),
        ("0.35 mm²", "0.5 mm²"),
        ("0.35", "0.5"),
        ('"0.35 mm2"', '"0.5 mm2"'),
        ("'0.35'", "'0.5'"),
        ("20 AWG", "0.5 mm2"),
    ],
)
def test_a_size_is_written_as_the_builder_writes_it(typed: str, text: str) -> None:
    """Unit, blank and quotation marks stay as they were; a size of the other system is written out."""
    assert in_the_same_spelling("0.5 mm2", typed) == text


def test_a_bare_length_gets_its_unit() -> None:
    """A bare length may be in inches, so the unit is written; a tolerance is written as proposed."""
    assert in_the_same_spelling("335 mm", "13") == "335 mm"
    assert in_the_same_spelling("335 mm", "250mm") == "335mm"
    assert in_the_same_spelling("335 +5/-1 mm", "250 +5/-1 mm") == "335 +5/-1 mm"


def mends_of(text: str) -> dict[tuple[str, str], str]:
    """Mends of a design's errors and warnings, tried on the whole line, by rule and subject."""
    findings = with_mends(examine_text(text).findings, {MAIN: text}, examine_text)
    return {(each.rule, each.subject): each.mend for each in findings if each.severity is not Severity.NOTE}


def test_mends_of_the_flat_six_pass_the_whole_line() -> None:
    """A cut length, a cavity and a size, each found by running the changed design."""
    assert mends_of(edited(("INJ2: {at: left-2,", "INJ2: {at: left-2, feed: {cut: 250},"))) == {
        ("leg-too-short", "21D"): "cut: 335 mm"
    }
    # The short behind the doubled cavity goes with it, and the cavity that was left without its wire.
    assert mends_of(edited(("to: [K1/86, C1/2]", "to: [K1/86, C1/1]"))) == {
        ("double-filled-cavity", "C1/1"): "15C to C1/2 in place of C1/1: terminal 1 of ECU has no wire yet"
    }
    thin = "INJ2: {at: left-2,", "INJ2: {at: left-2, feed: {size: 0.35 mm2},"
    assert mends_of(edited(thin)) == {("wire-too-small", "21D"): "0.5 mm2"}


def test_a_wire_one_cavity_off_is_moved_back() -> None:
    """The wire and the cavity that it was meant for are one finding; a wire too many has nowhere to go."""
    move = "C1/15 in place of C1/16: terminal out of Q2 has no wire yet"
    assert mends_of(edited(("to: C1/15, through: C10/4", "to: C1/16, through: C10/4"))) == {
        ("orphan-cavity", "C1/16"): move,
    }
    stray = mends_of(edited(circuits("40: {from: F3, to: C1/5, color: RD, size: 1}")))
    assert stray[("orphan-cavity", "C1/5")] == ""


@pytest.mark.parametrize(("wires", "runs"), [(0, 30), (60, 30), (400, 30), (800, 15), (3000, 4), (20_000, 3)])
def test_a_larger_harness_gets_fewer_runs(wires: int, runs: int) -> None:
    """By hand: 12,000 wires in all, 30 runs at most, 3 at least."""
    assert runs_for(wires) == runs
