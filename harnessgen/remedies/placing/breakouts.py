"""Breakouts that the design lets move, and the lengths that each way of moving them makes."""

import itertools
from collections.abc import Iterable, Mapping
from dataclasses import replace

from harnessgen.design.records.design import Design
from harnessgen.design.records.route import Stretch
from harnessgen.lengths.too_short.move_breakout import after_mm, splices_fit
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity
from harnessgen.source.place import Place

MOST_ARRANGEMENTS = 150
_STEPS_MM = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0)


@frozen
class Breakout:
    """A breakout that may move along the stretch that leads to it: `on_mm` onward, `back_mm` back."""

    point: str
    before: str
    leading: Stretch
    after: Mapping[str, Stretch]
    on_mm: float
    back_mm: float

    def moved(self, way_mm: float) -> dict[tuple[str, str], Stretch]:
        """The stretches at it once it has moved: the leading one longer, the others by the law of cosines."""
        made = {(self.before, self.point): _with_length(self.leading, self.leading.length_mm.value + way_mm)}
        for name, stretch in self.after.items():
            made[self.point, name] = _with_length(stretch, after_mm(stretch, way_mm))
        return made

    def lengths(self, way_mm: float) -> list[tuple[Place, Quantity]]:
        """Where the file gives each length that changes, and what it becomes."""
        today = [self.leading, *self.after.values()]
        moved = self.moved(way_mm).values()
        return [(old.where("length_mm"), new.length_mm) for old, new in zip(today, moved, strict=True)]


def _with_length(stretch: Stretch, length_mm: float) -> Stretch:
    return replace(stretch, length_mm=replace(stretch.length_mm, value=round(length_mm, 1)))


def breakouts_of(design: Design, texts: Mapping[str, str]) -> tuple[tuple[Breakout, ...], list[str]]:
    """The breakouts that may move, and why others that the design names may not."""
    found: list[Breakout] = []
    stuck: list[str] = []
    held = {each.at for each in design.disconnects.values()}
    for before, stretches in design.route.items():
        for point, leading in stretches.items():
            if leading.moves is None:
                continue
            after = design.route.get(point, {})
            why = _why_not(leading, after, texts)
            if point in held or not after:
                why = "no breakout is there"
            if why:
                stuck.append(f"{point} stays: {why}.")
            else:
                found.append(Breakout(point, before, leading, after, leading.moves.plus, leading.moves.minus))
    return tuple(found), stuck


def _why_not(leading: Stretch, after: Mapping[str, Stretch], texts: Mapping[str, str]) -> str:
    for stretch in (leading, *after.values()):
        is_plain = "length_mm" in stretch.places and not stretch.is_from_points and not stretch.readings_mm
        if not is_plain or stretch.where("length_mm").file not in texts:
            return "a stretch at it has no single length that could be written"
    if any(each.leaves_deg is None for each in after.values()):
        return "a stretch at it does not say at which angle it leaves"
    return ""


@frozen
class BreakoutGrid:
    """Ways of moving breakouts, none moved first; `is_whole` where each was tried in every whole millimetre."""

    ways: tuple[tuple[float, ...], ...]
    is_whole: bool


def arrangements(breakouts: tuple[Breakout, ...]) -> BreakoutGrid:
    """Ways to try: every millimetre where that is few enough, else coarser steps, the bounds always among them."""
    for step_mm in _STEPS_MM:
        each = [_ways(breakout, step_mm) for breakout in breakouts]
        count = 1
        for ways in each:
            count *= len(ways)
        if count <= MOST_ARRANGEMENTS:
            return BreakoutGrid(tuple(itertools.product(*each)), step_mm == _STEPS_MM[0])
    ends = tuple((0.0, each.on_mm, -each.back_mm) for each in breakouts)
    # One at a time: all of them together would be too many.
    alone = [tuple(way if i == j else 0.0 for j in range(len(ends))) for i, ways in enumerate(ends) for way in ways]
    return BreakoutGrid(tuple(dict.fromkeys(alone)), is_whole=False)


def _ways(breakout: Breakout, step_mm: float) -> tuple[float, ...]:
    ways = [0.0]
    for most_mm, sign in ((breakout.on_mm, 1.0), (breakout.back_mm, -1.0)):
        count = int(most_mm / step_mm + 1e-9)
        ways += [sign * step_mm * number for number in range(1, count + 1)]
        ways += [sign * most_mm] if most_mm > count * step_mm + 1e-9 else []
    return tuple(ways)


def moved_design(design: Design, moved: Iterable[tuple[Breakout, float]]) -> Design | None:
    """The design with breakouts moved; None where a length would vanish or a splice fall off its stretch."""
    route = {start: dict(stretches) for start, stretches in design.route.items()}
    for breakout, way_mm in moved:
        for (start, end), stretch in breakout.moved(way_mm).items():
            if stretch.length_mm.value <= 0.0:
                return None
            route[start][end] = stretch
    changed = replace(design, route=route)
    return changed if splices_fit(changed) else None
