"""Makes the packaged lettering anew: the two font subsets, their licence text and the table of widths.

Run by hand, `python tests/sheets/regenerate_font.py DIRECTORY_OF_DEJAVU`, only when `characters` below changes; the
package never runs it. The subsets keep outlines and names alone: no hinting, no kerning and no ligatures, so that the
width of a text is the sum of the advance widths and nothing else.
"""

import json
import sys
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont

TARGET = Path(__file__).parents[2] / "harnessgen" / "sheets" / "font"
FACES = {"regular": "DejaVuSans.ttf", "bold": "DejaVuSans-Bold.ttf"}
ASCENT, DESCENT = 0.76, 0.24
"""The standing cell of a character above and below the baseline, in em; only ink outside of it is listed."""

RANGES = (
    (0x20, 0x7E),  # Basic Latin
    (0xA0, 0xFF),  # Latin-1
    (0x100, 0x17F),  # Latin Extended-A
    (0x37A, 0x3CE),  # Greek
    (0x400, 0x45F),  # Cyrillic of the living languages
)
SYMBOLS = (
    "ΩµÅ°±×÷–—‐‑‘’‚“”„†•…‰′″€№™←↑→↓↔⇒∅∆−√∞≈≠≤≥⊥⌀⏚⏛■□▲△▶▷▼▽◀◆◇●○☐☑☒⚠⚡✓✔✗✘\u2002\u2003\u2009\u202f\u2126\ufffd⁴₀₁₂₃₄"
)


def characters() -> list[int]:
    """The code points asked for, in order; those that DejaVu lacks fall out of the subset by themselves."""
    wanted = {code for first, last in RANGES for code in range(first, last + 1)}
    return sorted(wanted | {ord(symbol) for symbol in SYMBOLS})


def make_subset(origin: Path, target: Path) -> None:
    """Write the subset of the face in `origin` to `target`; the same input gives the same bytes."""
    options = subset.Options()
    options.layout_features = []
    options.hinting = False
    options.notdef_outline = True
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.drop_tables += ["kern", "GPOS", "GSUB", "GDEF", "FFTM"]
    font = TTFont(origin, recalcTimestamp=False)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=characters())
    cutter.subset(font)
    font.save(target)


def measure(path: Path) -> dict[str, dict[str, object]]:
    """Advance of every character of the face in font units, and the ink of those that leave their standing cell."""
    font = TTFont(path)
    per_em = font["head"].unitsPerEm
    advance: dict[str, object] = {}
    ink: dict[str, object] = {}
    for code, name in sorted(font.getBestCmap().items()):
        width = font["hmtx"][name][0]
        advance[chr(code)] = width
        glyph = font["glyf"][name]
        if glyph.numberOfContours == 0:
            continue
        edges = (glyph.xMin, glyph.yMin, glyph.xMax, glyph.yMax)
        if edges[0] < 0 or edges[2] > width or edges[1] < -DESCENT * per_em or edges[3] > ASCENT * per_em:
            ink[chr(code)] = list(edges)
    return {"advance": advance, "ink": ink}


def main(origin: Path) -> None:
    """Write the four files of the packaged lettering from the full faces in `origin`."""
    TARGET.mkdir(exist_ok=True)
    widths: dict[str, object] = {"units_per_em": 2048}
    for face, name in FACES.items():
        make_subset(origin / name, TARGET / name)
        widths[face] = measure(TARGET / name)
    (TARGET / "widths.json").write_text(json.dumps(widths, separators=(",", ":")) + "\n", encoding="ascii")
    names = TTFont(origin / FACES["regular"])["name"]
    licence = f"{names.getDebugName(0)}\n\n{names.getDebugName(13)}\n".replace("\r\n", "\n")
    (TARGET / "LICENCE.txt").write_text("\n".join(line.rstrip() for line in licence.split("\n")), encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
