"""The longest way through a tree as its trunk, the rest as legs of legs; and where to part a tree that is too large."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from harnessgen.drawings.layout.tree import Board, DrawnRun, LayoutSpot, Spine, SpineStep

_PAIR_MM = 1.0
"""Length that a mated pair counts for, so that it never ends a trunk."""


def spine_of(board: Board) -> Spine:
    """The trunk of `board`, its longest way, from the end that the route reaches first.

    Raises:
        ValueError: the board has no run at all.
    """
    if not board.runs:
        raise ValueError("a board without a run has no trunk")
    one = _walk(board, board.runs[0].start).farthest
    other = _walk(board, one).farthest
    order = {node: place for place, node in enumerate(board.spots)}
    start, end = sorted((one, other), key=lambda node: order[node])
    return Spine(board.spots[start], _steps(board, _walk(board, start).way(end)))


def other_spines(board: Board, most_ends: int) -> Iterator[Spine]:
    """Trunks between other ends of `board` than the longest way's: it is less wide and higher where that is a leg.

    Where there are more than `most_ends`, of those at one breakout only that of the longest leg is tried; where these
    are still more, none.
    """
    ends = [node for node in board.spots if len(board.neighbours[node]) == 1]
    if len(ends) > most_ends:
        farthest: dict[str, DrawnRun] = {}
        for run in (board.neighbours[node][0] for node in ends):
            if run.end not in farthest or run.length_mm > farthest[run.end].length_mm:
                farthest[run.end] = run
        held = {run.start for run in farthest.values()}
        ends = [node for node in ends if node in held]
    for start, end in combinations(ends, 2) if len(ends) <= most_ends else ():
        yield Spine(board.spots[start], _steps(board, _walk(board, start).way(end)))


def filled(spine: Spine, width_mm: float, height_mm: float) -> float:
    """How large a tree with this trunk is against a sheet: the larger of its shares of the width and of the height.

    By lengths of the route alone, the two longest legs on either side of the trunk.
    """
    deep = sorted((_along_mm(leg) for step in spine.steps for leg in step.legs), reverse=True)
    return max(_along_mm(spine) / width_mm, sum(deep[:2]) / height_mm)


def _along_mm(spine: Spine) -> float:
    return sum(step.run.length_mm for step in spine.steps)


class _Walk:
    """A tree, or what lies beyond one run of it, walked through: each node's distance, and the run that leads there."""

    def __init__(self, board: Board, start: str, first: tuple[DrawnRun, ...]) -> None:
        self.start = start
        self.distance_mm = {start: 0.0}
        self.reached: dict[str, DrawnRun] = {}
        queue = list(first)
        for run in queue:
            self.distance_mm[run.end] = self.distance_mm[run.start] + max(run.length_mm, _PAIR_MM)
            self.reached[run.end] = run
            queue.extend(other for other in board.neighbours[run.end] if other.end != run.start)

    @property
    def farthest(self) -> str:
        """The node farthest from the start; of several, the one reached first."""
        return max(self.distance_mm, key=lambda node: self.distance_mm[node])

    def way(self, end: str) -> list[DrawnRun]:
        """The runs from the start to `end`."""
        runs: list[DrawnRun] = []
        while end != self.start:
            runs.append(self.reached[end])
            end = runs[-1].start
        return runs[::-1]


def _walk(board: Board, start: str) -> _Walk:
    return _Walk(board, start, board.neighbours[start])


def _steps(board: Board, way: list[DrawnRun]) -> tuple[SpineStep, ...]:
    """The steps along `way`, each with the legs that leave at its spot."""
    steps: list[SpineStep] = []
    for index, run in enumerate(way):
        onward = way[index + 1].end if index + 1 < len(way) else ""
        others = [each for each in board.neighbours[run.end] if each.end not in (run.start, onward)]
        steps.append(SpineStep(run, board.spots[run.end], tuple(_leg(board, other) for other in others)))
    return tuple(steps)


def _leg(board: Board, first: DrawnRun) -> Spine:
    """The leg that begins with `first`, carried on along its longest way."""
    walk = _Walk(board, first.start, (first,))
    return Spine(board.spots[first.start], _steps(board, walk.way(walk.farthest)))


def trees_of(board: Board) -> list[Board]:
    """The trees of a board one by one: a route may have several that nothing joins."""
    trees: list[Board] = []
    seen: set[str] = set()
    for run in board.runs:
        if run.start in seen:
            continue
        nodes = set(_walk(board, run.start).distance_mm)
        seen |= nodes
        spots = {node: spot for node, spot in board.spots.items() if node in nodes}
        trees.append(Board(spots, tuple(each for each in board.runs if each.start in nodes)))
    return trees


def parted(board: Board) -> tuple[Board, Board] | None:
    """The board in two at the spot that divides its runs most evenly, or None where it has one run alone.

    Both halves hold that spot, and each says there that the route goes on.
    """
    if len(board.runs) < 2:
        return None
    root = board.runs[0].start
    walk = _walk(board, root)
    beyond = dict.fromkeys(board.spots, 0)
    for node in reversed(walk.distance_mm):
        if node != root:
            beyond[walk.reached[node].start] += beyond[node] + 1
    whole = len(board.runs)
    # Either all that lies beyond a node stays together, or one branch of a node that has several is taken off.
    cuts = [(abs(2 * beyond[node] - whole), place, node, "") for place, node in enumerate(beyond)]
    cuts += [
        (abs(2 * (beyond[node] + 1) - whole), place, run.start, node)
        for place, (node, run) in enumerate(walk.reached.items())
    ]
    sides = ((node, _beyond(board, walk, node, branch)) for _, _, node, branch in sorted(cuts))
    node, side = next((node, side) for node, side in sides if 0 < len(side) < whole)
    names = {run.name for run in side}
    rest = tuple(run for run in board.runs if run.name not in names)
    own = tuple(run for run in board.runs if run.name in names)
    return _part(board, rest, node, keeps_things=True), _part(board, own, node, keeps_things=False)


def _beyond(board: Board, walk: _Walk, node: str, branch: str) -> list[DrawnRun]:
    """All runs beyond `node`, or only those of its branch that begins towards `branch`."""
    back = walk.reached[node].start if node in walk.reached else ""
    found = [run for run in board.neighbours[node] if run.end != back and branch in ("", run.end)]
    for run in found:
        found.extend(other for other in board.neighbours[run.end] if other.end != run.start)
    return found


def _part(board: Board, runs: tuple[DrawnRun, ...], node: str, *, keeps_things: bool) -> Board:
    nodes = {end for run in runs for end in (run.start, run.end)}
    held: dict[str, LayoutSpot] = {name: spot for name, spot in board.spots.items() if name in nodes}
    spot = held[node]
    held[node] = (
        replace(spot, goes_on=True) if keeps_things else LayoutSpot(node, spot.point, spot.is_half, goes_on=True)
    )
    return Board(held, runs)
