"""A conductor with its label in a gap of its own, so that the text lies on nothing."""

from math import dist

from harnessgen.sheets.box import Point
from harnessgen.sheets.lettering import ASCENT_EM, DESCENT_EM, text_box
from harnessgen.sheets.marks import Conductor, Mark, Text

_AIR_MM = 0.6
_SHOWN_MM = 2.0
"""Least length of conductor that is seen on each side of its label."""


def labelled_conductor(
    points: tuple[Point, ...],
    base: str,
    stripe: str,
    label: str,
    subject: str,
    *,
    size_mm: float = 2.3,
    width_mm: float = 1.3,
) -> tuple[Mark, ...]:
    """Two pieces of conductor along level and upright strokes, and between them the `label`, level and centred.

    The label stands on the longest upright stroke that has room, since it takes least of it, else on the longest level
    one. `base` and `stripe` are IEC 60757 codes.

    Raises:
        ValueError: no stroke is long enough for the label.
    """
    words = text_box(label, 0.0, 0.0, size_mm, anchor="middle")
    needed_mm = {True: words.height_mm + 2 * _AIR_MM, False: words.width_mm + 2 * _AIR_MM}
    room = []
    for index in range(len(points) - 1):
        upright = points[index][0] == points[index + 1][0]
        length_mm = dist(points[index], points[index + 1])
        if length_mm >= needed_mm[upright] + 2 * _SHOWN_MM:
            room.append((upright, length_mm, index))
    if not room:
        raise ValueError(f"no stroke of conductor {subject} has room for its label {label}")
    upright, length_mm, index = max(room, key=lambda one: (one[0], one[1], -one[2]))
    start, end = points[index], points[index + 1]
    middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    share = needed_mm[upright] / 2 / length_mm
    cut = (end[0] - start[0]) * share, (end[1] - start[1]) * share
    before = (*points[: index + 1], (middle[0] - cut[0], middle[1] - cut[1]))
    after = ((middle[0] + cut[0], middle[1] + cut[1]), *points[index + 1 :])
    baseline = middle[1] + (ASCENT_EM - DESCENT_EM) / 2 * size_mm
    if upright:
        baseline = middle[1] - words.centre[1]
    return (
        Conductor(before, base, stripe, width_mm, subject=subject),
        Conductor(after, base, stripe, width_mm, subject=subject),
        Text(label, middle[0], baseline, size_mm, "middle", subject=subject),
    )
