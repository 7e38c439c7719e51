"""Where the temperature of a wire in its stretch comes from."""

import math

from harnessgen.evidence.derivation import Balance, Solved
from harnessgen.physics.air import convection_w_per_m, radiation_w_per_m
from harnessgen.physics.bundle_heat import even_rise, own_rise
from harnessgen.physics.harness_heat import WireHeat
from harnessgen.physics.heat_derivation import BUNDLE_EQUATIONS, HEAT_SOURCES
from harnessgen.physics.shell import SHELL_SOURCE
from harnessgen.physics.warming import MASS_SOURCE, energies

WARMING_EQUATIONS = (
    "heat made = heat stored in copper and insulation + heat lost, from the start to the end of the state"
)


def wire_heat_derivation(at: WireHeat) -> Solved:
    """Temperature of a wire's conductor in a stretch and state, with the balances that it meets.

    Raises:
        ValueError: there is no temperature below the melting point of copper.
    """
    stretch = at.stretch
    if math.isinf(at.conductor_degc):
        raise ValueError(f"{at.wire.mark} comes to no temperature below the melting point of copper")
    where = f" from {stretch.bundle.leg.name}" if stretch.bundle.leg is not None else ""
    title = f"conductor of {at.wire.mark}{where} in state {stretch.state}"
    if stretch.lasts_s is None:
        return Solved(title, BUNDLE_EQUATIONS, _steady(at), at.conductor_degc, "degC", (*HEAT_SOURCES, SHELL_SOURCE))
    sources = (*HEAT_SOURCES, SHELL_SOURCE, MASS_SOURCE)
    return Solved(title, WARMING_EQUATIONS, _warming(at), at.conductor_degc, "degC", sources)


def _steady(at: WireHeat) -> tuple[Balance, ...]:
    found, bundle = at.stretch.found, at.stretch.bundle
    round_it, ambient = found.shell, bundle.ambient_degc
    heat = math.fsum(found.heats_w_per_m)
    carried = convection_w_per_m(found.outer_degc, ambient, round_it.outside_mm, round_it.pressure_pa)
    radiated = radiation_w_per_m(found.outer_degc, ambient, round_it.outside_mm, round_it.emissivity)
    balances = [
        Balance(
            "heat made and lost by one metre of bundle",
            (("made in all wires", heat), ("carried off by air", -carried), ("radiated", -radiated)),
            "W/m",
        )
    ]
    if round_it.outside_mm > round_it.bundle_mm:
        gap = heat * round_it.gap_k_m_per_w(found.inner_degc)
        terms = (
            ("surface of the bundle", found.surface_degc),
            ("outside of the covering", -found.outer_degc),
            ("fall through the wall", -heat * round_it.wall_k_m_per_w()),
            ("fall through the air in it", -gap),
        )
        balances.append(Balance("temperature from the bundle to the outside of its covering", terms, "K"))
    if at.index in found.deciding:
        own = found.heats_w_per_m[found.deciding.index(at.index)]
        rise = own_rise(bundle.bodies[at.index], found.across_mm)
        others = even_rise() * (heat - own)
        solved = found.surface_degc + own * rise + others
        # Where a smaller bundle of the hotter wires decides for the others, its own is the highest of all.
        if abs(solved - at.conductor_degc) <= 1e-6 * max(abs(solved), 1.0):
            fall = (
                ("conductor", at.conductor_degc),
                ("surface", -found.surface_degc),
                ("fall of its own heat", -own * rise),
                ("rise by the other wires", -others),
            )
            balances.append(Balance("temperature from conductor to surface of the bundle", fall, "K"))
    return tuple(balances)


def _warming(at: WireHeat) -> tuple[Balance, ...]:
    stretch, bundle = at.stretch, at.stretch.bundle
    assert stretch.lasts_s is not None
    if not stretch.found.deciding:
        return ()
    made, stored, lost = energies(
        bundle.bodies,
        bundle.areas_mm2,
        stretch.currents_a,
        stretch.starts_degc,
        stretch.lasts_s,
        stretch.found.deciding,
        bundle.covering,
        bundle.ambient_degc,
        stretch.found.shell.pressure_pa,
    )
    terms = (("made in all wires", made), ("stored in copper and insulation", -stored), ("lost", -lost))
    return (Balance(f"energy of one metre of bundle in {stretch.lasts_s:g} s", terms, "J/m"),)
