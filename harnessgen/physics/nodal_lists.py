"""Many lists of changes of one network, each list made by itself: copies of the network side by side, solved together.

A list that opens and closes several elements at once is no single source; a network of its own for each would spend its
time on being set up. Copies share no node, so that their parts are inverted together and nothing of one meets another.
"""

from collections.abc import Sequence

import numpy as np

from harnessgen.physics.nodal import Network, over
from harnessgen.physics.nodal_changes import Change, read_changes
from harnessgen.physics.nodal_elements import Floats, elements

_NODES = 20_000
"""Number of nodes that are solved side by side at one time."""


def solve_lists(
    network: Network, lists: Sequence[Sequence[Change]], nodes: Sequence[int], resistors: Sequence[int]
) -> tuple[Floats, Floats]:
    """Volts (lists, nodes) and amperes (lists, resistors) with each list of changes made; nan where nodes hang free.

    The current of an altered resistor is what it carries then.

    Raises:
        ValueError: a change names no resistor or node, or no positive ohm.
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    volts, amperes = np.zeros((len(lists), len(nodes))), np.zeros((len(lists), len(resistors)))
    at, of = np.array(nodes, dtype=np.intp), np.array(resistors, dtype=np.intp)
    width = max(1, _NODES // network.elements.node_count)
    for first in range(0, len(lists), width):
        rows = slice(first, first + width)
        volts_v, currents_a = _side_by_side(network, lists[rows])
        volts[rows], amperes[rows] = volts_v[:, at], currents_a[:, of]
    return volts, amperes


def _side_by_side(network: Network, lists: Sequence[Sequence[Change]]) -> tuple[Floats, Floats]:
    """Volts of all nodes and amperes of all resistors, with a row for each list."""
    have, count = network.elements, len(lists)
    shift = have.node_count * np.arange(count)[:, None]
    siemens = np.tile(have.siemens, (count, 1))
    ends_a, ends_b = [(have.a + shift).ravel()], [(have.b + shift).ravel()]
    bridges = []
    for row, changes in enumerate(lists):
        made = read_changes(network, changes)
        is_bridge = made.resistor < 0
        siemens[row, made.resistor[~is_bridge]] = made.after[~is_bridge]
        ends_a.append(made.a[is_bridge] + shift[row])
        ends_b.append(made.b[is_bridge] + shift[row])
        bridges.append(made.after[is_bridge])
    all_siemens = np.concatenate((siemens.ravel(), *bridges))
    copies = elements(have.node_count * count, np.concatenate(ends_a), np.concatenate(ends_b), all_siemens)
    solution = over(copies, np.tile(network.fixed, count), np.tile(network.fixed_v, count)).solve()
    currents_a = solution.currents_a[: len(have.a) * count]
    return solution.voltages_v.reshape(count, -1), currents_a.reshape(count, -1)
