"""Findings: their order, their counts, and how they are accepted."""

from harnessgen.evidence.finding import (
    Counts,
    Finding,
    Number,
    Severity,
    accept,
    counts_of,
    from_fault,
    in_order,
)
from harnessgen.source.fault import Fault
from harnessgen.source.place import NOWHERE, Place


def _finding(rule: str, severity: Severity, start: int = 0, subject: str = "", file: str = "a.yaml") -> Finding:
    place = Place(file, start, start + 1, 1, start + 1, 1, start + 2)
    return Finding(rule, severity, subject, place, f"{rule} here.")


def test_the_report_begins_with_the_most_serious() -> None:
    """Errors stand before warnings before notes, each as in the files, and accepted ones come last."""
    listed = [
        _finding("note", Severity.NOTE),
        _finding("late", Severity.ERROR, 9),
        _finding("other-file", Severity.ERROR, 1, file="b.yaml"),
        accept(_finding("accepted", Severity.ERROR), "known"),
        _finding("warning", Severity.WARNING),
        _finding("early", Severity.ERROR, 2),
        _finding("leg", Severity.ERROR, 5, "C21"),
        _finding("leg", Severity.ERROR, 5, "C9"),
    ]
    assert [(each.rule, each.subject) for each in in_order(listed)] == [
        ("early", ""),
        ("leg", "C9"),
        ("leg", "C21"),
        ("late", ""),
        ("other-file", ""),
        ("warning", ""),
        ("note", ""),
        ("accepted", ""),
    ]
    assert in_order(reversed(listed)) == in_order(listed)


def test_accepted_findings_count_apart() -> None:
    """What was accepted stands in no count of errors, warnings or notes."""
    error = _finding("a", Severity.ERROR)
    listed = [error, error, accept(error, "known"), _finding("b", Severity.NOTE)]
    assert counts_of(listed) == Counts(errors=2, warnings=0, notes=1, accepted=1)
    assert counts_of([]) == Counts(0, 0, 0, 0)


def test_an_error_stays_open_until_it_is_accepted() -> None:
    """Only an error that nobody accepted keeps the harness from being built; an empty reason accepts too."""
    error = _finding("a", Severity.ERROR)
    assert error.is_open_error
    assert not accept(error, "known").is_open_error
    assert not accept(error, "").is_open_error
    assert not _finding("b", Severity.WARNING).is_open_error


def test_accepting_changes_nothing_but_the_reason() -> None:
    """An accepted finding is the same finding with the builder's reason."""
    error = Finding("a", Severity.ERROR, "21A", NOWHERE, "Here.", (Number("carries", 9.6, "A"),), "mend", (), ("21A",))
    accepted = accept(error, "known")
    assert (accepted.accepted, error.accepted) == ("known", None)
    assert accept(accepted, "again") == accept(error, "again")
    assert accepted.numbers == error.numbers


def test_a_fault_of_the_file_becomes_a_finding() -> None:
    """Rule, place, words, mend, subject and second place of a fault are those of its finding."""
    place, first = Place("f", 9, 11, 2, 1, 2, 3), Place("f", 0, 2, 1, 1, 1, 3)
    fault = Fault("duplicate-key", place, "F1 is written twice.", "keep one", (first, "here first"), "F1")
    assert from_fault(fault) == Finding(
        "duplicate-key",
        Severity.ERROR,
        "F1",
        place,
        "F1 is written twice.",
        mend="keep one",
        see=((first, "here first"),),
    )
    assert from_fault(Fault("syntax", place, "x")).see == ()
    assert from_fault(fault, Severity.NOTE).severity is Severity.NOTE


def test_severities_rank_from_error_to_note() -> None:
    """Errors rank first."""
    assert [each.rank for each in (Severity.ERROR, Severity.WARNING, Severity.NOTE)] == [0, 1, 2]
