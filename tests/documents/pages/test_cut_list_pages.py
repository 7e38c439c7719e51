"""Schedules as CSV and as pages: nothing in a design becomes a formula or markup."""

import csv
import io
import re
from html.parser import HTMLParser
from operator import itemgetter

import pytest

from harnessgen.documents.data.csv_tables import defused, table_csv
from harnessgen.documents.pages.page import page_title
from harnessgen.documents.pages.tables import tables_page
from harnessgen.evidence.finding import Finding, Severity
from harnessgen.schedules.results.status import Status, status_of
from harnessgen.schedules.tables.table import Column, Table, number_column, tick_column
from harnessgen.schedules.wires.cut_list import cut_rows, cut_table
from harnessgen.source.place import NOWHERE
from tests.line import FLAT_SIX, edited, physics_of

ERROR = status_of([Finding("wire-overload", Severity.ERROR, "21A", NOWHERE, "Wire 21A <b>carries</b> too much.")])
TABLE = Table(
    "t",
    "T",
    (Column("name", "name", itemgetter(0)), number_column("mm", "long", "mm", itemgetter(1)), tick_column()),
    (("x", 1.25),),
)
NASTY = "<script>alert(1)</script>"


def read(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline="")))


class Elements(HTMLParser):
    """Names of all elements of a page, and its attributes."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.names: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.names.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]


def cut_page(text: str, status: Status) -> str:
    physics = physics_of(text)
    section = physics.network.sections.sections[0]
    table = cut_table(cut_rows(physics.network, physics, section), section, "mm")
    return tables_page(page_title(physics.network, "Cut list", section), status, [table])


def test_the_cut_list_reads_back_from_csv() -> None:
    """Every wire has a line with its length, both sections in one file under one heading, lines ended by CR LF."""
    physics = physics_of(FLAT_SIX)
    tables = [
        cut_table(cut_rows(physics.network, physics, each), each, "mm") for each in physics.network.sections.sections
    ]
    text = table_csv(tables, Status())
    head, *lines = read(text)
    assert head[:3] == ["section", "mark", "circuit"]
    assert "done" not in head
    cut = {line[1]: float(line[head.index("cut_mm")]) for line in lines}
    assert cut == {mark: length.cut_mm for mark, length in physics.lengths.items()}
    assert text.count("\r\n") == text.count("\n") == len(lines) + 1


@pytest.mark.parametrize("text", ["=1+1", "+10/-0", "-2", "@x", " =1", "\t=1", "\u200b=1", "\uff1d1", "|cmd", "%a"])
def test_no_text_is_a_formula(text: str) -> None:
    """Whatever a spreadsheet may take for a formula begins with an apostrophe, blanks before it or not."""
    assert defused(text).startswith("'")


def test_what_is_no_formula_stays_as_it_is() -> None:
    """Marks, colours and minus signs inside a text are untouched; a number stays a number."""
    for text in ("21A", "BU/WH", "a-b", "C1/14", "über = 3"):
        assert defused(text) == text
    table = Table("t", "T", (number_column("v", "v", "V", float),), (-3.5,))
    assert read(table_csv([table], Status()))[1][0] == "-3.5"


def test_quotes_commas_and_lines_survive() -> None:
    """RFC 4180: a field with comma or quote is quoted; a line break becomes a blank, so a row is one line."""
    table = Table("t", "T", (Column("a", "a", str), Column("b", "b", lambda _: "z")), ('say "x", then\ny',))
    text = table_csv([table], Status())
    assert '"say ""x"", then y",z' in text
    assert read(text)[1][:2] == ['say "x", then y', "z"]


def test_csv_says_what_it_is_released_for() -> None:
    """Every line of the CSV says what the harness is released for."""
    assert read(table_csv([TABLE], ERROR))[1][-1].startswith("NOT RELEASED")
    assert read(table_csv([TABLE], Status()))[1][-1] == "released for cutting, power and running"
    with pytest.raises(ValueError, match="no table"):
        table_csv([], Status())
    with pytest.raises(ValueError, match="different columns"):
        table_csv([TABLE, Table("u", "U", (Column("b", "b", str),), ())], Status())


def test_a_page_fetches_and_runs_nothing() -> None:
    """No script, link, image or foreign address; one style sheet inside the page."""
    elements = Elements(cut_page(FLAT_SIX, Status()))
    assert not {"script", "link", "img", "iframe", "object", "a", "form"} & set(elements.names)
    assert all(name not in ("src", "href", "style") and not name.startswith("on") for name, _ in elements.attributes)
    assert elements.names.count("style") == 1
    assert not re.search(r"https?://|url\(|@import", cut_page(FLAT_SIX, Status()))


def test_text_from_a_design_never_becomes_markup() -> None:
    """A title with a tag in it is printed as it was typed."""
    text = edited(("Secondary injector harness for a supercharged flat six", f"'{NASTY}'"))
    page = cut_page(text, ERROR)
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert "Wire 21A &lt;b&gt;carries" in page


def test_the_banner_stands_while_errors_stand() -> None:
    """NOT RELEASED is on the page with the errors themselves, and only then."""
    assert "NOT RELEASED" in cut_page(FLAT_SIX, ERROR)
    assert "wire-overload" in cut_page(FLAT_SIX, ERROR)
    assert "NOT RELEASED" not in cut_page(FLAT_SIX, Status())


def test_the_title_block_names_the_section() -> None:
    """Title, number of the section, revision, date and section stand at the head; a box to tick in every row."""
    page = cut_page(FLAT_SIX, Status())
    for piece in ("Cut list", "FS-210-A", "Engine bay section", "2026-11-20", "supercharged flat six"):
        assert piece in page
    assert page.count('class="box"') == sum(wire.section == "A" for wire in physics_of(FLAT_SIX).network.wires) == 16
    assert "local codes" in page.lower()


def test_the_same_design_gives_the_same_page() -> None:
    """Byte-identical on repetition."""
    assert cut_page(FLAT_SIX, ERROR) == cut_page(FLAT_SIX, ERROR)
