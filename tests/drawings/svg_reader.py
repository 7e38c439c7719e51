"""Reads a drawing as a person does: from the strokes and the printed texts of its SVG, without subjects and kinds."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, dist, radians, sin
from xml.etree import ElementTree

Point = tuple[float, float]

_SVG = "{http://www.w3.org/2000/svg}"
_TOUCH_MM = 0.8
_GAP_MM = 5.6
"""Gap in a column that the eye jumps: a text on the conductor, a connector, an open contact."""
_NUMBER = r"-?\d+(?:\.\d+)?"


@dataclass(frozen=True)
class Print:
    """A printed text: its words, the middle of its line (mm), its height and whether it is bold."""

    words: str
    middle: Point
    left: Point
    size_mm: float
    bold: bool


@dataclass(frozen=True)
class Stroke:
    """A drawn line by its corners, or by the ends of an arc."""

    points: tuple[Point, ...]


def prints(svg: str) -> list[Print]:
    """All texts of a drawing."""
    found: list[Print] = []
    for each in ElementTree.fromstring(svg).iter(f"{_SVG}text"):
        x, y, size = (float(each.attrib[key]) for key in ("x", "y", "font-size"))
        half = float(each.attrib["textLength"]) / 2
        left, middle = (x, y - 0.36 * size), (x + half, y - 0.36 * size)
        if turn := each.attrib.get("transform"):
            angle, *centre = map(float, re.findall(_NUMBER, turn))
            left, middle = (_turned(point, angle, (centre[0], centre[1])) for point in (left, middle))
        found.append(Print(each.text or "", middle, left, size, each.attrib.get("font-weight") == "bold"))
    return found


def _turned(point: Point, degrees: float, centre: Point) -> Point:
    a = radians(degrees)
    dx, dy = point[0] - centre[0], point[1] - centre[1]
    return centre[0] + dx * cos(a) - dy * sin(a), centre[1] + dx * sin(a) + dy * cos(a)


def strokes(svg: str) -> list[Stroke]:
    """All lines, the sides of boxes and the upper and lower half of rings; what is drawn twice counts once."""
    found: dict[Stroke, None] = {}
    for each in ElementTree.fromstring(svg).iter():
        at = each.attrib
        if each.tag == f"{_SVG}polyline":
            values = [float(value) for value in re.findall(_NUMBER, at["points"])]
            found[Stroke(tuple(zip(values[::2], values[1::2], strict=True)))] = None
        elif each.tag == f"{_SVG}path" and "A" in at["d"]:
            values = [float(value) for value in re.findall(_NUMBER, at["d"])]
            found[Stroke(((values[0], values[1]), (values[-2], values[-1])))] = None
        elif each.tag == f"{_SVG}rect":
            x, y, wide, high = (float(at[key]) for key in ("x", "y", "width", "height"))
            found[Stroke(((x + wide / 2, y), (x + wide / 2, y + high)))] = None
        elif each.tag == f"{_SVG}circle":
            x, y, r = (float(at[key]) for key in ("cx", "cy", "r"))
            found[Stroke(((x, y - r), (x, y + r)))] = None
    return list(found)


class CircuitReader:
    """Follows the conductors of a circuit drawing with the eye: down or up a column, and along the runs at a joint."""

    def __init__(self, svg: str) -> None:
        self.texts = prints(svg)
        self.lines = [line for line in strokes(svg) if len(line.points) > 1 and dist(*line.points[:2]) < 400]
        self.joined = {
            line: [other for other in self.lines if other != line and _joined(line, other)] for line in self.lines
        }
        self.bars = {line for line in self.lines if self._supply(line)}

    def _supply(self, line: Stroke) -> bool:
        """A level line with the volts of a supply printed over it, from which lines go only down."""
        (x0, y0), (x1, y1) = line.points[0], line.points[-1]
        over = [t for t in self.texts if re.match(r"\d+(\.\d+)? V ", t.words) and 0 < y0 - t.middle[1] < 5]
        return len(line.points) == 2 and y0 == y1 and any(x0 - 1 <= t.left[0] <= x1 + 1 for t in over)

    def name(self, name: str) -> list[Print]:
        """Where a name is printed in bold."""
        return [text for text in self.texts if text.bold and text.words == name]

    def at(self, texts: list[Print]) -> set[Stroke]:
        """The strokes that a bold name stands beside: upright ones left of it, at its level or just below it."""
        found: set[Stroke] = set()
        for text in texts:
            x, y = text.left
            beside = [
                line
                for line in self.lines
                if (own := _upright(line)) and 0 < x - own[0] < 9 and own[1] - 2.5 < y < own[2] + 1
            ]
            nearest = max((own[0] for line in beside if (own := _upright(line))), default=0.0)
            found |= {line for line in beside if (own := _upright(line)) and abs(own[0] - nearest) < 0.5}
        return found

    def way_up(self, thing: list[Print], without: str = "") -> list[Stroke]:
        """The strokes from a thing up to a supply, `without` what is opened; a way never turns down. Empty for none."""
        closed = self.at(self.name(without))
        starts = [line for line in self.at(thing) if line not in closed]
        came: dict[Stroke, Stroke | None] = dict.fromkeys(starts)
        for line in (queue := list(starts)):
            if line in self.bars:
                way = [line]
                while (before := came[way[-1]]) is not None:
                    way.append(before)
                return way[::-1]
            for other in self.joined[line]:
                if other not in came and other not in closed and _top(other) < _top(line) + 0.3:
                    came[other] = line
                    queue.append(other)
        return []

    def passed(self, name: str, kind: str) -> list[str]:
        """Names of one kind (by pattern) that the way up from a thing passes, in their order."""
        way = self.way_up(self.name(name))
        names = dict.fromkeys(t.words for t in self.texts if t.bold and re.fullmatch(kind, t.words))
        places = {
            each: min((way.index(line) for line in self.at(self.name(each)) if line in way), default=-1)
            for each in names
        }
        return [each for each in sorted(names, key=places.__getitem__) if places[each] >= 0]

    def fed(self, without: str = "") -> set[str]:
        """Of the things that have a resistance, those that a way leads up from, `without` what is opened."""
        return {text.words for text in self.loads() if self.way_up([text], without)}

    def loads(self) -> Iterator[Print]:
        """Bold names that have their resistance printed under them."""
        for text in self.texts:
            under = [t for t in self.texts if abs(t.left[0] - text.left[0]) < 0.3 and 0 < t.left[1] - text.left[1] < 5]
            if text.bold and any(t.words.endswith(" ohm") for t in under):
                yield text


def _upright(line: Stroke) -> tuple[float, float, float] | None:
    """Place and levels of an upright stroke."""
    (x0, y0), (x1, y1) = line.points[0], line.points[-1]
    return (x0, min(y0, y1), max(y0, y1)) if abs(x0 - x1) < 0.3 and len(line.points) == 2 else None


def _top(line: Stroke) -> float:
    return min(y for _, y in line.points)


def _joined(one: Stroke, other: Stroke) -> bool:
    """Whether an end of one lies on the other, or two ends face each other across a gap of one column."""
    for line, target in ((one, other), (other, one)):
        for end in (line.points[0], line.points[-1]):
            if any(_on(end, start, stop) for start, stop in zip(target.points, target.points[1:], strict=False)):
                return True
    return any(
        abs(a[0] - b[0]) < 0.1 and 0 < abs(a[1] - b[1]) < _GAP_MM and _faces(one, a, b) and _faces(other, b, a)
        for a in (one.points[0], one.points[-1])
        for b in (other.points[0], other.points[-1])
    )


def _faces(line: Stroke, end: Point, other: Point) -> bool:
    """Whether a line that ends at a place comes straight from the side that the other is not on."""
    beside = line.points[1] if end == line.points[0] else line.points[-2]
    return abs(beside[0] - end[0]) < 0.1 and (beside[1] - end[1]) * (other[1] - end[1]) < 0


def _on(point: Point, start: Point, stop: Point) -> bool:
    length = dist(start, stop) or 1e-9
    share = ((point[0] - start[0]) * (stop[0] - start[0]) + (point[1] - start[1]) * (stop[1] - start[1])) / length**2
    share = max(0.0, min(1.0, share))
    near = start[0] + share * (stop[0] - start[0]), start[1] + share * (stop[1] - start[1])
    return dist(point, near) < _TOUCH_MM


class LayoutReader:
    """Reads headings, charts and dimensions of a layout drawing by where they stand."""

    def __init__(self, svg: str) -> None:
        self.texts = prints(svg)

    def heading(self, start: str) -> Print | None:
        """The bold heading that begins with these words, or None where the sheet has none."""
        return next((t for t in self.texts if t.bold and t.words.startswith(start)), None)

    def cavity_of(self, wire: str) -> set[tuple[str, str]]:
        """Connector and cavity in whose charts a wire stands, read from the row, its head and the heading above."""
        found: set[tuple[str, str]] = set()
        for cell in (t for t in self.texts if t.words == wire and not t.bold):
            row = [t for t in self.texts if abs(t.left[1] - cell.left[1]) < 0.2 and 0 < cell.left[0] - t.left[0] < 20]
            heads = [t for t in self.texts if t.bold and t.words == "cavity" and t.left[1] < cell.left[1]]
            first = max(row, key=lambda t: t.left[0], default=None)
            above = [t for t in heads if first is not None and abs(t.left[0] - first.left[0]) < 0.3]
            if first is None or not above:
                continue
            head = max(above, key=lambda t: t.left[1])
            over = [t for t in self.texts if " to " in t.words and t.bold and t.middle[1] < head.left[1]]
            title = min(over, key=lambda t: dist(t.middle, (head.left[0] + 12, head.left[1])))
            found.add((title.words.partition(" ")[0], first.words))
        return found

    def length_to(self, connector: str) -> str:
        """The dimension that stands nearest to the heading of a connector."""
        heading = self.heading(f"{connector} to ")
        assert heading is not None
        dimensions = [t for t in self.texts if re.fullmatch(r"\d+( \+\d+/-\d+)?", t.words) and t.size_mm > 2.2]
        return min(dimensions, key=lambda t: dist(t.middle, heading.middle)).words

    def half_of(self, designator: str) -> str:
        """What stands under the heading of a half."""
        heading = self.heading(f"{designator} to ")
        assert heading is not None
        below = [t for t in self.texts if not t.bold and 0 < t.middle[1] - heading.middle[1] < 6]
        return min(below, key=lambda t: dist(t.middle, heading.middle)).words.partition(",")[0]
