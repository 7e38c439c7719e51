"""Temperatures of the wires of a stretch after a limited time: a stall, an inrush, cranking.

Each loaded wire has two masses, its copper and its insulation, with half the resistance of the insulation on either
side of the second; the air in and around the bundle has none. What flows between them is what the steady model says,
so that for a long time the steady temperatures come out, and for a short one the copper warms by itself (adiabatic).
Integrated by implicit steps that grow, twice, the second time with half the steps, and carried on to none (Richardson).
"""

import math
from collections.abc import Sequence

from harnessgen.evidence.publication import Publication, Standing
from harnessgen.lengths.bundles.diameter import bundle_diameter
from harnessgen.measures.frozen import frozen
from harnessgen.parts.covering import CoveringPart
from harnessgen.physics.heat.air import STANDARD_PRESSURE_PA
from harnessgen.physics.heat.bundle import COPPER_ZERO_K, even_rise, own_rise
from harnessgen.physics.heat.covering import Shell, shell
from harnessgen.physics.heat.single_wire import MELTING_DEGC, HeatedWire
from harnessgen.physics.heat.stretch import SharedHeat, across, by_heat, molten, worst_of

COPPER_J_PER_M3_K = 3.45e6
INSULATION_J_PER_M3_K = 1.7e6
"""The least of the usual insulations (polyvinyl chloride): others hold more and warm later."""

MASS_SOURCE = Publication("IEC 60949:1988", "table I, heat per volume of copper and insulations", Standing.FROM_MEMORY)

_STEPS = 48
_GROWTH = 1.2
_TINY = 1e-6


@frozen
class _Node:
    """A loaded wire: heat capacities in J/(m K), heat per kelvin, resistances inside and to the middle in K m/W."""

    copper: float
    insulation: float
    slope: float
    half: float
    out: float


def warmed(
    wires: Sequence[HeatedWire],
    areas_mm2: Sequence[float],
    currents_a: Sequence[float],
    starts_degc: Sequence[float],
    lasts_s: float,
    covering: CoveringPart | None,
    ambient_degc: float,
    pressure_pa: float = STANDARD_PRESSURE_PA,
) -> SharedHeat:
    """Temperatures after `lasts_s` seconds of these currents; each wire starts at its own temperature.

    `areas_mm2` are the copper areas. Wires without current are taken to follow the middle at once. A loaded wire keeps
    its own masses: where the hottest few are taken to give their heat by themselves, nothing is said of the others,
    which warm as they do among all.

    Raises:
        ValueError: there is no wire, or a wire has no place in a bundle.
    """

    def solve(chosen: Sequence[int]) -> SharedHeat:
        end = _end(wires, areas_mm2, currents_a, starts_degc, lasts_s, chosen, covering, ambient_degc, pressure_pa)
        round_it, across_mm = end.shell, end.across_mm
        if not end.coppers_degc or max(end.coppers_degc) > MELTING_DEGC:
            return molten(len(wires), tuple(chosen), round_it, across_mm)
        hottest = max(end.coppers_degc)
        own = dict(zip(chosen, end.coppers_degc, strict=True))
        beside = {index: -math.inf for index in order if index not in own}
        conductors = tuple((own | beside).get(index, min(end.middle_degc, hottest)) for index in range(len(wires)))
        heats = tuple(
            node.slope * (COPPER_ZERO_K + degc) for node, degc in zip(end.nodes, end.coppers_degc, strict=True)
        )
        return SharedHeat(
            conductors, end.surface_degc, end.inner_degc, end.outer_degc, tuple(chosen), heats, round_it, across_mm
        )

    order = by_heat(wires, currents_a)
    return worst_of(solve, order, wires, currents_a, covering, ambient_degc, pressure_pa)


def energies(
    wires: Sequence[HeatedWire],
    areas_mm2: Sequence[float],
    currents_a: Sequence[float],
    starts_degc: Sequence[float],
    lasts_s: float,
    chosen: Sequence[int],
    covering: CoveringPart | None,
    ambient_degc: float,
    pressure_pa: float = STANDARD_PRESSURE_PA,
) -> tuple[float, float, float]:
    """What the chosen wires made, what is stored in them and what they lost in that time, in J/m; it balances.

    Raises:
        ValueError: a conductor melts on the way.
    """
    end = _end(wires, areas_mm2, currents_a, starts_degc, lasts_s, chosen, covering, ambient_degc, pressure_pa)
    if not end.coppers_degc:
        raise ValueError("a conductor melts on the way")
    stored = (
        node.copper * (copper - starts_degc[index]) + node.insulation * (insulation - starts_degc[index])
        for node, index, copper, insulation in zip(
            end.nodes, chosen, end.coppers_degc, end.insulations_degc, strict=True
        )
    )
    return end.made_j_per_m, math.fsum(stored), end.lost_j_per_m


def adiabatic_degc(wire: HeatedWire, area_mm2: float, current_a: float, start_degc: float, lasts_s: float) -> float:
    """Temperature of a conductor that keeps all its heat, in closed form: what no real one exceeds."""
    slope = current_a**2 * wire.ohm_per_m / 254.5
    power = slope * lasts_s / (COPPER_J_PER_M3_K * area_mm2 * 1e-6)
    return (start_degc + COPPER_ZERO_K) * math.exp(power) - COPPER_ZERO_K if power < 100.0 else math.inf


def highest_degc(
    wires: Sequence[HeatedWire],
    areas_mm2: Sequence[float],
    currents_a: Sequence[float],
    starts_degc: Sequence[float],
    lasts_s: float,
) -> float:
    """What no conductor of a stretch, nor anything round it, gets hotter than, told without a march.

    At any time the hottest of them only gives heat away, so that it warms no faster than by its own; five parts in a
    hundred of the rise are for the march's own error.
    """
    start = max(starts_degc)
    hottest = max(
        adiabatic_degc(wire, area, current, start, lasts_s)
        for wire, area, current in zip(wires, areas_mm2, currents_a, strict=True)
    )
    return start + 1.05 * (hottest - start)


@frozen
class _End:
    """Where a march ends. There are no temperatures if a conductor melts on the way."""

    shell: Shell
    across_mm: float
    nodes: tuple[_Node, ...]
    coppers_degc: tuple[float, ...]
    insulations_degc: tuple[float, ...]
    middle_degc: float = math.inf
    surface_degc: float = math.inf
    inner_degc: float = math.inf
    outer_degc: float = math.inf
    made_j_per_m: float = math.inf
    lost_j_per_m: float = math.inf


def _end(
    wires: Sequence[HeatedWire],
    areas_mm2: Sequence[float],
    currents_a: Sequence[float],
    starts_degc: Sequence[float],
    lasts_s: float,
    chosen: Sequence[int],
    covering: CoveringPart | None,
    ambient_degc: float,
    pressure_pa: float,
) -> _End:
    diameter_mm = bundle_diameter([wires[index].outside_diameter_mm for index in chosen]).diameter_mm
    across_mm = across(wires, chosen)
    round_it = shell(diameter_mm, covering, pressure_pa)
    even = even_rise() if len(chosen) > 1 else 0.0
    nodes = tuple(_node(wires[index], areas_mm2[index], currents_a[index], across_mm, even) for index in chosen)
    starts = [starts_degc[index] for index in chosen]
    coarse = _march(nodes, starts, lasts_s, 1, round_it, even, ambient_degc)
    fine = _march(nodes, starts, lasts_s, 2, round_it, even, ambient_degc)
    if coarse is None or fine is None:
        return _End(round_it, across_mm, nodes, (), ())
    exact = [2.0 * b - a for a, b in zip(coarse, fine, strict=True)]
    count = len(nodes)
    return _End(round_it, across_mm, nodes, tuple(exact[:count]), tuple(exact[count : 2 * count]), *exact[2 * count :])


def _node(wire: HeatedWire, area_mm2: float, current_a: float, across_mm: float, even: float) -> _Node:
    section_mm2 = math.pi / 4.0 * (wire.outside_diameter_mm**2 - wire.conductor_diameter_mm**2)
    half = max(wire.insulation_k_m_per_w / 2.0, _TINY)
    # A thick wire among thin ones would have less than its insulation between it and the middle: take no less.
    whole = max(own_rise(wire, across_mm) - even, wire.insulation_k_m_per_w)
    return _Node(
        COPPER_J_PER_M3_K * area_mm2 * 1e-6,
        INSULATION_J_PER_M3_K * section_mm2 * 1e-6,
        current_a**2 * wire.ohm_per_m / 254.5,
        half,
        max(whole - half, _TINY),
    )


def _march(
    nodes: Sequence[_Node],
    starts_degc: Sequence[float],
    lasts_s: float,
    parts: int,
    round_it: Shell,
    even: float,
    ambient_degc: float,
) -> list[float] | None:
    """At the end: coppers, insulations, middle, surface, inner and outer face in degC; heat made and lost in J/m.

    None if something melts on the way.

    Each of the growing steps is taken in `parts` parts.
    """
    coppers, insulations = list(starts_degc), list(starts_degc)
    outer = ambient_degc
    first_s = lasts_s * (_GROWTH - 1.0) / (_GROWTH**_STEPS - 1.0)
    middle, heat, made, lost = ambient_degc, 0.0, 0.0, 0.0
    for number in range(_STEPS * parts):
        step_s = first_s * _GROWTH ** (number // parts) / parts
        gives = _outward(round_it, outer, ambient_degc)
        above = even + round_it.wall_k_m_per_w() + round_it.gap_k_m_per_w(round_it.inner_degc(outer, heat)) + gives
        found = _step(nodes, coppers, insulations, step_s, above, ambient_degc)
        if found is None:
            return None
        coppers, insulations, middle = found
        heat = (middle - ambient_degc) / above
        outer = ambient_degc + heat * gives
        made += step_s * math.fsum(n.slope * (COPPER_ZERO_K + t) for n, t in zip(nodes, coppers, strict=True))
        lost += step_s * heat
        if max(coppers) > 2.0 * MELTING_DEGC:
            return None
    return [
        *coppers, *insulations, middle, middle - even * heat, round_it.inner_degc(outer, heat), outer, made, lost
    ]  # fmt: skip


def _outward(round_it: Shell, outer_degc: float, ambient_degc: float) -> float:
    """Resistance from the outermost surface to the ambient at its present temperature, in K m/W."""
    excess = max(outer_degc - ambient_degc, 0.01)
    return excess / round_it.lost_w_per_m(ambient_degc + excess, ambient_degc)


def _step(
    nodes: Sequence[_Node],
    coppers: Sequence[float],
    insulations: Sequence[float],
    step_s: float,
    above: float,
    ambient_degc: float,
) -> tuple[list[float], list[float], float] | None:
    """One implicit step: new temperatures of copper and insulation and of the middle; None if copper runs away in it.

    The wires meet in the middle alone, so each is eliminated by itself.
    """
    into, kept = [], []
    total, weight = ambient_degc / above, 1.0 / above
    for node, copper, insulation in zip(nodes, coppers, insulations, strict=True):
        own = node.copper / step_s - node.slope + 1.0 / node.half
        given = node.copper / step_s * copper + COPPER_ZERO_K * node.slope
        if own <= 0.0:
            return None
        side = node.insulation / step_s + 1.0 / node.half + 1.0 / node.out - 1.0 / (node.half**2 * own)
        if side <= 0.0:
            return None
        pushed = node.insulation / step_s * insulation + given / (node.half * own)
        into.append((own, given, side, pushed))
        total += pushed / (side * node.out)
        weight += 1.0 / node.out - 1.0 / (side * node.out**2)
    middle = total / weight
    if weight <= 0.0:
        return None
    warm: list[float] = []
    for node, (own, given, side, pushed) in zip(nodes, into, strict=True):
        insulation = (pushed + middle / node.out) / side
        kept.append(insulation)
        warm.append((given + insulation / node.half) / own)
    return warm, kept, middle
