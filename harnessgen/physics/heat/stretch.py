"""Temperatures of the wires that share a stretch, each with its own current, in their covering and their ambient.

The steady model is that of `bundle`: all heat leaves at the bundle's surface, and every wire is taken to lie in
the middle. One wire reduces to the wire alone. Against the published bundling curve (MIL-W-5088L, all wires loaded) the
allowed current comes out within 9 %, loaded in full or in part; that band is the model's error. A bundle of more than
20 wires was not held against anything but the boat factors (ABYC E-11), which lie above the model there.

A wire that makes little heat for its size would cool its neighbours, by giving them surface. No harness is to rest on
that: the temperatures are the highest over all loaded wires and over the hottest of them alone, with the surface that
these have by themselves, and yet the whole bundle between each of them and that surface. So a wire more does not cool
another, but for the roughness of bundle diameters (8 % of a rise; 16 % in a covering).
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from harnessgen.lengths.bundles.diameter import RULE_FACTOR, bundle_diameter
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import quantised
from harnessgen.parts.covering import CoveringPart
from harnessgen.physics.heat.air import STANDARD_PRESSURE_PA
from harnessgen.physics.heat.bundle import COPPER_ZERO_K, BundleHeat, even_rise, gain_w_per_m_k, inside_of, own_rise
from harnessgen.physics.heat.covering import Shell, shell
from harnessgen.physics.heat.single_wire import MELTING_DEGC, HeatedWire, crossing_above

_GUESS_K = 40.0

_TRICKLE_A = 1e-6
"""What an open contact lets through heats nothing: it makes picowatts."""


@frozen
class SharedHeat:
    """Temperatures of a bundle in degC: of each conductor, the bundle's surface, the inner and outer face of its cover.

    `inf` where there is no steady state below the melting point of copper. The surfaces are those of the wires that
    decide, `deciding` by index, with the heat of each in `heats_w_per_m`, in their `shell`; `across_mm` is what lies
    between them and that surface (see `across`).
    """

    conductors_degc: tuple[float, ...]
    surface_degc: float
    inner_degc: float
    outer_degc: float
    deciding: tuple[int, ...]
    heats_w_per_m: tuple[float, ...]
    shell: Shell
    across_mm: float

    @property
    def hottest_degc(self) -> float:
        """The hottest conductor."""
        return max(self.conductors_degc)


def by_heat(wires: Sequence[HeatedWire], currents_a: Sequence[float]) -> list[int]:
    """Indices of the wires that carry current, those that make most heat for their section first."""

    def dense(index: int) -> float:
        return quantised(currents_a[index] ** 2 * wires[index].ohm_per_m / wires[index].outside_diameter_mm ** 2)

    return sorted((index for index, current in enumerate(currents_a) if current > _TRICKLE_A), key=dense, reverse=True)


def shared_heat(
    wires: Sequence[HeatedWire],
    currents_a: Sequence[float],
    covering: CoveringPart | None,
    ambient_degc: float,
    pressure_pa: float = STANDARD_PRESSURE_PA,
) -> SharedHeat:
    """Steady temperatures of wires that share a stretch, with currents in A.

    Raises:
        ValueError: there is no wire, or a wire has no place in a bundle.
    """

    def solve(chosen: Sequence[int]) -> SharedHeat:
        return _steady(wires, currents_a, chosen, covering, ambient_degc, pressure_pa)

    order = by_heat(wires, currents_a)
    return worst_of(solve, order, wires, currents_a, covering, ambient_degc, pressure_pa)


def worst_of(
    solve: Callable[[Sequence[int]], SharedHeat],
    order: Sequence[int],
    wires: Sequence[HeatedWire],
    currents_a: Sequence[float],
    covering: CoveringPart | None,
    ambient_degc: float,
    pressure_pa: float,
) -> SharedHeat:
    """The highest temperatures over the wires of `order` and over the first of them, which get hottest by themselves.

    Raises:
        ValueError: there is no wire, or a wire has no place in a bundle.
    """
    if not order:
        round_it = shell(bundle_diameter([each.outside_diameter_mm for each in wires]).diameter_mm, covering)
        return SharedHeat(
            (ambient_degc,) * len(wires), ambient_degc, ambient_degc, ambient_degc, (), (), round_it, round_it.bundle_mm
        )
    every = solve(order)
    if len(order) == 1 or math.isinf(every.hottest_degc):
        return every
    tried = {frozenset(order): every}
    for fewer in _hottest_few(order, wires, currents_a, covering, ambient_degc, pressure_pa):
        if frozenset(fewer) not in tried:
            tried[frozenset(fewer)] = solve(fewer)
    worst = max(tried.values(), key=lambda each: quantised(each.hottest_degc))
    highest = tuple(map(max, *(each.conductors_degc for each in tried.values())))
    return replace(worst, conductors_degc=highest)


def _hottest_few(
    order: Sequence[int],
    wires: Sequence[HeatedWire],
    currents_a: Sequence[float],
    covering: CoveringPart | None,
    ambient_degc: float,
    pressure_pa: float,
) -> tuple[Sequence[int], Sequence[int]]:
    """The wire that makes its surface hottest by itself, and the first wires of `order` that do together.

    By the resistances that their bundles have at 40 K. Of all ways to choose wires, those of most heat for their
    section make the most heat for any surface, so the first wires of the order suffice.
    """

    def rise(heat: float, diameter: float) -> float:
        round_it = shell(diameter, covering, pressure_pa)
        above = _GUESS_K / round_it.lost_w_per_m(ambient_degc + _GUESS_K, ambient_degc) + even_rise()
        if round_it.outside_mm > round_it.bundle_mm:
            above += round_it.wall_k_m_per_w() + round_it.gap_k_m_per_w(ambient_degc + _GUESS_K)
        return heat * above

    heats = {index: currents_a[index] ** 2 * wires[index].ohm_per_m for index in order}
    single = max(order, key=lambda index: quantised(rise(heats[index], wires[index].outside_diameter_mm)))
    heat, squares = heats[order[0]], wires[order[0]].outside_diameter_mm ** 2
    highest, best = 0.0, 1
    for count, index in enumerate(order[1:], start=2):
        heat += heats[index]
        squares += wires[index].outside_diameter_mm ** 2
        if (found := rise(heat, RULE_FACTOR * math.sqrt(squares))) >= highest:
            highest, best = found, count
    return [single], order[:best]


def _steady(
    wires: Sequence[HeatedWire],
    currents_a: Sequence[float],
    chosen: Sequence[int],
    covering: CoveringPart | None,
    ambient_degc: float,
    pressure_pa: float,
) -> SharedHeat:
    """Steady temperatures with the heat and the surface of the chosen wires alone; the others lie in their middle."""
    among = [wires[index] for index in chosen]
    round_it = shell(bundle_diameter([each.outside_diameter_mm for each in among]).diameter_mm, covering, pressure_pa)
    across_mm = across(wires, chosen)
    inside = inside_of(among, [currents_a[index] for index in chosen], across_mm)

    def excess(outer_degc: float) -> float:
        lost = round_it.lost_w_per_m(outer_degc, ambient_degc)
        return lost - inside.made(round_it.surface_degc(outer_degc, lost))

    outer = crossing_above(excess, ambient_degc, MELTING_DEGC)
    if outer is None:
        return molten(len(wires), tuple(chosen), round_it, across_mm)
    heat = round_it.lost_w_per_m(outer, ambient_degc)
    found = inside.state(round_it.surface_degc(outer, heat))
    if math.isinf(found.surface_degc):
        return molten(len(wires), tuple(chosen), round_it, across_mm)
    conductors = conductors_of(wires, currents_a, chosen, found, across_mm, inside.even)
    return SharedHeat(
        conductors,
        found.surface_degc,
        round_it.inner_degc(outer, heat),
        outer,
        tuple(chosen),
        found.heats_w_per_m,
        round_it,
        across_mm,
    )


def conductors_of(
    wires: Sequence[HeatedWire],
    currents_a: Sequence[float],
    chosen: Sequence[int],
    found: BundleHeat,
    across_mm: float,
    even: float,
) -> tuple[float, ...]:
    """Conductor temperatures of all wires: the chosen ones as found, the others in the middle of those."""
    middle = min(found.surface_degc + even * found.heat_w_per_m, max(found.conductors_degc))
    own = dict(zip(chosen, found.conductors_degc, strict=True))
    conductors: list[float] = []
    for index, wire in enumerate(wires):
        if index in own:
            conductors.append(own[index])
            continue
        rise = max(own_rise(wire, max(across_mm, wire.outside_diameter_mm)) - even, 0.0)
        gain = gain_w_per_m_k(wire, currents_a[index], rise)
        conductors.append(middle + rise * gain * (COPPER_ZERO_K + middle) if gain >= 0.0 else math.inf)
    return tuple(conductors)


def across(wires: Sequence[HeatedWire], chosen: Sequence[int]) -> float:
    """Diameter through which the chosen wires give their heat: that of the whole bundle, in mm.

    The others count with no more than the thinnest of the chosen, so that a thick cold wire never warms itself by
    lying in the way.
    """
    diameters = [wires[index].outside_diameter_mm for index in chosen]
    others = set(range(len(wires))).difference(chosen)
    thinnest = min(diameters)
    beside = [min(wires[index].outside_diameter_mm, thinnest) for index in sorted(others)]
    return bundle_diameter([*diameters, *beside]).diameter_mm


def molten(count: int, chosen: tuple[int, ...], round_it: Shell, across_mm: float) -> SharedHeat:
    """What is reported where no state exists below the melting point of copper."""
    endless = (math.inf,) * count
    return SharedHeat(endless, math.inf, math.inf, math.inf, chosen, (math.inf,) * len(chosen), round_it, across_mm)
