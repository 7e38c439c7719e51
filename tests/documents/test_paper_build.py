"""Paper in a build: a PDF beside each page and drawing, or one remark where there is no typesetter."""

import io
import sys

import pypdf
import pytest

from harnessgen.build import Built, build_files
from harnessgen.documents import paper
from harnessgen.documents.paper import design_hash
from harnessgen.run import examine_text
from tests.documents.small_designs import LAMP

PRINTED = {"cut-list.pdf", "test-procedure.pdf", "circuit.pdf", "layout.pdf"}
TABLES = {
    "cut-list", "splice-schedule", "cavity-chart", "covering-list", "assembly-order", "bundles", "mass",
    "sample-crimps", "parts-to-buy",
}  # fmt: skip


def built(text: str = LAMP) -> Built:
    return build_files(examine_text(text))


def names(made: Built, ending: str) -> set[str]:
    return {name for name in made.files if name.endswith(ending)}


def test_lists_and_drawings_are_printed_with_the_hash_of_the_design() -> None:
    """Each list and each drawing has its PDF; every page bears the hash of the text it was made from."""
    made = built()
    assert names(made, ".pdf") == PRINTED
    assert {f"{stem}.csv" for stem in TABLES} == names(made, ".csv")
    for name in PRINTED:
        for page in pypdf.PdfReader(io.BytesIO(made.files[name])).pages:
            assert f"design {design_hash([LAMP])}" in page.extract_text()


def test_a_drawing_that_is_not_for_build_says_so_on_paper() -> None:
    """A design with an error (a fuse too large for its wire) is stamped on every page of every PDF."""
    made = built(LAMP.replace("rating: 5 A", "rating: 30 A"))
    for name in PRINTED:
        for page in pypdf.PdfReader(io.BytesIO(made.files[name])).pages:
            assert "NOT FOR BUILD" in page.extract_text(), name


def test_without_typesetter_there_is_one_remark_and_no_pdf(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where typst is missing the build is whole but for the PDF, and one line says so."""
    monkeypatch.setitem(sys.modules, "typst", None)
    paper._fonts.cache_clear()
    made = built()
    assert names(made, ".pdf") == set()
    assert [each for each in made.remarks if "PDF" in each] == ["The PDF documents are missing: typst is not installed"]
    assert "cut-list.html" in made.files
    assert "circuit.svg" in made.files
