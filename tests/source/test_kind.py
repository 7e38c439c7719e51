"""Kinds of single values: what each takes, and the sentence with which it refuses the rest."""

import pytest

from harnessgen.measures.colour_code import ColourCode
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.quantity import CURRENT, LENGTH, TEMPERATURE, Quantity
from harnessgen.source.kind import Choice, Count, EndOf, Kind, Name, Reading, Ref, Reference, Refusal, Text, names_in
from harnessgen.source.measure_kind import Colour, Measure, Size
from harnessgen.source.reader import Mapping, Node, read_tree


def _node(text: str) -> Node:
    root = read_tree("f", f"key: {text}\n").root
    assert isinstance(root, Mapping)
    return root.entries["key"].value


def _refusal(kind: Kind, text: str) -> Refusal:
    with pytest.raises(Refusal) as caught:
        kind.read(_node(text), Reading())
    return caught.value


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        (Text(), "on", "on"),
        (Text(), "'  blower, left '", "blower, left"),
        (Text(), "2026-11-25", "2026-11-25"),
        (Name(), "C21", "C21"),
        (Name("circuit number"), "010", "010"),
        (Name(), "no", "no"),
        (Choice(("make", "change-over")), "make", "make"),
        (Choice(("1",)), "1", "1"),
        (Count(1, 8), "8", 8),
        (Count(), "0", 0),
        (Measure(LENGTH), "14 1/2 +/- 1/4 in", Quantity(368.3, 6.35, 6.35)),
        (Measure(LENGTH, lowest=0), "0", Quantity(0.0)),
        (Measure(LENGTH, only_tolerance=True), "+10/-0", Quantity(0.0, 10.0, 0.0)),
        (Measure(TEMPERATURE), "212 degF", Quantity(100.0)),
        (Size(), "18 AWG", ConductorSize("AWG", "18")),
        (Size(), "0.75", ConductorSize("mm2", "0.75")),
        (Colour(), "BU/WH", ColourCode("BU", "WH")),
    ],
)
def test_a_kind_reads_its_text(kind: Kind, text: str, value: object) -> None:
    """A value of the right kind is taken as it is meant."""
    assert kind.read(_node(text), Reading()) == value


def test_bare_numbers_take_the_units_of_the_file() -> None:
    """Lengths, temperatures and sizes without a unit are in those that the file declares."""
    reading = Reading(units={"length": "in", "temperature": "degF", "size": "AWG"})
    assert Measure(LENGTH).read(_node("10"), reading) == Quantity(254.0)
    assert Measure(LENGTH).read(_node("10 mm"), reading) == Quantity(10.0)
    assert Measure(TEMPERATURE).read(_node("212"), reading) == Quantity(100.0)
    assert Size().read(_node("18"), reading) == ConductorSize("AWG", "18")


def test_an_end_has_a_designator_and_a_terminal() -> None:
    """An end is parted at its slash, keeps its place, and is noted as a name to be found."""
    reading = Reading()
    end = EndOf().read(_node("C21/1"), reading)
    assert (end.designator, end.terminal, str(end), end.place.column) == ("C21", "1", "C21/1", 6)
    splice = EndOf("splice").read(_node("S1"), reading)
    assert (splice.designator, splice.terminal, str(splice)) == ("S1", "", "S1")
    assert reading.references == [
        Reference("wire end", "C21/1", end.place),
        Reference("splice", "S1", splice.place),
    ]


def test_a_reference_is_noted_for_later() -> None:
    """A name of something elsewhere is taken as it is; whether it exists is seen when all is read."""
    reading = Reading()
    assert Ref("zone").read(_node("plenum"), reading) == "plenum"
    assert [(each.target, each.name, each.place.column) for each in reading.references] == [("zone", "plenum", 6)]


@pytest.mark.parametrize(
    ("kind", "text", "rule", "message", "mend"),
    [
        (Text(), "", "bad-value", "Nothing is written here; a text is needed.", "write a text"),
        (Text(), "' '", "bad-value", "Nothing is written here; a text is needed.", "write a text"),
        (Text(), "[a, b]", "bad-value", "This is a list; a text is needed here.", "write a text"),
        (Text(), "{a: b}", "bad-value", "This is a mapping (key: value); a text is needed here.", "write a text"),
        (Name("connector"), "C 21", "bad-value", "'C 21' cannot be a connector.",
         "use letters, digits and _ . + - (a slash parts a connector from its cavity)"),
        (Name("cavity"), "C1/2", "bad-value", "'C1/2' cannot be a cavity.",
         "use letters, digits and _ . + - (a slash parts a connector from its cavity)"),
        (EndOf(), "C1/2/3", "bad-value", "'C1/2/3' is no end of a wire.",
         "write a connector and its cavity (C21/1), a device and its terminal (K1/87), or a splice (S1)"),
        (EndOf(), "C1/", "bad-value", "'C1/' is no end of a wire.",
         "write a connector and its cavity (C21/1), a device and its terminal (K1/87), or a splice (S1)"),
        (Choice(("pins", "sockets")), "socket", "bad-value", "'socket' is not one of pins, sockets.",
         "did you mean sockets?"),
        (Choice(("pins", "sockets")), "both", "bad-value", "'both' is not one of pins, sockets.",
         "known: pins, sockets"),
        (Count(1, 8), "9", "bad-value", "'9' is no whole number from 1 to 8.", "write a whole number from 1 to 8"),
        (Count(1, 8), "1.5", "bad-value", "'1.5' is no whole number from 1 to 8.",
         "write a whole number from 1 to 8"),
        (Count(), "1:30", "bad-value", "'1:30' is no whole number from 0 to 1000.",
         "write a whole number from 0 to 1000"),
        (Measure(CURRENT), "5 mm", "wrong-unit", "mm measures length; a current is needed here.",
         "write a current such as 7.5 A"),
        (Measure(LENGTH, lowest=0), "-1 mm", "bad-value",
         "-1 mm is out of bounds; this length is at least 0 mm and at most 100000 mm.",
         "write at least 0 mm and at most 100000 mm"),
        (Measure(LENGTH, above=0), "0 in", "bad-value",
         "0 in is out of bounds; this length is more than 0 mm and at most 100000 mm.",
         "write more than 0 mm and at most 100000 mm"),
        (Measure(TEMPERATURE, highest=400), "1000 degF", "bad-value",
         "1000 degF is out of bounds; this temperature is at least -100 degC and at most 400 degC.",
         "write at least -100 degC and at most 400 degC"),
        (Measure(LENGTH, only_tolerance=True), "5 mm", "wrong-unit", "'5 mm' is no tolerance.",
         "write it as +10/-0 or +/- 5 mm"),
        (Size(), "18 awg", "wrong-unit", "'awg' is no conductor size unit.",
         "did you mean 18 AWG? write mm2 or AWG, such as 0.75 mm2 or 18 AWG"),
        (Colour(), "rd", "bad-value", "'rd' is no IEC 60757 colour code.",
         "did you mean RD (red)? codes: BK BN RD OG YE GN BU VT GY WH PK GD TQ SR GNYE"),
        (Ref("zone"), "", "bad-value", "Nothing is written here; the name of a zone is needed.",
         "write the name of a zone"),
    ],
)  # fmt: skip
def test_a_kind_refuses_in_whole_sentences(kind: Kind, text: str, rule: str, message: str, mend: str) -> None:
    """A refusal names the rule it breaks, says what is wrong and what to write, and points at the value."""
    refusal = _refusal(kind, text)
    assert (refusal.rule, refusal.message, refusal.mend) == (rule, message, mend)
    assert refusal.place.line == 1


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        (Text(), "text"),
        (Name("cavity"), "cavity"),
        (Ref("zone"), "name of a zone"),
        (EndOf(), "end (`C21/1`, `K1/87`, `S1`)"),
        (Choice(("pins", "sockets")), "`pins` or `sockets`"),
        (Count(1, 8), "whole number, 1 to 8"),
        (Measure(LENGTH), "length (`410 mm`)"),
        (Measure(LENGTH, only_tolerance=True), "tolerance (`+10/-0`)"),
        (Size(), "size (`0.75 mm2`, `18 AWG`)"),
        (Colour(), "colour by IEC 60757 (`RD`, `BU/WH`)"),
    ],
)
def test_a_kind_says_what_may_stand(kind: Kind, words: str) -> None:
    """The reference page gets a few words on each kind from the kind itself."""
    assert kind.words() == words


def test_names_are_listed_in_a_sentence() -> None:
    """Names are joined with commas and an `and`."""
    assert [names_in(each) for each in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == ["", "a", "a and b", "a, b and c"]
