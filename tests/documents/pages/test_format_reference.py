"""The reference page: every record and key once, all links lead somewhere, all examples are from the declarations."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

import pytest

from harnessgen.documents.pages.format_reference import format_page
from harnessgen.measures.colour_code import COLOURS, parse_colour
from harnessgen.measures.conductor_size import parse_size
from harnessgen.measures.quantity import DIMENSIONS, LENGTH, RESISTANCE, TEMPERATURE, Quantity, parse_quantity
from harnessgen.source.container import ListOf, MapOf, RecordOf, anchor, records_under
from harnessgen.source.key import Record, key, keys_of
from harnessgen.source.kind import Choice, Text
from harnessgen.source.measure_kind import Measure


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room(Record):
    """A room with one temperature.

    Its walls do not matter.
    """

    ambient_degc: Quantity = key("ambient", Measure(TEMPERATURE), "Highest ambient.")
    title: str = key("title", Text(), "Words (a|b).", default="", default_words="the file's")

    noun = "a builder's room"
    shorthand = "ambient_degc"
    example = """\
rooms: {cabin: 45 degC}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shelf(Record):
    """A shelf."""

    rooms: tuple[_Room, ...] = key("rooms", ListOf(RecordOf(_Room)), "Rooms.", default=())
    kind: str = key("kind", Choice(("oak", "ash")), "Wood.", default="oak", default_words="oak")

    noun = "a shelf"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan(Record):
    """A whole file."""

    shelves: Mapping[str, _Shelf] = key("shelves", MapOf(RecordOf(_Shelf), "shelf"), "Shelves.", factory=dict)
    rooms: Mapping[str, _Room] = key("rooms", MapOf(RecordOf(_Room), "room"), "Rooms.", factory=dict)

    noun = "a plan"


_PAGE = format_page(_Plan)


def test_a_record_is_a_section_of_the_page() -> None:
    """Heading, docstring, shorthand, keys and example of a record stand together, made from its declarations."""
    assert _PAGE.endswith("""\

## builder's room

A room with one temperature.

Its walls do not matter.

A single value in place of the mapping is its `ambient`.

| key | value | without it | meaning |
| --- | --- | --- | --- |
| `ambient` | temperature (`120 degC`) | **required** | Highest ambient. |
| `title` | text | the file's | Words (a\\|b). |

```yaml
rooms: {cabin: 45 degC}
```
""")


def test_records_stand_root_first_and_once() -> None:
    """The file itself comes first, then what it holds in the order of the keys, each once."""
    headings = re.findall(r"^## (.+)$", _PAGE, re.M)
    assert headings == ["How values are written", "plan", "shelf", "builder's room"]
    assert _PAGE.startswith("# Format of a plan\n\nMade from the declarations of the keys.\n\n- [plan](#plan)\n")


def test_every_key_has_its_row() -> None:
    """Each key of each record has one row in its record's table, in the order of the declarations."""
    for record in records_under(_Plan):
        section = _PAGE.split(f"\n## {record.noun.removeprefix('a ')}\n")[1].partition("\n## ")[0]
        assert re.findall(r"^\| `([^`]+)`", section, re.M) == list(keys_of(record))


def test_every_link_leads_to_a_heading() -> None:
    """The target of each link is a heading of the page, written as Markdown readers write it."""
    targets = re.findall(r"\]\(#([^)]+)\)", _PAGE)
    headings = [
        re.sub(r"[^a-z0-9 -]", "", each.lower()).replace(" ", "-") for each in re.findall(r"^#+ (.+)$", _PAGE, re.M)
    ]
    assert set(targets) == {anchor(record) for record in records_under(_Plan)}
    assert set(targets) <= set(headings)
    assert len(headings) == len(set(headings))


def test_all_units_and_colours_are_named() -> None:
    """The page names each unit of each dimension, and each colour code with its word."""
    for dimension in DIMENSIONS:
        (row,) = [line for line in _PAGE.splitlines() if line.startswith(f"| {dimension.name} |")]
        for unit in dimension.units:
            assert (f"`{unit}`" if unit != "1" else "a bare number") in row
    for code, words in COLOURS.items():
        assert f"| `{code}` | {words} |" in _PAGE


@pytest.mark.parametrize(
    "text",
    ["410 mm", "14.5 in", "1/2 in", "14 1/2 in", "14-1/2 in", "410 +/- 8 mm", "410 mm +/- 8", "410 +10/-0 mm",
     "410 -2/+3 mm"],
)  # fmt: skip
def test_the_lengths_on_the_page_are_read(text: str) -> None:
    """Each spelling of a length that the page shows is one that is read."""
    assert f"`{text}`" in _PAGE
    assert parse_quantity(text, LENGTH).value > 0


def test_the_other_values_on_the_page_are_read() -> None:
    """The temperature, resistance, sizes and colours that the page shows are read."""
    for text in ("250 degF", "12 ohm +/- 5 %", "0.75 mm2", "18 AWG", "2/0 AWG", "00 AWG", "RD", "BU/WH"):
        assert f"`{text}`" in _PAGE
    assert parse_quantity("250 degF", TEMPERATURE).value == pytest.approx(121.1, abs=0.05)
    assert parse_quantity("12 ohm +/- 5 %", RESISTANCE).plus == pytest.approx(0.6)
    assert parse_size("00 AWG") == parse_size("2/0 AWG")
    assert parse_colour("BU/WH").words == "blue with white stripe"
