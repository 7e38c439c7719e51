"""The longest way through a tree as its trunk, the rest as legs of legs; and where to part a tree that is too large."""

from dataclasses import replace

from harnessgen.drawings.layout_tree import Board, Run, Spine, Spot, Step

_PAIR_MM = 1.0
"""Length that a mated pair counts for, so that it never ends a trunk."""


def spine_of(board: Board) -> Spine:
    """The trunk of `board`, its longest way, from the end that the route reaches first.

    Raises:
        ValueError: the board has no run at all.
    """
    if not board.runs:
        raise ValueError("a board without a run has no trunk")
    depths = _Depths(board)
    anywhere = board.runs[0].start
    one = depths.farthest(anywhere)
    other = depths.farthest(one)
    order = {node: place for place, node in enumerate(board.spots)}
    start, end = sorted((one, other), key=lambda node: order[node])
    return Spine(board.spots[start], _steps(board, depths.way(start, end), ""))


class _Depths:
    """Distances in a tree, by walking it from one node."""

    def __init__(self, board: Board) -> None:
        self.board = board

    def walk(self, start: str) -> tuple[dict[str, float], dict[str, Run]]:
        """Distance of each node from `start` in mm, and the run by which it is reached."""
        distance_mm, reached = {start: 0.0}, dict[str, Run]()
        queue = [start]
        for node in queue:
            for run in self.board.neighbours[node]:
                if run.end not in distance_mm:
                    distance_mm[run.end] = distance_mm[node] + max(run.length_mm, _PAIR_MM)
                    reached[run.end] = run
                    queue.append(run.end)
        return distance_mm, reached

    def farthest(self, start: str) -> str:
        """The node farthest from `start`; of several, the first that the board names."""
        distance_mm, _ = self.walk(start)
        return max(distance_mm, key=lambda node: distance_mm[node])

    def way(self, start: str, end: str) -> list[Run]:
        """The runs from `start` to `end`."""
        _, reached = self.walk(start)
        runs: list[Run] = []
        node = end
        while node != start:
            runs.append(reached[node])
            node = reached[node].start
        return runs[::-1]


def _steps(board: Board, way: list[Run], before: str) -> tuple[Step, ...]:
    """The steps along `way`, each with the legs that leave at its spot; `before` is the node that it comes from."""
    steps: list[Step] = []
    for index, run in enumerate(way):
        onward = way[index + 1].end if index + 1 < len(way) else ""
        legs = [
            _leg(board, other)
            for other in board.neighbours[run.end]
            if other.end not in (run.start, onward, before)
        ]
        steps.append(Step(run, board.spots[run.end], tuple(legs)))
    return tuple(steps)


def _leg(board: Board, first: Run) -> Spine:
    """The leg that begins with `first`, carried on along its longest way."""
    longest_mm, last = _deepest(board, first)
    del longest_mm
    return Spine(board.spots[first.start], _steps(board, last, first.start))


def _deepest(board: Board, first: Run) -> tuple[float, list[Run]]:
    """The longest way that begins with `first` and never turns back, and its length in mm."""
    best: tuple[float, list[Run]] = (0.0, [])
    reached: dict[str, tuple[float, list[Run]]] = {first.end: (first.length_mm, [first])}
    queue = [first]
    for run in queue:
        length_mm, way = reached[run.end]
        if not best[1] or length_mm > best[0]:
            best = (length_mm, way)
        for other in board.neighbours[run.end]:
            if other.end != run.start:
                reached[other.end] = (length_mm + max(other.length_mm, _PAIR_MM), [*way, other])
                queue.append(other)
    return best


def parted(board: Board, first_number: int, second_number: int) -> tuple[Board, Board] | None:
    """The board in two at the spot that divides its runs most evenly, or None where it has one run alone.

    Both halves hold that spot; each says there that the route goes on on the other, by the numbers given.
    """
    if len(board.runs) < 2:
        return None
    best: tuple[int, str, list[Run]] | None = None
    for node in board.spots:
        for run in board.neighbours[node]:
            side = _side(board, run)
            uneven = abs(2 * len(side) - len(board.runs))
            if len(side) < len(board.runs) and (best is None or uneven < best[0]):
                best = (uneven, node, side)
    if best is None:
        return None
    _, node, side = best
    names = {run.name for run in side}
    apart = Board(_held(board, side, node, first_number, alone=True), tuple(side))
    rest_runs = tuple(run for run in board.runs if run.name not in names)
    return Board(_held(board, rest_runs, node, second_number, alone=False), rest_runs), apart


def _side(board: Board, first: Run) -> list[Run]:
    """All runs beyond the start of `first`, `first` among them."""
    found, queue = [first], [first]
    for run in queue:
        for other in board.neighbours[run.end]:
            if other.end != run.start:
                found.append(other)
                queue.append(other)
    return found


def _held(
    board: Board, runs: tuple[Run, ...] | list[Run], node: str, other_number: int, *, alone: bool
) -> dict[str, Spot]:
    """Spots of `runs`; at `node` the route goes on elsewhere, and `alone` leaves what sits there to the other board."""
    nodes = {end for run in runs for end in (run.start, run.end)}
    held = {name: spot for name, spot in board.spots.items() if name in nodes}
    spot = held[node]
    onward = (*spot.onward, other_number)
    held[node] = Spot(spot.node, spot.point, spot.is_half, onward=(other_number,)) if alone else replace(spot, onward=onward)
    return held
