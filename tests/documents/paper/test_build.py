"""Paper in a build: a PDF beside each page and drawing, or one remark where there is no typesetter."""

import io
import re
from pathlib import Path
from xml.etree import ElementTree

import pypdf
import pytest

from harnessgen.builder import Built, Wishes, build_files
from harnessgen.documents.paper.paper import design_hash
from harnessgen.run import examine_text, prove
from harnessgen.sheets.svg_writer import ALLOWED
from tests.documents.paper.test_paper import fonts
from tests.documents.small_designs import LAMP
from tests.outside.fakes import MISSING, fake_library

PRINTED = {
    "cut-list.pdf",
    "test/bench.pdf",
    "test/powered.pdf",
    "test/vehicle.pdf",
    "test/after-service.pdf",
    "test/lamp-bench.pdf",
    "test/lamp-vehicle.pdf",
    "circuit.pdf",
    "layout.pdf",
    "formboard.pdf",
    "protection.pdf",
    "volts.pdf",
}
TABLES = {
    "cut-list", "splice-schedule", "cavity-chart", "covering-list", "assembly-order", "bundles", "mass",
    "sample-crimps", "parts-to-buy", "volts",
}  # fmt: skip


def built(text: str = LAMP) -> Built:
    return build_files(prove(examine_text(text)))


def names(made: Built, ending: str) -> set[str]:
    return {name for name in made.files if name.endswith(ending)}


def test_lists_and_drawings_are_printed_with_the_hash_of_the_design() -> None:
    """Each list and each drawing has its PDF; every page bears the hash of the text it was made from."""
    made = built()
    assert names(made, ".pdf") == PRINTED
    assert {f"{stem}.csv" for stem in (*TABLES, "test/coverage", "test/missed")} == names(made, ".csv")
    for name in PRINTED:
        for page in pypdf.PdfReader(io.BytesIO(made.files[name])).pages:
            assert f"design {design_hash([LAMP])}" in page.extract_text()


def test_every_font_of_every_pdf_is_inside() -> None:
    """Lists, test sheets, drawings, charts and the formboard: no page hangs on what a printer has."""
    made = built()
    for name in PRINTED:
        found = fonts(made.files[name])
        assert found, name
        assert all(found.values()), name


def test_every_drawing_keeps_to_the_list_of_elements() -> None:
    """Each SVG of a build, and each picture inside a page, has no element or attribute but those of the list."""
    made = built()
    texts = {name: made.files[name].decode() for name in names(made, ".svg")}
    for name in names(made, ".html"):
        for number, text in enumerate(re.findall("<svg.*?</svg>", made.files[name].decode(), re.DOTALL)):
            texts[f"{name} {number}"] = text
    assert any(name.startswith("protection") for name in texts)
    assert any(".html" in name for name in texts)
    for name, text in texts.items():
        for element in ElementTree.fromstring(text).iter():
            tag = element.tag.rpartition("}")[2]
            assert tag in ALLOWED, name
            assert set(element.attrib) <= ALLOWED[tag], (name, tag)


@pytest.mark.parametrize(
    ("word", "lists_mm", "procedure_mm", "drawings_mm"),
    [
        ("a4", (297.0, 210.0), (210.0, 297.0), {(297.0, 210.0), (420.0, 297.0)}),
        ("letter", (279.4, 215.9), (215.9, 279.4), {(279.4, 215.9), (431.8, 279.4)}),
        ("a3", (420.0, 297.0), (297.0, 420.0), {(420.0, 297.0)}),
    ],
)
def test_pages_have_the_size_that_was_asked_for(
    word: str,
    lists_mm: tuple[float, float],
    procedure_mm: tuple[float, float],
    drawings_mm: set[tuple[float, float]],
) -> None:
    """ISO 216 A4 and A3, and 8.5 by 11 in with its double sheet, exact; a second build gives the same bytes."""
    made = build_files(prove(examine_text(LAMP)), Wishes(word))
    sizes_mm = {
        "cut-list.pdf": {lists_mm},
        "volts.pdf": {lists_mm},
        **{each: {procedure_mm} for each in PRINTED if each.startswith("test/")},
        "layout.pdf": drawings_mm,
        "circuit.pdf": {*drawings_mm, procedure_mm},
        "protection.pdf": drawings_mm,
        "formboard.pdf": {lists_mm, procedure_mm},
    }
    assert set(sizes_mm) == names(made, ".pdf")
    for name, allowed in sizes_mm.items():
        pages = pypdf.PdfReader(io.BytesIO(made.files[name])).pages
        sizes = {tuple(float(each) / 72 * 25.4 for each in page.mediabox[2:]) for page in pages}
        for size in sizes:
            assert any(size == pytest.approx(each, abs=0.01) for each in allowed), name
    for name, (wide, high) in {"cut-list.html": lists_mm, "test/bench.html": procedure_mm}.items():
        assert f"@page {{ size: {wide:g}mm {high:g}mm; " in made.files[name].decode()
    # Remade in full: nothing may hang on what the first build left in caches.
    assert build_files(prove(examine_text(LAMP)), Wishes(word)).files == made.files


def test_the_title_block_of_a_drawing_has_the_hash_too() -> None:
    """A drawing that is passed on as SVG says from which text it was made."""
    made = built()
    for name in names(made, ".svg"):
        assert f">design {design_hash([LAMP])}</text>" in made.files[name].decode(), name


def test_a_drawing_that_is_not_for_build_says_so_on_paper() -> None:
    """A design with an error (a fuse too large for its wire) is stamped on every page of every PDF."""
    made = built(LAMP.replace("rating: 5 A", "rating: 30 A"))
    for name in PRINTED:
        for page in pypdf.PdfReader(io.BytesIO(made.files[name])).pages:
            assert "NOT RELEASED" in page.extract_text(), name


def test_without_typesetter_there_is_one_remark_and_no_pdf(tmp_path: Path) -> None:
    """Where typst is missing the build is whole but for the PDF, and one line says so, and how it is installed."""
    with fake_library(tmp_path, "typst", MISSING):
        made = built()
    assert names(made, ".pdf") == set()
    assert [each for each in made.remarks if "PDF" in each] == [
        "The PDF documents are missing: typst is not installed; install it with: pip install typst"
    ]
    assert "cut-list.html" in made.files
    assert "circuit.svg" in made.files
