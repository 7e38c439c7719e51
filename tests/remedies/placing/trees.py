"""Random small designs with splices, and their best places by trying all of a grid: another way than the program's."""

import itertools
import random
from dataclasses import dataclass

import networkx

STEP = 20
"""Every length, distance and clearance is a multiple of this, so the best places of all lie on the grid."""


@dataclass(frozen=True, slots=True)
class Tree:
    """A design with its stretches, the far ends and sizes of the wires of each splice, and today's places."""

    text: str
    lengths: dict[tuple[str, str], int]
    wires: list[tuple[str, str, float]]
    today: dict[str, tuple[str, str, int]]
    spacing: int
    clear: int


def random_tree(seed: int, splices: int) -> Tree:
    """A trunk of breakouts with legs; each splice joins a feed at the root to two or three loads.

    The last splice hangs on the first where there are more than two, so that two places pull at each other.
    """
    draw = random.Random(seed)
    lengths: dict[tuple[str, str], int] = {}
    trunk = ["battery", *(f"b{number}" for number in range(1, 4))]
    for a, b in itertools.pairwise(trunk):
        lengths[a, b] = STEP * draw.randint(4, 9)
    leaves = []
    for number, point in enumerate(trunk[1:] * 2):
        leaves.append(f"p{number}")
        lengths[point, leaves[-1]] = STEP * draw.randint(4, 9)
    wires: list[tuple[str, str, float]] = []
    today, circuits, loads = {}, [], []
    for number in range(splices):
        name, far = f"S{number + 1}", draw.sample(leaves, draw.randint(2, 3))
        feed = "S1" if number >= 2 else "battery"
        size = draw.choice([0.5, 1.0, 2.5])
        wires.append((feed, name, size))
        targets = []
        for leaf in far:
            load = f"E{len(loads) + 1}"
            loads.append(f"  {load}: {{resistance: 100 ohm, at: {leaf}}}")
            targets.append(f"{load}/1")
            wires.append((name, leaf, size))
        start = "BAT" if feed == "battery" else feed
        ends = f"from: {start}, to: [{', '.join(targets)}], splice: {name}"
        circuits.append(f"  {20 + number}: {{{ends}, color: RD, size: {size} mm2}}")
        (a, b), length = draw.choice([each for each in lengths.items() if each[0][0].startswith("b")])
        today[name] = (a, b, draw.randrange(STEP, length, STEP))
    route: dict[str, list[str]] = {}
    for (a, b), length in lengths.items():
        route.setdefault(a, []).append(f"{b}: {length}")
    spacing = STEP * draw.randint(1, 2)
    clear = spacing + STEP * draw.randint(0, 1)
    lines = [
        "format: 2",
        "harness: {title: Tree, number: T-1, revision: A}",
        f"limits: {{splice-spacing: {spacing} mm, splice-clearance: {clear} mm}}",
        "route:",
        *(f"  {point}: {{{', '.join(after)}}}" for point, after in route.items()),
        "supplies: {BAT: {voltage: 13.5 V, at: battery}}",
        "splices:",
        *(f"  {name}: {{at: {a}, offset: {offset}, toward: {b}}}" for name, (a, b, offset) in today.items()),
        "loads:",
        *loads,
        "circuits:",
        *circuits,
    ]
    return Tree("\n".join(lines) + "\n", lengths, wires, today, spacing, clear)


def way_of(tree: Tree, splice: str) -> set[tuple[str, str]]:
    """Stretches in which the wires of a splice lie today."""
    graph = networkx.Graph()
    graph.add_edges_from(tree.lengths)
    found: set[tuple[str, str]] = set()
    for a, b, _ in tree.wires:
        if splice not in (a, b):
            continue
        ends = [(tree.today[each][:2] if each in tree.today else (each,)) for each in (a, b)]
        for one, other in itertools.product(*ends):
            path = networkx.shortest_path(graph, one, other)
            steps = {step if step in tree.lengths else step[::-1] for step in itertools.pairwise(path)}
            found |= steps if len(ends[0]) == len(ends[1]) == 1 else set()
        found |= {step if step in tree.lengths else step[::-1] for step in _between(graph, tree, a, b)}
    return found


def _between(graph: "networkx.Graph[str]", tree: Tree, a: str, b: str) -> list[tuple[str, str]]:
    """Stretches on the way between two ends: those that part them, and those that they sit on."""
    whole = networkx.Graph()
    for step in graph.edges:
        stretch = step if step in tree.lengths else step[::-1]
        marks = sorted((offset, name) for name, (*on, offset) in tree.today.items() if tuple(on) == stretch)
        names = [stretch[0], *(name for _, name in marks), stretch[1]]
        for one, other in itertools.pairwise(names):
            whole.add_edge(one, other, stretch=stretch)
    path = networkx.shortest_path(whole, a, b)
    return [whole.edges[step]["stretch"] for step in itertools.pairwise(path)]


def best_by_trying(tree: Tree) -> float:
    """Least sum of length times size, in mm * mm2, over every allowed arrangement on the grid and today's places."""
    graph = networkx.Graph()
    graph.add_weighted_edges_from((a, b, length) for (a, b), length in tree.lengths.items())
    apart = dict(networkx.all_pairs_dijkstra_path_length(graph))
    names = list(tree.today)
    choices = []
    for name in names:
        own = [tree.today[name]]
        for a, b in way_of(tree, name):
            own += [(a, b, offset) for offset in range(tree.clear, tree.lengths[a, b] - tree.clear + 1, STEP)]
        choices.append(list(dict.fromkeys(own)))

    def distance(one: tuple[str, str, int] | str, other: tuple[str, str, int] | str) -> float:
        if isinstance(one, str):
            if isinstance(other, str):
                return apart[one][other]
            a, b, offset = other
            return min(offset + apart[a][one], tree.lengths[a, b] - offset + apart[b][one])
        if isinstance(other, str):
            return distance(other, one)
        if one[:2] == other[:2]:
            return abs(one[2] - other[2])
        a, b, offset = one
        return min(offset + distance(a, other), tree.lengths[a, b] - offset + distance(b, other))

    best = float("inf")
    for chosen in itertools.product(*choices):
        pairs = itertools.combinations(range(len(names)), 2)
        if any(
            distance(chosen[i], chosen[j]) < tree.spacing
            and not (chosen[i] == tree.today[names[i]] and chosen[j] == tree.today[names[j]])
            and (chosen[i][:2] == chosen[j][:2])
            for i, j in pairs
        ):
            continue
        at = dict(zip(names, chosen, strict=True))
        best = min(best, sum(size * distance(at.get(a, a), at.get(b, b)) for a, b, size in tree.wires))
    return best
