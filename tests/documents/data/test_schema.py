"""JSON Schema: it takes what the reader takes, and refuses unknown keys, wrong units and wrong shapes."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, make_dataclass
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from harnessgen.documents.data.schema import json_schema
from harnessgen.measures.colour_code import ColourCode
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.quantity import CURRENT, LENGTH, RATIO, TEMPERATURE, Quantity
from harnessgen.source.container import ListOf, MapOf, RecordOf, take
from harnessgen.source.key import Record, key
from harnessgen.source.kind import Choice, Count, End, EndOf, Name, Reading, Ref, Text
from harnessgen.source.measure_kind import Colour, Measure, Size
from harnessgen.source.reader import read_tree


@dataclass(frozen=True, slots=True, kw_only=True)
class Room(Record):
    """A region with one temperature.

    More about it.
    """

    ambient_degc: Quantity = key("ambient", Measure(TEMPERATURE), "Highest ambient temperature.")
    title: str = key("title", Text(), "Words.", default="", default_words="no title")

    noun = "a room"
    shorthand = "ambient_degc"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lead(Record):
    """One lead."""

    length_mm: Quantity = key("length", Measure(LENGTH), "Length.")
    build: Quantity | None = key("build", Measure(LENGTH, only_tolerance=True), "Build tolerance.", default=None)
    share: Quantity | None = key("share", Measure(RATIO), "Share.", default=None)
    to: tuple[End, ...] = key("to", ListOf(EndOf()), "Ends.", default=())
    room: str = key("room", Ref("room"), "Room.", default="")
    size: ConductorSize | None = key("size", Size(), "Size.", default=None)
    colour: ColourCode | None = key("color", Colour(), "Colour.", default=None)
    ways: int = key("ways", Count(1, 8), "Ways.", default=1)
    kind: str = key("kind", Choice(("make", "1")), "Kind.", default="make")
    mark: str = key("mark", Name("mark"), "Mark.", default="")
    next: "Lead | None" = None

    noun = "a lead"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spare(Record):
    """Nothing required."""

    current_a: Quantity | None = key("current", Measure(CURRENT, above=0), "Current.", default=None)

    noun = "a spare"


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan(Record):
    """A whole file.

    With more lines.
    """

    rooms: Mapping[str, Room] = key("rooms", MapOf(RecordOf(Room), "room"), "Rooms.", factory=dict)
    leads: tuple[Lead, ...] = key("leads", ListOf(RecordOf(Lead)), "Leads.", default=())
    spare: Spare | None = key("spare", RecordOf(Spare), "Spare.", default=None)

    noun = "the plan"


_SCHEMA = json_schema(Plan)
_VALIDATOR = Draft202012Validator(_SCHEMA)

_GOOD = [
    "{}",
    "rooms: {cabin: 45 degC, plenum: {ambient: 248 degF, title: x}, box: 40}",
    "rooms: {cabin: {ambient: 45 +/- 5 degC, title: on}}",
    "rooms:",
    "leads:",
    "spare:",
    "spare: {current: 7.5 A}",
    "leads: {length: 410 mm}",
    "leads: [{length: 410 +/- 8 mm}, {length: 14 1/2 in}, {length: 14-1/2 +/- 1/4 in}, {length: 1e3}]",
    "leads: [{length: 410 mm +10/-0}, {length: 410 -2/+3 mm}, {length: 410±8}, {length: .5 m}, {length: 5. mm}]",
    "leads: [{length: 410 mm +/- 2 %}, {length: 12, build: +10/-0}, {length: 12, build: +/- 5 mm}]",
    "leads: {length: 5, share: 75 % +/- 5 %}",
    "leads: {length: 5, to: C1/1}",
    "leads: {length: 5, to: [C1/1, S1, K1/87a]}",
    "leads: {length: 5, to: }",
    "leads: {length: 5, to: 1}",
    "leads: {length: 5, size: 18 AWG}",
    "leads: {length: 5, size: 2/0 AWG}",
    "leads: {length: 5, size: 0000 AWG}",
    "leads: {length: 5, size: 0.75 mm2}",
    "leads: {length: 5, size: 0.75}",
    "leads: {length: 5, color: BU/WH}",
    "leads: {length: 5, color: GNYE}",
    "leads: {length: 5, ways: 8, kind: 1, mark: 010, room: 7}",
    "leads: {length: 5, kind: make, mark: 21A, room: plenum}",
]
_BAD = [
    "roomz: {}",
    "rooms: {cabin: {ambient: 45, titel: x}}",
    "rooms: {cabin: {title: x}}",
    "rooms: 5",
    "rooms: {cabin: 45 mm}",
    "rooms: {cabin: [45]}",
    "leads: {length: 410 A}",
    "leads: {length: 14,5 mm}",
    "leads: {length: about 5}",
    "leads: {length: [5]}",
    "leads: {}",
    "leads: {length: 5, build: 5 mm}",
    "leads: {length: 5, to: C1/1/2}",
    "leads: {length: 5, to: [a b]}",
    "leads: {length: 5, size: 18 awg}",
    "leads: {length: 5, color: rd}",
    "leads: {length: 5, color: RD/BU/GN}",
    "leads: {length: 5, ways: 9}",
    "leads: {length: 5, ways: some}",
    "leads: {length: 5, kind: 2}",
    "leads: {length: 5, mark: a b}",
    "leads: {length: 5, next: {length: 5}}",
    "spare: {current: 5 mm}",
    "spare: [1]",
]


def _faults(text: str) -> list[str]:
    tree = read_tree("plan.yaml", text + "\n")
    reading = Reading(faults=list(tree.faults))
    assert tree.root is not None
    take(RecordOf(Plan), tree.root, reading, tree.root.place)
    return [fault.message for fault in reading.faults]


def test_the_schema_is_one() -> None:
    """The schema is itself valid by its dialect, draft 2020-12, and can be written as JSON."""
    Draft202012Validator.check_schema(_SCHEMA)
    assert json.loads(json.dumps(_SCHEMA)) == _SCHEMA


@pytest.mark.parametrize("text", _GOOD)
def test_what_the_reader_takes_an_editor_takes(text: str) -> None:
    """A file without faults is valid, as an editor's YAML reader hands it to the schema."""
    assert _faults(text) == []
    assert list(_VALIDATOR.iter_errors(yaml.safe_load(text))) == []


@pytest.mark.parametrize("text", _BAD)
def test_what_the_reader_refuses_an_editor_marks(text: str) -> None:
    """Unknown keys, missing keys, wrong units and wrong shapes are faults for the reader and for the schema."""
    assert _faults(text) != []
    assert list(_VALIDATOR.iter_errors(yaml.safe_load(text))) != []


def test_the_schema_names_itself_and_the_format() -> None:
    """Dialect, name of the format, title and description stand at the top."""
    assert {name: _SCHEMA[name] for name in ("$schema", "$id", "title", "description", "$ref")} == {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:harnessgen:format:2",
        "title": "plan",
        "description": "A whole file.",
        "$ref": "#/$defs/Plan",
    }


def test_every_record_and_key_is_described() -> None:
    """Editors show each record's first line, and each key's meaning and what holds without it."""
    definitions: dict[str, Any] = _SCHEMA["$defs"]
    assert {name: (each["title"], each["description"]) for name, each in definitions.items()} == {
        "Plan": ("plan", "A whole file."),
        "Room": ("room", "A region with one temperature."),
        "Lead": ("lead", "One lead."),
        "Spare": ("spare", "Nothing required."),
    }
    properties = definitions["Room"]["anyOf"][0]["properties"]
    assert {name: each["description"] for name, each in properties.items()} == {
        "ambient": "Highest ambient temperature.",
        "title": "Words. Without it: no title.",
    }
    assert definitions["Plan"]["anyOf"][0]["properties"]["spare"] == {"$ref": "#/$defs/Spare", "description": "Spare."}


def test_two_records_of_one_class_name_are_refused() -> None:
    """Definitions go by class names, so two records of one name cannot stand in one schema."""
    whole = make_dataclass(
        "Plan",
        [("plan", Plan, key("plan", RecordOf(Plan), "Plan."))],
        bases=(Record,),
        frozen=True,
        kw_only=True,
        namespace={"noun": "a whole"},
    )
    with pytest.raises(ValueError, match="two records under Plan have the same class name"):
        json_schema(whole)
