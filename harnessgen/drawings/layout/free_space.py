"""Room on both sides of a spine: the rectangles that are taken, and how far new ones have to move to come clear."""

from bisect import bisect_right, insort
from collections.abc import Iterable, Sequence

Rect = tuple[float, float, float, float]
"""From and to along a spine, then from and to away from it, on one side of it; mm on paper."""

Claim = tuple[int, Sequence[Rect]]
"""A side (1 or -1) and rectangles on it."""

GAP_MM = 2.2
"""Air between things that stand beside one another."""


def moved(rects: Iterable[Rect], along_mm: float, away_mm: float = 0.0) -> list[Rect]:
    """The rectangles moved along the spine and away from it."""
    return [(a + along_mm, b + along_mm, c + away_mm, d + away_mm) for a, b, c, d in rects]


class SpineRoom:
    """The rectangles taken on the two sides of one spine."""

    def __init__(self) -> None:
        self.taken: dict[int, list[Rect]] = {1: [], -1: []}
        self._by_end: dict[int, list[tuple[float, Rect]]] = {1: [], -1: []}
        """The same by their far ends: a spine is laid onwards, and most of what is taken lies behind."""

    def take(self, side: int, rects: Iterable[Rect]) -> None:
        """Hold `rects` on `side`."""
        for rect in rects:
            self.taken[side].append(rect)
            insort(self._by_end[side], (rect[1], rect))

    def _beyond(self, side: int, along_mm: float) -> list[tuple[float, Rect]]:
        """What is taken on `side` and ends beyond a place, less the air that it keeps."""
        held = self._by_end[side]
        return held[bisect_right(held, (along_mm - GAP_MM,)) :]

    def shift_mm(self, claims: Sequence[Claim]) -> float:
        """How far all claims together have to move along the spine until none is in the way of what is taken."""
        blocked: list[tuple[float, float]] = []
        for side, rects in claims:
            for a, b, c, d in rects:
                for f, (e, _, g, h) in self._beyond(side, a):
                    # What lies behind stays behind, since claims only move on.
                    if f + GAP_MM - 1e-9 > a and c < h + GAP_MM and g < d + GAP_MM:
                        blocked.append((e - b - GAP_MM, f + GAP_MM - a))
        shift_mm, is_moving = 0.0, True
        while is_moving:
            is_moving = False
            for from_mm, to_mm in blocked:
                if from_mm < shift_mm < to_mm - 1e-9:
                    shift_mm = to_mm
                    is_moving = True
        return shift_mm

    def deepening_mm(self, side: int, rects: Sequence[Rect]) -> float:
        """How far `rects` have to move away from the spine until none is in the way of what is taken."""
        away_mm, is_moving = 0.0, True
        while is_moving:
            is_moving = False
            for a, b, c, d in rects:
                for f, (e, _, g, h) in self._beyond(side, a):
                    is_beside = a < f + GAP_MM and e < b + GAP_MM
                    if is_beside and c + away_mm < h + GAP_MM - 1e-9 and g < d + away_mm + GAP_MM:
                        away_mm = h + GAP_MM - c
                        is_moving = True
        return away_mm
