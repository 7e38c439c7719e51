"""Paper: the PDF is read back with another library, and says what was put in, at the size that was meant."""

import io
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdf
import pytest

from harnessgen.documents.pages.page import PageTitle
from harnessgen.documents.paper.paper import PaperUnavailable, design_hash, sheets_pdf, tables_pdf
from harnessgen.evidence.finding import Finding, Severity
from harnessgen.schedules.results.status import Status, status_of
from harnessgen.schedules.tables.table import Column, Table, number_column, tick_column
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Polyline, TextMark
from harnessgen.sheets.sheet import PAPERS, Sheet
from harnessgen.sheets.title_block import TitleBlock
from harnessgen.source.place import NOWHERE
from tests.outside.fakes import MISSING, fake_library

POINTS_PER_MM = 72 / 25.4
TITLE = PageTitle("Cut list", "A harness", "XY-1", "C", "2026-11-20")
COLUMNS = (Column("name", "name", str), number_column("mm", "long", "mm", lambda _: 1.5), tick_column())
ERROR = status_of([Finding("wire-overload", Severity.ERROR, "21A", NOWHERE, "Wire 21A carries too much.")])
HOSTILE = (
    "#panic()", "*bold*", "_slanted_", "$x$", "`raw`", 'say "x"', "a\\b", "<label>", "@ref", "= head", "// gone",
    "#sys.inputs", "]", "/* gone */", "https://example.org", "~", "--",
)  # fmt: skip


def read(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


def text_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in read(pdf).pages)


def table(*names: str, count: int = 1) -> Table[str]:
    return Table("t", "A table", COLUMNS, tuple(name for name in names for _ in range(count)), ("A note.",))


def drawing(paper_name: str, **block: Any) -> Sheet:
    title = replace(TitleBlock("Circuit of all", "XY-1", "C", "2026-11-20", 1, 1), **block)
    line = Polyline(((20.0, 50.0), (120.0, 50.0)), 0.5, kind=MarkKind.SYMBOL)
    return Sheet(PAPERS[paper_name], title, (line, TextMark("INJ3 31E", 30.0, 40.0, 3.0, kind=MarkKind.LABEL)))


def fonts(pdf: bytes) -> dict[str, bool]:
    """Names of all fonts that the pages use, and whether the font program is inside."""
    found: dict[str, bool] = {}

    def look(resources: Any) -> None:
        for font in resources.get("/Font", {}).values():
            held = font.get_object()
            inner = held["/DescendantFonts"][0].get_object()
            descriptor = inner["/FontDescriptor"]
            found[str(held["/BaseFont"])] = any(key in descriptor for key in ("/FontFile2", "/FontFile3"))
        for form in resources.get("/XObject", {}).values():
            look(form.get_object().get("/Resources", {}))

    for page in read(pdf).pages:
        look(page["/Resources"])
    return found


def matrix_product(a: tuple[float, ...], b: tuple[float, ...]) -> tuple[float, ...]:
    return (
        a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3], a[4] * b[0] + a[5] * b[2] + b[4], a[4] * b[1] + a[5] * b[3] + b[5],
    )  # fmt: skip


def straight_lines_pt(page: Any) -> list[float]:
    """Lengths of all level lines of two points on a page, in points of the page."""
    lengths: list[float] = []
    stack: list[tuple[float, ...]] = []
    matrix: tuple[float, ...] = (1, 0, 0, 1, 0, 0)
    path: list[tuple[float, float]] = []
    for operands, operator in page.get_contents().operations:
        numbers = [float(each) for each in operands if isinstance(each, int | float)]
        if operator == b"q":
            stack.append(matrix)
        elif operator == b"Q":
            matrix = stack.pop()
        elif operator == b"cm":
            matrix = matrix_product(tuple(numbers), matrix)
        elif operator == b"m":
            path = [(numbers[0], numbers[1])]
        elif operator == b"l":
            path.append((numbers[0], numbers[1]))
        elif operator == b"S":
            if len(path) == 2 and path[0][1] == path[1][1]:
                lengths.append(abs(path[1][0] - path[0][0]) * matrix[0])
            path = []
    return lengths


@pytest.mark.parametrize("name", PAPERS)
def test_a_page_has_the_size_of_its_sheet(name: str) -> None:
    """Width and height of the page are those of the paper to a thousandth of an inch, for drawings and for lists."""
    size = PAPERS[name]
    for pdf in (sheets_pdf([drawing(name)], "0"), tables_pdf(TITLE, Status(), [table("x")], "0", size)):
        box = read(pdf).pages[0].mediabox
        assert float(box.width) == pytest.approx(size.width_mm * POINTS_PER_MM, abs=0.01)
        assert float(box.height) == pytest.approx(size.height_mm * POINTS_PER_MM, abs=0.01)


def test_sheets_of_different_size_keep_their_own() -> None:
    """A set with an A4 and an A3 sheet has a page of each, in order."""
    pages = read(sheets_pdf([drawing("A4 landscape"), drawing("A3 landscape")], "0")).pages
    assert [round(float(page.mediabox.width)) for page in pages] == [842, 1191]


def test_a_line_of_100_mm_is_100_mm_on_paper() -> None:
    """A drawn line of 100 mm is 283.46 points long (72 to the inch of 25.4 mm)."""
    page = read(sheets_pdf([drawing("A4 landscape")], "0")).pages[0]
    assert any(each == pytest.approx(283.46, abs=0.05) for each in straight_lines_pt(page))


def test_lettering_is_inside_and_is_the_packaged_one() -> None:
    """Every font is embedded, and there is no other than the packaged family."""
    for pdf in (sheets_pdf([drawing("A4 landscape")], "0"), tables_pdf(TITLE, ERROR, [table("x")], "0")):
        found = fonts(pdf)
        assert found
        assert all(found.values())
        assert all("DejaVuSans" in name for name in found)


def test_text_of_a_drawing_is_text() -> None:
    """Marks, title block, hash of the design and number of the page can be found in the PDF as text."""
    text = text_of(sheets_pdf([drawing("A4 landscape"), drawing("A4 landscape")], "0123456789ab"))
    for piece in ("INJ3 31E", "Circuit of all", "design 0123456789ab", "page 2 of 2"):
        assert piece in text


def test_no_text_of_a_design_is_markup() -> None:
    """What the typesetter would take for code, markup or mathematics stands on the page as it was typed."""
    title = replace(TITLE, title="#panic() *x*", number="$y$", section="`z`")
    status = status_of([Finding("wire-overload", Severity.ERROR, "21A", NOWHERE, "#eval(`1`) *too* $much$")])
    lines = text_of(tables_pdf(title, status, [table(*HOSTILE)], "0")).splitlines()
    for each in HOSTILE:
        assert any(each in line for line in lines), each
    whole = "\n".join(lines)
    for piece in ("#panic() *x*", "$y$", "`z`", "#eval(`1`) *too* $much$"):
        assert piece in whole


def test_a_drawing_takes_hostile_text_too() -> None:
    """Title block and stamp of a drawing are text alone."""
    sheet = drawing("A4 landscape", title="#panic() $x$ \\", status="*NOT*", status_detail="</text><script>")
    text = text_of(sheets_pdf([sheet], "#panic()"))
    for piece in ("#panic() $x$ \\", "*NOT*", "</text><script>", "design #panic()"):
        assert piece in text


def test_a_word_too_long_for_its_column_is_broken_and_none_of_it_is_lost() -> None:
    """A word of 400 signs stays on the paper, in lines that together hold all of it."""
    word = "".join(chr(65 + number % 26) for number in range(400))
    text = text_of(tables_pdf(TITLE, Status(), [table(word)], "0"))
    assert word in re.sub(r"\s", "", text)


@pytest.mark.parametrize("sign", ["\x00", "\x1b", "\ud800", "\u202e", "\u4e2d", "\U0001f600"])
def test_no_sign_breaks_the_page(sign: str) -> None:
    """Control characters, half surrogates and signs without a glyph leave the rest of the row readable."""
    assert "before" in text_of(tables_pdf(TITLE, Status(), [table(f"before {sign}")], "0"))


def test_every_page_says_what_it_is_of() -> None:
    """Each page of a long list has document, number, hash and page number, and the headings of the table again."""
    pages = read(tables_pdf(TITLE, Status(), [table("x", count=120)], "0123456789ab")).pages
    assert len(pages) > 2
    for number, page in enumerate(pages, 1):
        text = page.extract_text()
        for piece in ("Cut list, XY-1, revision C", "design 0123456789ab", f"page {number} of {len(pages)}", "long"):
            assert piece in text


def test_every_page_is_stamped_while_errors_stand() -> None:
    """NOT RELEASED is on each page with an error, the error on the first; on none without."""
    stamped = read(tables_pdf(TITLE, ERROR, [table("x", count=120)], "0")).pages
    assert all("NOT RELEASED" in page.extract_text() for page in stamped)
    assert "Wire 21A carries too much." in stamped[0].extract_text()
    assert "NOT RELEASED" not in text_of(tables_pdf(TITLE, Status(), [table("x", count=120)], "0"))


def test_the_same_content_gives_the_same_bytes() -> None:
    """Byte-identical on repetition, and no date of making inside."""
    drawn, again = (sheets_pdf([drawing("A4 landscape")], "0") for _ in range(2))
    listed, repeated = (tables_pdf(TITLE, ERROR, [table("x")], "0") for _ in range(2))
    assert (drawn, listed) == (again, repeated)
    assert not any("Date" in key for pdf in (drawn, listed) for key in (read(pdf).metadata or {}))


def test_the_hash_is_of_the_texts_in_order() -> None:
    """Another text, another order or another division gives another hash; it is twelve hexadecimal signs."""
    hashes = {design_hash(texts) for texts in (["a", "b"], ["b", "a"], ["ab"], ["a", "b", ""], [])}
    assert len(hashes) == 5
    assert all(re.fullmatch("[0-9a-f]{12}", each) for each in hashes)
    assert design_hash(["a"]) == design_hash(["a"])


def test_missing_typesetter_is_told(tmp_path: Path) -> None:
    """Without typst there is one exception that says so, and nothing else breaks."""
    with fake_library(tmp_path, "typst", MISSING), pytest.raises(PaperUnavailable, match="typst is not installed"):
        tables_pdf(TITLE, Status(), [table("x")], "0")
    with pytest.raises(ValueError, match="no sheet"):
        sheets_pdf([], "0")
