"""Records, maps and lists: faults of a whole file in one run, each at its place."""

from collections.abc import Mapping
from dataclasses import dataclass

import pytest

from harnessgen.measures.quantity import LENGTH, TEMPERATURE, Quantity
from harnessgen.source.container import ListOf, MapOf, RecordOf, anchor, heading, records_under, take
from harnessgen.source.fault import Fault
from harnessgen.source.key import Key, Record, key, keys_of
from harnessgen.source.kind import Choice, End, EndOf, Name, Reading, Text
from harnessgen.source.measure_kind import Measure
from harnessgen.source.place import NOWHERE, Place
from harnessgen.source.reader import read_tree


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room(Record):
    """A room with one temperature."""

    ambient_degc: Quantity = key("ambient", Measure(TEMPERATURE), "Ambient.")
    title: str = key("title", Text(), "Words.", default="")

    noun = "a room"
    shorthand = "ambient_degc"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lead(Record):
    """A lead from one end to others."""

    length_mm: Quantity = key("length", Measure(LENGTH, above=0), "Length.")
    to: tuple[End, ...] = key("to", ListOf(EndOf()), "Ends.", default=())
    kind: str = key("kind", Choice(("hot", "cold")), "Kind.", default="hot", default_words="hot")

    noun = "an odd lead's run"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan(Record):
    """The whole."""

    rooms: Mapping[str, _Room] = key("rooms", MapOf(RecordOf(_Room), "room"), "Rooms.", factory=dict)
    leads: tuple[_Lead, ...] = key("leads", ListOf(RecordOf(_Lead)), "Leads.", default=())
    spare: _Lead | None = key("spare", RecordOf(_Lead), "One lead more.", default=None)
    marks: tuple[str, ...] = key("marks", ListOf(Name("mark")), "Marks.", default=())

    noun = "the plan"


def _read(text: str) -> tuple[_Plan | None, Reading]:
    tree = read_tree("plan.yaml", text)
    reading = Reading(faults=list(tree.faults))
    assert tree.root is not None
    plan, _ = take(RecordOf(_Plan), tree.root, reading, tree.root.place)
    return plan, reading


def _faults(text: str) -> list[Fault]:
    return _read(text)[1].faults


def _told(fault: Fault) -> tuple[str, int, int, str, str]:
    return fault.rule, fault.place.line, fault.place.column, fault.message, fault.mend


def test_a_record_keeps_its_name_and_all_places() -> None:
    """A record knows the key it stood under, and where each of its values stands."""
    plan, reading = _read("rooms:\n  cabin: {ambient: 45 degC, title: front}\n")
    assert reading.faults == []
    assert plan is not None
    room = plan.rooms["cabin"]
    assert (room.name, room.ambient_degc, room.title) == ("cabin", Quantity(45.0), "front")
    assert (room.place.line, room.place.column, room.place.end_column) == (2, 3, 8)
    assert (room.where("title").column, room.where("title").end_column) == (36, 41)
    assert plan.where("rooms").line == 2


def test_what_the_file_leaves_out_stands_at_the_record() -> None:
    """A value that is a default has the place of the record that lacks it."""
    plan, _ = _read("rooms: {cabin: {ambient: 45}}\n")
    assert plan is not None
    room = plan.rooms["cabin"]
    assert (room.title, room.where("title")) == ("", room.place)


def test_a_shorthand_is_the_same_as_its_mapping() -> None:
    """A single value in place of the mapping is the value of the shorthand's key, at its own place."""
    plan, reading = _read("rooms: {cabin: 45 degC, plenum: {ambient: 45 degC}}\n")
    assert reading.faults == []
    assert plan is not None
    short, long = plan.rooms.values()
    assert (short.ambient_degc, short.name) == (long.ambient_degc, "cabin")
    assert (short.where("ambient_degc").column, short.where("ambient_degc").end_column) == (16, 23)


def test_a_list_of_one_needs_no_brackets() -> None:
    """One value alone is a list of one, and nothing is an empty list."""
    one, _ = _read("spare: {length: 5 mm, to: C1/1}\nmarks: m1\n")
    two, _ = _read("spare: {length: 5 mm, to: [C1/1, S1]}\nmarks:\n")
    assert one is not None
    assert two is not None
    assert one.spare is not None
    assert two.spare is not None
    assert [str(end) for end in one.spare.to] == ["C1/1"]
    assert [str(end) for end in two.spare.to] == ["C1/1", "S1"]
    assert (one.marks, two.marks) == (("m1",), ())


def test_empty_mappings_are_empty_records_and_maps() -> None:
    """A key with nothing behind it is an empty map, and a file with nothing required may be empty braces."""
    plan, reading = _read("rooms:\n")
    assert (plan is not None and plan.rooms, reading.faults) == ({}, [])
    assert _faults("{}\n") == []


def test_an_unknown_key_names_the_nearest() -> None:
    """A key that is not known is told with the known one that is most like it."""
    (fault,) = _faults("rooms: {cabin: {ambient: 45, titel: front}}\n")
    assert _told(fault) == ("unknown-key", 1, 30, "titel is no key of a room.", "did you mean title?")
    assert (fault.place.end_column, fault.subject) == (35, "titel")


def test_an_unknown_key_like_none_lists_the_known() -> None:
    """Where no known key is near, the known ones are listed."""
    (fault,) = _faults("zzz: 1\n")
    assert _told(fault) == ("unknown-key", 1, 1, "zzz is no key of the plan.", "known: rooms, leads, spare, marks")


def test_a_missing_key_is_told_at_the_key_of_its_record() -> None:
    """A record that lacks what it needs is told where its own key stands, by its name."""
    (fault,) = _faults("rooms: {cabin: {title: front}}\n")
    assert _told(fault) == ("missing-key", 1, 9, "cabin (a room) has no ambient.", "add ambient")
    (fault,) = _faults("spare: {kind: hot}\n")
    assert _told(fault) == ("missing-key", 1, 1, "An odd lead's run has no length.", "add length")
    (fault,) = _faults("leads:\n- kind: hot\n  to: S1\n")
    assert _told(fault) == ("missing-key", 2, 3, "An odd lead's run has no length.", "add length")
    assert (fault.place.end_line, fault.place.end_column) == (2, 7)


def test_a_decimal_comma_in_braces_is_told_as_one() -> None:
    """A comma inside braces ends the value, so that the rest of the number seems a key; the mend says so."""
    (fault,) = _faults("spare: {length: 14,5 in}\n")
    assert _told(fault) == (
        "unknown-key", 1, 20, "5 in is no key of an odd lead's run.",
        "write a decimal point, if this was meant as one number: a comma ends the value before it",
    )  # fmt: skip


def test_an_empty_value_is_told_at_its_key() -> None:
    """Nothing cannot be underlined, so its key is; an empty text in quotes is underlined itself."""
    (fault,) = _faults("rooms:\n  cabin:\n    ambient:\n    title: x\n")
    assert _told(fault) == (
        "bad-value", 3, 5, "Nothing is written here; a temperature is needed.", "write a temperature",
    )  # fmt: skip
    (fault,) = _faults("rooms: {cabin: {ambient: 45, title: ''}}\n")
    assert _told(fault) == ("bad-value", 1, 37, "Nothing is written here; a text is needed.", "write a text")


def test_a_lost_value_breeds_no_second_fault() -> None:
    """A record that lacks a value already told is left out without a fault of its own."""
    plan, reading = _read("rooms: {cabin: {ambient: 5 mm}, plenum: 120}\n")
    assert [_told(each) for each in reading.faults] == [
        ("wrong-unit", 1, 26, "mm measures length; a temperature is needed here.",
         "write a temperature such as 120 degC"),
    ]  # fmt: skip
    assert plan is not None
    assert list(plan.rooms) == ["plenum"]
    assert reading.has_lost_values


def test_an_alias_breeds_no_second_fault() -> None:
    """What the reader of the text has refused is not told again by the key that needs it."""
    plan, reading = _read("rooms: {cabin: {ambient: *hot}, plenum: 120}\nmarks: [*hot]\nspare: *hot\n")
    assert [(each.rule, each.place.line) for each in reading.faults] == [("alias-or-tag", 1)] + [
        ("alias-or-tag", line) for line in (2, 3)
    ]
    assert plan is not None
    assert (list(plan.rooms), plan.marks, plan.spare) == (["plenum"], (), None)
    assert reading.has_lost_values


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("rooms: 5\n", ("bad-value", 1, 8, "Each room is written as a key here.", "write room: value")),
        ("rooms: {'a b': 5}\n", ("bad-value", 1, 9, "'a b' cannot be a room.",
                                 "use letters, digits and _ . + - (a slash parts a connector from its cavity)")),
        ("spare: 5 mm\n", ("bad-value", 1, 8, "An odd lead's run is written as a mapping here.",
                           "write key: value pairs, such as length: ..., to: ..., kind: ...")),
        ("rooms: {cabin: [1, 2]}\n", ("bad-value", 1, 16, "A room is written as a mapping here.",
                                      "write key: value pairs, such as ambient: ..., title: ...")),
        ("spare: {length: 5 mm, kind: hott}\n", ("bad-value", 1, 29, "'hott' is not one of hot, cold.",
                                                 "did you mean hot?")),
    ],
)  # fmt: skip
def test_a_wrong_shape_is_told_in_one_sentence(text: str, told: tuple[str, int, int, str, str]) -> None:
    """A value of another shape than its key takes is told at the value, with the shape to write."""
    (fault,) = _faults(text)
    assert _told(fault) == told


def test_all_faults_of_a_file_are_told_in_one_run() -> None:
    """Every fault of every record is told, in the order in which the file has them."""
    text = """\
rooms:
  cabin: {ambient: 5 mm}
  cabin: 6
  plenum: {titel: x}
  engine bay: 5
leads:
  - {length: 0 mm}
  - {length: 5 mm, to: [C1/1, 'a b'], kind: warm}
markz: 5
"""
    faults = sorted(_faults(text), key=lambda each: each.place.start)
    assert [(each.rule, each.place.line) for each in faults] == [
        ("wrong-unit", 2),
        ("duplicate-key", 3),
        ("missing-key", 4),
        ("unknown-key", 4),
        ("bad-value", 5),
        ("bad-value", 7),
        ("bad-value", 8),
        ("bad-value", 8),
        ("unknown-key", 9),
    ]


def test_keys_are_declared_once_and_found_by_name() -> None:
    """The declaration of a key holds its field, kind, meaning and whether it has to stand."""
    assert {name: (field, declared.is_required) for name, (field, declared) in keys_of(_Room).items()} == {
        "ambient": ("ambient_degc", True),
        "title": ("title", False),
    }
    assert keys_of(_Lead)["kind"] == (
        "kind",
        Key("kind", Choice(("hot", "cold")), "Kind.", is_required=False, default_words="hot"),
    )
    assert keys_of(_Lead) is keys_of(_Lead)


def test_a_record_that_no_file_holds_stands_nowhere() -> None:
    """A record made by the program has no place, and says so for each of its values."""
    room = _Room(ambient_degc=Quantity(20.0))
    assert (room.place, room.where("title"), NOWHERE.file) == (NOWHERE, NOWHERE, "")


def test_the_records_of_a_file_are_listed_once_each() -> None:
    """The records that a file can hold are found through maps and lists, root first, in the order of the keys."""
    assert records_under(_Plan) == [_Plan, _Room, _Lead]


def test_headings_and_links_of_a_record_agree() -> None:
    """A heading is the noun without its article; its link has no sign that Markdown readers leave out."""
    assert [(heading(each), anchor(each)) for each in (_Plan, _Room, _Lead)] == [
        ("plan", "plan"),
        ("room", "room"),
        ("odd lead's run", "odd-leads-run"),
    ]


def test_a_place_prints_as_compilers_print_it() -> None:
    """A place is printed as file, line and column."""
    assert str(Place("designs/six.yaml", 0, 3, 41, 52, 41, 55)) == "designs/six.yaml:41:52"
