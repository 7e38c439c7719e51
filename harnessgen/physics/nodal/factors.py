"""Factors of a resistive network: dense for small connected parts, sparse for large, star-mesh for extreme spreads.

Fixed nodes part the network: what hangs between supply and ground falls into pieces that share no unknown. Pieces of
equal size are inverted together.
"""

import heapq
from collections.abc import Sequence
from typing import Any, Protocol

import numpy as np

from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal.elements import Elements, Flags, Floats, Ints

DENSE_LIMIT = 150
"""Largest number of unknown nodes in a connected part that is still inverted densely."""
_LARGE_NETWORK = 1_000
_DENSE_IN_LARGE = 40
"""That number in a network of so many nodes, where the library of sparse factors is worth loading.

Measured on 3,700 nodes: the steps of a procedure took 20 s with 150, and 4 s with 40.
"""

# Above this (about 1e-3 of a solution lost to rounding) corrections converge slowly, and star-mesh is used.
_COARSE = 1e-3 / np.finfo(np.float64).eps


class FactoredPart(Protocol):
    """Factors of some connected parts."""

    def solve_into(self, injection_a: Floats, voltage_v: Floats) -> None:
        """Write the voltages of this part's nodes for the amperes injected; both (nodes, columns)."""


@frozen
class DensePart:
    """Connected parts of equal size: `nodes` (parts, size), transfer resistances `ohm` (parts, size, size)."""

    nodes: Ints
    ohm: Floats

    def solve_into(self, injection_a: Floats, voltage_v: Floats) -> None:
        """Write the voltages of this part's nodes for the amperes injected; both (nodes, columns)."""
        voltage_v[self.nodes] = self.ohm @ injection_a[self.nodes]


@frozen
class SparsePart:
    """One large connected part with its sparse triangular factors."""

    nodes: Ints
    triangles: Any

    def solve_into(self, injection_a: Floats, voltage_v: Floats) -> None:
        """Write the voltages of this part's nodes for the amperes injected; both (nodes, columns)."""
        voltage_v[self.nodes] = self.triangles.solve(injection_a[self.nodes])


@frozen
class StarMeshPart:
    """One connected part, its nodes eliminated one by one; each step: node, neighbours left, their shares, siemens.

    A star becomes a mesh by sums, products and quotients of positive numbers alone, so nothing cancels however far
    the conductances lie apart.
    """

    steps: tuple[tuple[int, Ints, Floats, float], ...]

    def solve_into(self, injection_a: Floats, voltage_v: Floats) -> None:
        """Write the voltages of this part's nodes for the amperes injected; both (nodes, columns)."""
        moved = injection_a.copy()
        for node, others, shares, _ in self.steps:
            moved[others] += shares[:, None] * moved[node]
        for node, others, shares, siemens in reversed(self.steps):
            voltage_v[node] = moved[node] / siemens + shares @ voltage_v[others]


@frozen
class Factors:
    """Factors of all connected parts that have a path to a fixed node."""

    parts: tuple[FactoredPart, ...]

    def solve(self, injection_a: Floats) -> Floats:
        """Voltages for amperes injected, with all fixed nodes at 0 V; both (nodes, columns)."""
        voltage_v = np.zeros_like(injection_a)
        for part in self.parts:
            part.solve_into(injection_a, voltage_v)
        return voltage_v


def factorise(network: Elements, label: Ints, solvable: Flags, dense: int | None = None) -> Factors:
    """Factors of the parts named by `label` whose nodes are `solvable` (free, with a path to a fixed node).

    Parts of up to `dense` nodes are inverted; as many as is quickest where it is not given.
    """
    nodes = np.nonzero(solvable)[0]
    nodes = nodes[np.argsort(label[nodes], kind="stable")]
    _, first, size = np.unique(label[nodes], return_index=True, return_counts=True)
    place = np.full(network.node_count, -1, dtype=np.intp)
    place[nodes] = np.arange(len(nodes)) - np.repeat(first, size)
    parts: list[FactoredPart] = []
    usual = _DENSE_IN_LARGE if network.node_count > _LARGE_NETWORK else DENSE_LIMIT
    limit = dense if dense is not None else usual
    for each in np.unique(size):
        members = nodes[first[size == each][:, None] + np.arange(each)]
        if each <= limit:
            parts.extend(_dense(network, members, place))
        else:
            parts.extend(_sparse(network, row, place) for row in members)
    return Factors(tuple(parts))


def _dense(network: Elements, members: Ints, place: Ints) -> list[FactoredPart]:
    count, size = members.shape
    row = np.full(network.node_count, -1, dtype=np.intp)
    row[members] = np.arange(count)[:, None]
    inner = (row[network.a] >= 0) & (row[network.b] >= 0)
    a, b = network.a[inner], network.b[inner]
    diagonal = network.diagonal()[members]
    flat = np.concatenate(((row[a] * size + place[a]) * size + place[b], (row[a] * size + place[b]) * size + place[a]))
    matrix = np.zeros((count, size, size))
    np.subtract.at(matrix.ravel(), flat, np.tile(network.siemens[inner], 2))
    matrix[:, np.arange(size), np.arange(size)] += diagonal
    try:
        ohm = np.asarray(np.linalg.inv(matrix), dtype=np.float64)
    except np.linalg.LinAlgError:
        return [star_mesh(network, nodes) for nodes in members]
    coarse = _is_coarse((ohm @ diagonal[:, :, None])[:, :, 0])
    parts: list[FactoredPart] = [star_mesh(network, nodes) for nodes in members[coarse]]
    if not coarse.all():
        parts.append(DensePart(members[~coarse], ohm[~coarse]))
    return parts


def _sparse(network: Elements, nodes: Ints, place: Ints) -> FactoredPart:
    from scipy.sparse import csc_matrix
    from scipy.sparse.linalg import splu

    mine = np.zeros(network.node_count, dtype=np.bool_)
    mine[nodes] = True
    inner = mine[network.a] & mine[network.b] & (network.siemens > 0.0)
    a, b, siemens = place[network.a[inner]], place[network.b[inner]], network.siemens[inner]
    diagonal = network.diagonal()[nodes]
    own = np.arange(len(nodes))
    rows, columns = np.concatenate((a, b, own)), np.concatenate((b, a, own))
    matrix = csc_matrix((np.concatenate((-siemens, -siemens, diagonal)), (rows, columns)))
    try:
        triangles = splu(matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
    except RuntimeError:
        return star_mesh(network, nodes)
    if _is_coarse(triangles.solve(diagonal)[None, :])[0]:
        return star_mesh(network, nodes)
    return SparsePart(nodes, triangles)


def _is_coarse(amplified: Floats) -> Flags:
    """Whether rounding spoils each factor; `amplified` (factors, nodes) is the transfer resistance times the diagonal.

    Summed over nodes it is half of Skeel's condition number; every entry is at least one in exact arithmetic.
    """
    is_fine: Flags = (np.min(amplified, axis=1) > 0.0) & (np.max(amplified, axis=1) < _COARSE)
    return ~is_fine


def star_mesh(network: Elements, nodes: Sequence[int] | Ints) -> StarMeshPart:
    """Eliminate the nodes of one connected part, those with the fewest neighbours first."""
    mesh, leak = _adjacency(network, [int(node) for node in nodes])
    queue = [(len(around), node) for node, around in mesh.items()]
    heapq.heapify(queue)
    steps: list[tuple[int, Ints, Floats, float]] = []
    while queue:
        degree, node = heapq.heappop(queue)
        if node not in mesh or degree != len(mesh[node]):
            continue
        around = mesh.pop(node)
        total = leak[node] + sum(around.values())
        ends = list(around.items())
        for at, (near, siemens) in enumerate(ends):
            share = siemens / total
            leak[near] += share * leak[node]
            del mesh[near][node]
            for far, further in ends[at + 1 :]:
                made = mesh[near].get(far, 0.0) + share * further
                mesh[near][far] = mesh[far][near] = made
        for near in around:
            heapq.heappush(queue, (len(mesh[near]), near))
        shares = np.array([siemens / total for siemens in around.values()])
        steps.append((node, np.array(list(around), dtype=np.intp), shares, total))
    return StarMeshPart(tuple(steps))


def _adjacency(network: Elements, nodes: list[int]) -> tuple[dict[int, dict[int, float]], dict[int, float]]:
    """Conductance between free neighbours, and from each free node to fixed ones."""
    mesh: dict[int, dict[int, float]] = {node: {} for node in nodes}
    leak = dict.fromkeys(nodes, 0.0)
    for node in nodes:
        entries, signs = network.at_node(node)
        for entry, sign in zip(entries.tolist(), signs.tolist(), strict=True):
            siemens = float(network.siemens[entry])
            other = int(network.b[entry] if sign > 0 else network.a[entry])
            if siemens == 0.0 or other == node:
                continue
            if other in mesh:
                mesh[node][other] = mesh[node].get(other, 0.0) + siemens
            else:
                leak[node] += siemens
    return mesh, leak


def star_mesh_factors(network: Elements, label: Ints, solvable: Flags) -> Factors:
    """Factors of all solvable parts by star-mesh elimination alone: slower, and right for any spread of resistances."""
    nodes = np.nonzero(solvable)[0]
    nodes = nodes[np.argsort(label[nodes], kind="stable")]
    _, first = np.unique(label[nodes], return_index=True)
    return Factors(tuple(star_mesh(network, each) for each in np.split(nodes, first[1:]) if len(each)))
