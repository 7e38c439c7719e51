"""What is read of a powered harness with each of many faults, asked of the solver that the matrix rests on."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from harnessgen.bench.faults.changes import Changes
from harnessgen.bench.faults.fault import Change
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.setup.step import Step
from harnessgen.bench.simulation.powered import PoweredRig
from harnessgen.bench.simulation.powered_arrays import PoweredGrid
from harnessgen.bench.simulation.powered_batch import Cases
from harnessgen.bench.simulation.readings import readouts
from harnessgen.bench.simulation.settling import Courses
from harnessgen.network.electrical import REFERENCE, ElementKind
from harnessgen.physics.nodal.elements import Floats


@dataclass(frozen=True)
class ReadFaults:
    """Volts (changes, nodes), nan where a node hangs free, amperes from `a` to `b` (changes, elements), ohms between
    pairs of nodes (changes, pairs), and the relays that hold.
    """

    volts: Floats
    amperes: Floats
    ohms: Floats
    holds: tuple[frozenset[str], ...]


def read_faults(
    rig: PoweredRig,
    on: Iterable[str],
    changes: Sequence[Change],
    nodes: Sequence[str] = (),
    elements: Sequence[str] = (),
    pairs: Sequence[tuple[str, str]] = (),
) -> ReadFaults:
    """Every change alone with these switches and outputs on, relays and fuses at rest."""
    grid, setting = PoweredGrid(rig), frozenset(on)
    switches = setting & frozenset(rig.network.design.switches)
    courses = Courses(grid, switches, list(dict.fromkeys((switches, setting))), Changes(changes))
    count = len(changes)
    cases = Cases(np.full(count, len(courses.settings) - 1, dtype=np.intp), np.arange(count))
    volts, amperes = np.full((count, len(nodes)), np.nan), np.zeros((count, len(elements)))
    ohms = np.full((count, len(pairs)), np.nan)
    holds = [frozenset[str]()] * count
    known = [each for each in elements if each in grid.place_of]
    ends = [(grid.elements[grid.place_of[each]].a, grid.elements[grid.place_of[each]].b) for each in known]
    currents = readouts(grid, ends, [grid.place_of[each] for each in known])
    column = np.array([elements.index(each) for each in known], dtype=np.intp)
    at = np.array([grid.index[each] for each in nodes], dtype=np.intp)
    a, b = np.array([[grid.index[end] for end in pair] for pair in pairs], dtype=np.intp).reshape(-1, 2).T
    rests, off = courses.at_rest(), Cases(np.zeros(count, dtype=np.intp), np.arange(count))
    for batch, rows in courses.settled(off, rests):
        rests.take(batch, rows, off)
    for batch, rows in courses.settled(cases, rests):
        own, bridged = batch.cases[rows], batch.bridged
        volts[own] = bridged.volts(np.repeat(rows, len(at)), np.tile(at, len(rows))).reshape(len(rows), len(at))
        entries = np.repeat(rows, len(known)), np.tile(np.arange(len(known)), len(rows))
        sense = np.sign(currents.volts(bridged, *entries))
        amperes[np.ix_(own, column)] = (sense * currents.values(bridged, *entries)).reshape(len(rows), len(known))
        places = np.tile(np.arange(len(a)), len(rows))
        ohms[own] = bridged.ohms(np.repeat(rows, len(a)), a[places], b[places]).reshape(len(rows), len(a))
        for row, case in zip(rows.tolist(), own.tolist(), strict=True):
            holds[case] = batch.standings[int(batch.group[row])][1]
    return ReadFaults(volts, amperes, ohms, tuple(holds))


def far_node(fitted: Fitted, step: Step) -> str:
    """The node of a step's second place, the reference for bare metal or none."""
    return REFERENCE if step.b is None or step.b == fitted.metal else step.b.node


def read_nodes(rig: PoweredRig, steps: Iterable[Step]) -> list[str]:
    """Nodes that these steps read, those of loads where they are looked at, and those of all coils."""
    fitted = rig.fitted
    found = [REFERENCE]
    for step in steps:
        if step.reactions is not None:
            every = (each for elements in fitted.load_elements.values() for each in elements)
            found += [node for each in every for node in (each.a, each.b)]
        elif step.a is not None and (step.expected.unit == "V" or step.expected.light is not None):
            found += [step.a.node, far_node(fitted, step)]
    coils = (each for each in rig.network.electrical.elements if each.kind is ElementKind.COIL)
    return list(dict.fromkeys((*found, *(node for each in coils for node in (each.a, each.b)))))


def read_elements(rig: PoweredRig) -> list[str]:
    """Fuses and outputs."""
    kinds = (ElementKind.FUSE, ElementKind.DRIVER)
    return [each.name for each in rig.network.electrical.elements if each.kind in kinds]
