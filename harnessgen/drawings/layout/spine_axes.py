"""Where a spine lies on the sheet: its own axes turned into places, boxes and texts of the sheet."""

from dataclasses import dataclass

from harnessgen.sheets.box import Box, Point, box_around
from harnessgen.sheets.lettering import ASCENT_EM, DESCENT_EM
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import TextMark

_HALF_HEIGHT_EM = (ASCENT_EM - DESCENT_EM) / 2


@dataclass(frozen=True, slots=True)
class Frame:
    """A spine that begins at (x, y); `along` and `across` are unit steps on the sheet, level or upright."""

    x: float
    y: float
    along: Point
    across: Point

    @property
    def is_level(self) -> bool:
        """Whether the spine lies level on the sheet."""
        return self.along[1] == 0

    @property
    def reading(self) -> int:
        """1 where text along the spine reads the way that the spine goes, else -1; upright text reads upwards."""
        return 1 if (self.along[0] if self.is_level else -self.along[1]) > 0 else -1

    @property
    def upwards(self) -> int:
        """1 where the tops of letters along the spine point to positive v, else -1."""
        return 1 if (-self.across[1] if self.is_level else -self.across[0]) > 0 else -1

    def reads_outward(self, side: int) -> bool:
        """Whether lines of text on `side` follow one another away from the spine."""
        return side * (self.across[1] if self.is_level else self.across[0]) > 0

    def at(self, u: float, v: float) -> Point:
        """Place on the sheet."""
        return (
            self.x + u * self.along[0] + v * self.across[0],
            self.y + u * self.along[1] + v * self.across[1],
        )

    def box(self, u0: float, u1: float, v0: float, v1: float) -> Box:
        """Box on the sheet."""
        return box_around((self.at(u0, v0), self.at(u1, v1)))

    def branch(self, u: float, side: int) -> "Frame":
        """The frame of a leg that leaves at `u` on `side`: its forward side is the way that this spine goes."""
        along = (side * self.across[0], side * self.across[1])
        return Frame(*self.at(u, 0.0), along, self.along)

    def level_text(self, words: str, u: float, v: float, size_mm: float, kind: MarkKind, subject: str) -> TextMark:
        """Words that lie level on the sheet, however the spine lies, with their middle at (u, v)."""
        x, y = self.at(u, v)
        return TextMark(words, x, y + _HALF_HEIGHT_EM * size_mm, size_mm, "middle", kind=kind, subject=subject)

    def text(
        self, words: str, u: float, v: float, size_mm: float, kind: MarkKind, subject: str, *, bold: bool = False
    ) -> TextMark:
        """Words along the spine with their middle at (u, v): level, or reading upwards."""
        x, y = self.at(u, v)
        drop_mm = _HALF_HEIGHT_EM * size_mm
        if self.is_level:
            return TextMark(words, x, y + drop_mm, size_mm, "middle", bold, kind=kind, subject=subject)
        return TextMark(words, x + drop_mm, y, size_mm, "middle", bold, -90, kind=kind, subject=subject)

    def cross_text(
        self, words: str, u: float, v: float, size_mm: float, kind: MarkKind, subject: str, *, bold: bool = False
    ) -> TextMark:
        """Words across the spine with their middle at (u, v): upright beside a level one, else level."""
        x, y = self.at(u, v)
        drop_mm = _HALF_HEIGHT_EM * size_mm
        if self.is_level:
            return TextMark(words, x + drop_mm, y, size_mm, "middle", bold, -90, kind=kind, subject=subject)
        return TextMark(words, x, y + drop_mm, size_mm, "middle", bold, kind=kind, subject=subject)

    @property
    def rows_onward(self) -> int:
        """1 where rows of such words follow one another the way that the spine goes, else -1."""
        return 1 if (self.along[0] if self.is_level else self.along[1]) > 0 else -1
