"""Lettering: how wide and how high a text is, from the widths of the packaged font and nothing else.

The font is DejaVu Sans, regular and bold, cut down to Latin-1, Latin Extended-A, Greek, Cyrillic and some symbols (its
licence lies beside it). The cut keeps outlines and names and drops hinting, kerning and ligatures, so the width of a
text is the sum of its advance widths. `tests/sheets/regenerate_font.py` makes the cut and `font/widths.json`: the
advance of each character in font units, and the ink of those that leave their standing cell (accents, overhangs).

Any text of a design can be measured. A character without a glyph in the packaged font (Chinese, an emoji) counts 1 em
and is left to the reader's own fonts, squeezed or spread to that width; combining and joining characters count nothing.
"""

import json
import re
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Literal
from unicodedata import category

from harnessgen.sheets.box import Box

Anchor = Literal["start", "middle", "end"]
Rotation = Literal[0, 90, -90]
"""Degrees, clockwise on the sheet: 90 reads downwards, -90 upwards."""

FAMILY = "DejaVu Sans"
ASCENT_EM = 0.76
"""Standing height of a character above the baseline, in em; accents may go higher and are measured one by one."""
DESCENT_EM = 0.24
"""Standing depth of a character below the baseline, in em."""
CAP_HEIGHT_EM = 0.729
"""Height of a capital, in em."""

_WITHOUT_GLYPH_EM = 1.0
_WITHOUT_GLYPH_RISE_EM = 0.98
_REPLACEMENT = "\ufffd"
_JOINERS = "\u200c\u200d"
_FILES = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}


@dataclass(frozen=True, slots=True)
class _Face:
    """Metrics of one weight in em: advance of a character, and (left, low, right, high) of its ink where listed."""

    advance: dict[str, float]
    ink: dict[str, tuple[float, float, float, float]]


def _packaged(name: str) -> bytes:
    # Imported here because it costs more than all of this module, and a check without drawings never needs it.
    from importlib import resources

    return resources.files("harnessgen.sheets").joinpath("font", name).read_bytes()


@cache
def _face(bold: bool) -> _Face:
    held = json.loads(_packaged("widths.json"))
    per_em = held["units_per_em"]
    face = held["bold" if bold else "regular"]
    advance = {sign: units / per_em for sign, units in face["advance"].items()}
    ink = {sign: (e[0] / per_em, e[1] / per_em, e[2] / per_em, e[3] / per_em) for sign, e in face["ink"].items()}
    return _Face(advance, ink)


def font_bytes(bold: bool = False) -> bytes:
    """The packaged TrueType file of one weight, for writers that embed it."""
    return _packaged(_FILES[bold])


def drawn_text(text: str) -> str:
    """`text` as a drawing shows it.

    Runs of blanks and line ends become one space, direction marks and other unseen signs fall away, and what XML cannot
    hold (control characters, half surrogates) becomes the replacement character.
    """
    if not (text.isascii() and text.isprintable()):
        text = "".join(map(_drawn_sign, text))
    return re.sub(" {2,}", " ", text).strip(" ")


def _drawn_sign(sign: str) -> str:
    if sign in "\t\n\v\f\r\x85\u2028\u2029":
        return " "
    kind = category(sign)
    if kind == "Cf" and sign not in _JOINERS:
        return ""
    return _REPLACEMENT if kind in ("Cc", "Cs") or sign in "\ufffe\uffff" else sign


def _advance_em(sign: str, face: _Face) -> float:
    known = face.advance.get(sign)
    if known is not None:
        return known
    return 0.0 if category(sign) in ("Mn", "Me", "Cf") else _WITHOUT_GLYPH_EM


def text_width_mm(text: str, size_mm: float, bold: bool = False) -> float:
    """Width of `text` as drawn, in millimetres, at a font size (the em) of `size_mm`."""
    return size_mm * _extent_em(text, bold)[4]


@lru_cache(maxsize=8192)
def _extent_em(text: str, bold: bool) -> tuple[float, float, float, float, float]:
    """Ink left, low, right and high of a text that starts at 0, and how far it leads on, in ems.

    Kept, since a drawing asks for the same few words at every place that it tries.
    """
    left_em, low_em, right_em, high_em = 0.0, -DESCENT_EM, 0.0, ASCENT_EM
    face, at_em = _face(bold), 0.0
    for sign in drawn_text(text):
        advance_em = _advance_em(sign, face)
        ink = face.ink.get(sign)
        if ink is None and sign not in face.advance:
            ink = (0.0, -DESCENT_EM, advance_em, _WITHOUT_GLYPH_RISE_EM)
        if ink is not None:
            left_em, right_em = min(left_em, at_em + ink[0]), max(right_em, at_em + ink[2])
            low_em, high_em = min(low_em, ink[1]), max(high_em, ink[3])
        at_em += advance_em
    return left_em, low_em, max(right_em, at_em), high_em, at_em


def text_box(
    text: str,
    x: float,
    y: float,
    size_mm: float,
    *,
    bold: bool = False,
    anchor: Anchor = "start",
    rotation: Rotation = 0,
) -> Box:
    """The box of a text whose baseline anchor is (x, y): standing height of the lettering, and ink that goes beyond."""
    left_em, low_em, right_em, high_em, at_em = _extent_em(text, bold)
    start_em = {"start": 0.0, "middle": -at_em / 2, "end": -at_em}[anchor]
    x0, x1 = (start_em + left_em) * size_mm, (start_em + right_em) * size_mm
    y0, y1 = -high_em * size_mm, -low_em * size_mm
    if rotation == 90:
        return Box(x - y1, y + x0, x - y0, y + x1)
    if rotation == -90:
        return Box(x + y0, y - x1, x + y1, y - x0)
    return Box(x + x0, y + y0, x + x1, y + y1)


def fit_text(text: str, width_mm: float, size_mm: float, least_size_mm: float, bold: bool = False) -> tuple[str, float]:
    """`text` and the size at which it fits `width_mm`: smaller down to `least_size_mm`, then cut with an ellipsis."""
    shown = drawn_text(text)
    natural_mm = text_width_mm(shown, size_mm, bold)
    if natural_mm <= width_mm:
        return shown, size_mm
    fitting_mm = size_mm * width_mm / natural_mm
    if fitting_mm >= least_size_mm:
        return shown, fitting_mm
    while shown and text_width_mm(shown + "…", least_size_mm, bold) > width_mm:
        shown = shown[:-1].rstrip(" ")
    return (shown + "…" if shown else ""), least_size_mm


def wrap_text(text: str, width_mm: float, size_mm: float, bold: bool = False) -> tuple[str, ...]:
    """`text` broken at spaces into lines of at most `width_mm`; a single longer word keeps a line of its own."""
    lines: list[str] = []
    for word in drawn_text(text).split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width_mm(longer, size_mm, bold) <= width_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)
