"""Where the temperature of a wire in its stretch comes from."""

import math

from harnessgen.evidence.derivation import Balance, Solved
from harnessgen.physics.heat.air import convection_w_per_m, radiation_w_per_m
from harnessgen.physics.heat.bundle import even_rise, own_rise
from harnessgen.physics.heat.covering import SHELL_SOURCE
from harnessgen.physics.heat.derivation import BUNDLE_EQUATIONS, HEAT_SOURCES
from harnessgen.physics.heat.harness import HarnessHeat, Loading, StretchHeat, WireHeat
from harnessgen.physics.heat.transient import MASS_SOURCE, energies

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
    return Solved(title, WARMING_EQUATIONS, _warming(at.stretch), at.conductor_degc, "degC", sources)


def loading_derivation(heat: HarnessHeat, loading: Loading) -> Solved | None:
    """Current that brings a wire to its rating where it uses most of it: the balances with that current in it.

    None where it may carry nothing, or a published table says what it may.
    """
    if loading.table is not None or not loading.allowed_a > 0.0:
        return None
    found = wire_heat_derivation(heat.carrying(loading.at, loading.allowed_a))
    leg = loading.at.stretch.bundle.leg
    where = f" from {leg.name}" if leg is not None else ""
    title = f"current that {loading.at.wire.mark} may carry{where} in state {loading.at.stretch.state}"
    return Solved(
        f"{title}, the others as loaded", found.equations, found.balances, loading.allowed_a, "A", found.sources
    )


def covering_derivation(stretch: StretchHeat) -> Solved:
    """Temperature of the inside of a stretch's covering in a state, with the balances that it meets.

    Raises:
        ValueError: there is no covering, or no temperature below the melting point of copper.
    """
    covering, leg = stretch.bundle.covering, stretch.bundle.leg
    if covering is None or leg is None or math.isinf(stretch.found.inner_degc):
        raise ValueError("there is no covering with a temperature")
    title = f"inside of the {covering.name} from {leg.name} in state {stretch.state}"
    if stretch.lasts_s is None:
        equations, balances, sources = BUNDLE_EQUATIONS, _outward(stretch), (*HEAT_SOURCES, SHELL_SOURCE)
    else:
        equations, balances = WARMING_EQUATIONS, _warming(stretch)
        sources = (*HEAT_SOURCES, SHELL_SOURCE, MASS_SOURCE)
    return Solved(title, equations, balances, stretch.found.inner_degc, "degC", sources)


def _outward(stretch: StretchHeat) -> tuple[Balance, ...]:
    """Heat of a bundle and how it goes out through its covering."""
    found, bundle = stretch.found, stretch.bundle
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
        inside = (
            ("surface of the bundle", found.surface_degc),
            ("inside of the covering", -found.inner_degc),
            ("fall through the air in it", -gap),
        )
        balances.append(Balance("temperature from the bundle to the inside of its covering", inside, "K"))
        outside = (
            ("inside of the covering", found.inner_degc),
            ("outside of the covering", -found.outer_degc),
            ("fall through the wall", -heat * round_it.wall_k_m_per_w()),
        )
        balances.append(Balance("temperature from the inside to the outside of its covering", outside, "K"))
    return tuple(balances)


def _steady(at: WireHeat) -> tuple[Balance, ...]:
    found, bundle = at.stretch.found, at.stretch.bundle
    heat, balances = math.fsum(found.heats_w_per_m), list(_outward(at.stretch))
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


def _warming(stretch: StretchHeat) -> tuple[Balance, ...]:
    bundle = stretch.bundle
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
