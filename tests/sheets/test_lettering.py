"""Lettering: the table of widths is that of the packaged font, and any text can be measured."""

import io
import json
from importlib import resources

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from harnessgen.sheets.lettering import (
    ASCENT_EM,
    CAP_HEIGHT_EM,
    DESCENT_EM,
    drawn_text,
    fit_text,
    font_bytes,
    text_box,
    text_width_mm,
    wrap_text,
)


@pytest.mark.parametrize("bold", [False, True])
def test_every_width_is_the_advance_of_the_packaged_font(bold: bool) -> None:
    """The table names exactly the characters of the packaged face, each with its advance."""
    font = TTFont(io.BytesIO(font_bytes(bold)))
    held = json.loads(resources.files("harnessgen.sheets").joinpath("font/widths.json").read_text("ascii"))
    glyphs = font.getGlyphSet()
    expected = {chr(code): glyphs[name].width for code, name in font.getBestCmap().items()}
    assert held["units_per_em"] == font["head"].unitsPerEm
    assert held["bold" if bold else "regular"]["advance"] == expected


@pytest.mark.parametrize("bold", [False, True])
def test_the_box_of_each_character_holds_its_ink(bold: bool) -> None:
    """For each character of the packaged face, the outline lies within the box that the lettering states."""
    font = TTFont(io.BytesIO(font_bytes(bold)))
    glyphs, em = font.getGlyphSet(), font["head"].unitsPerEm
    for code, name in font.getBestCmap().items():
        pen = BoundsPen(glyphs)
        glyphs[name].draw(pen)
        if pen.bounds is None or chr(code).isspace():
            continue
        left, low, right, high = (edge / em for edge in pen.bounds)
        box = text_box(chr(code), 0, 0, 1.0, bold=bold)
        if drawn_text(chr(code)) == "":
            continue
        assert box.x0 <= left + 1e-9, chr(code)
        assert right <= box.x1 + 1e-9, chr(code)
        assert -box.y0 >= high - 1e-9, chr(code)
        assert -box.y1 <= low + 1e-9, chr(code)


def test_the_subset_covers_what_the_drawings_promise() -> None:
    """Latin with accents, Greek and the symbols of drawings have glyphs; there is no kerning or ligature table left."""
    for bold in (False, True):
        font = TTFont(io.BytesIO(font_bytes(bold)))
        lacking = [sign for sign in "AZaz09ÄÖÜßéèçñøåŁőžşΩµαω°±×–—·→←✓☐⌀≤≥²³№" if ord(sign) not in font.getBestCmap()]
        assert lacking == []
        assert not {"GPOS", "GSUB", "kern"} & set(font.keys())
        assert font["name"].getDebugName(1) == "DejaVu Sans"
    assert "Bitstream Vera" in resources.files("harnessgen.sheets").joinpath("font/LICENCE.txt").read_text("utf-8")


def test_a_capital_is_as_high_as_stated() -> None:
    """The stated cap height is that of H in the packaged face."""
    font = TTFont(io.BytesIO(font_bytes()))
    pen = BoundsPen(font.getGlyphSet())
    font.getGlyphSet()["H"].draw(pen)
    assert pen.bounds is not None
    assert pen.bounds[3] / font["head"].unitsPerEm == pytest.approx(CAP_HEIGHT_EM, abs=5e-4)


def test_signs_without_glyph_count_one_em_and_combining_signs_nothing() -> None:
    """Chinese and emoji count 1 em each, a combining accent nothing."""
    assert text_width_mm("汽车😀", 3.0) == pytest.approx(9.0)
    assert text_width_mm("e\u0331", 3.0) == text_width_mm("e", 3.0)


@given(st.text(), st.booleans())
def test_any_text_has_a_box_and_xml_can_hold_it(text: str, bold: bool) -> None:
    """No text of a design stops a drawing: width is at least nought, and only signs of XML 1.0 are left."""
    box = text_box(text, 5.0, 5.0, 2.5, bold=bold, anchor="middle")
    assert box.height_mm >= 2.5 * (ASCENT_EM + DESCENT_EM) - 1e-9
    assert box.width_mm >= text_width_mm(text, 2.5, bold) - 1e-9
    shown = drawn_text(text)
    assert drawn_text(shown) == shown
    for sign in shown:
        code = ord(sign)
        assert 0x20 <= code <= 0xD7FF or 0xE000 <= code <= 0xFFFD or code >= 0x10000


@given(st.sampled_from(["C10", "Ångström", "j", "VT/WH 0.75"]), st.sampled_from(["start", "middle", "end"]))
def test_turning_and_anchoring_keep_the_size_of_a_text(text: str, anchor: str) -> None:
    """A quarter turn exchanges width and height; the anchor lies at the start, middle or end of the advance."""
    level = text_box(text, 10, 20, 3, anchor=anchor)  # type: ignore[arg-type]
    for rotation in (90, -90):
        turned = text_box(text, 10, 20, 3, anchor=anchor, rotation=rotation)  # type: ignore[arg-type]
        assert turned.width_mm == pytest.approx(level.height_mm)
        assert turned.height_mm == pytest.approx(level.width_mm)
    upwards = text_box("Hx", 0, 0, 3, rotation=-90)
    assert upwards.y1 == pytest.approx(0)
    assert upwards.y0 == pytest.approx(-text_width_mm("Hx", 3))


@given(st.text(max_size=40), st.floats(1.0, 60.0))
def test_fitted_text_fits(text: str, width_mm: float) -> None:
    """What `fit_text` returns is no wider than asked, and whole where it could be."""
    shown, size_mm = fit_text(text, width_mm, 4.0, 2.0)
    assert text_width_mm(shown, size_mm) <= width_mm + 1e-6
    assert 2.0 <= size_mm <= 4.0
    if text_width_mm(text, 2.0) <= width_mm:
        assert shown == drawn_text(text)


@given(st.lists(st.sampled_from(["left", "bank", "injector", "Ω"]), max_size=20), st.floats(5, 60))
def test_wrapped_text_keeps_all_words_in_order(words: list[str], width_mm: float) -> None:
    """Breaking lines loses no word, and only a lone word is wider than asked."""
    lines = wrap_text(" ".join(words), width_mm, 2.5)
    assert " ".join(lines) == " ".join(words)
    for line in lines:
        assert text_width_mm(line, 2.5) <= width_mm or " " not in line
