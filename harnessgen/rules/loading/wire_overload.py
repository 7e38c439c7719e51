"""A wire that carries more than its insulation stands, beside what the wires of its bundle carry."""

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from harnessgen.design.limits.table import Limit, limit
from harnessgen.evidence.finding import Finding, Later, Number, Proposal, Severity, at_most
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import plain_number
from harnessgen.network.wires import Wire
from harnessgen.physics.electrical.element_resistance import ambient_degc
from harnessgen.physics.heat.harness import LOADED_A, Loading, WireHeat
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading.hotter_families import families_that_carry
from harnessgen.rules.loading.vehicle_wires import given_overloads
from harnessgen.rules.wording.recalled import recalled_wires

RULE = "wire-overload"
_MOST_PROPOSALS = 4


def check(physics: Physics) -> list[Finding]:
    """One finding for each wire that uses more than its share of what it may carry, where and when it does most.

    A state with a short is left out: its currents are the short's, which is a finding of its own.
    """
    ours = (
        replace(_finding(physics, each), elsewhere=Later(partial(_in_other_states, physics, each)))
        for each in overloaded(physics)
    )
    return [*ours, *given_overloads(physics, RULE)]


@frozen
class Overload:
    """A wire where it uses most of what it may carry, and the share of that which it may use.

    `is_alone` says that the allowed current is the one beside cold neighbours: by themselves they heat it too much.
    """

    wire: Wire
    loading: Loading
    share: Limit
    is_alone: bool = False

    @property
    def allowed_a(self) -> float:
        """What it may carry there, with its share."""
        return self.loading.allowed_a * self.share.value.value


def overloaded(physics: Physics) -> tuple[Overload, ...]:
    """Each such wire; one that its zone or its neighbours heat too much is left out: `over-temperature` tells it.

    One whose own current would be too much beside cold neighbours too is told here, and so is one whose zone is exactly
    as hot as its insulation stands: it may carry nothing.
    """
    if RULE not in physics.kept:
        physics.kept[RULE] = tuple(_overloaded(physics))
    found: tuple[Overload, ...] = physics.kept[RULE]
    return found


def _overloaded(physics: Physics) -> Iterator[Overload]:
    for wire in physics.network.wires:
        each = _overload_of(physics, wire)
        if each is not None:
            yield each


def _overload_of(physics: Physics, wire: Wire, state: str = "") -> Overload | None:
    """How a wire is overloaded, in one state or in any."""
    network, rating = physics.network, wire.family.rating_degc.value
    if any(ambient_degc(network, leg) > rating for leg in wire.way):
        return None
    share = limit("wire-load", wire.limits, network.design.limits)
    loading = physics.heat.loading(wire.mark, share.value.value, state)
    if loading is None or loading.used <= share.value.value:
        return None
    if loading.allowed_a > 0.0 or loading.at.stretch.bundle.ambient_degc >= rating:
        return Overload(wire, loading, share)
    alone_a = physics.heat.allowed_alone_a(loading.at)
    if loading.at.current_a > alone_a * share.value.value:
        return Overload(wire, Loading(loading.at, alone_a), share, is_alone=True)
    return None


def _in_other_states(physics: Physics, told: Overload) -> list[Finding]:
    others = (name for name in physics.heat.durations_s if name != told.loading.at.stretch.state)
    found = [each for name in others if (each := _overload_of(physics, told.wire, name)) is not None]
    return [_finding(physics, each) for each in sorted(found, key=lambda each: -each.loading.used)]


def _finding(physics: Physics, each: Overload) -> Finding:
    wire, at, allowed_a = each.wire, each.loading.at, each.allowed_a
    carries_a = at.current_a
    decimals = next((count for count in (2, 3, 4) if f"{carries_a:.{count}f}" != f"{allowed_a:.{count}f}"), 6)
    numbers = (
        Number("carries", carries_a, "A", _when(physics, each.loading.at), decimals),
        Number("allowed", allowed_a, "A", _origin(each), decimals),
    )
    return Finding(
        RULE,
        Severity.ERROR,
        wire.mark,
        wire.size_place,
        f"Wire {wire.mark} is too thin for the current that it carries{_molten(physics, wire)}.",
        (*numbers, *_heat(physics, wire)),
        proposals=Later(lambda: (*(_thicker(physics, each) if allowed_a > 0 else ()), *_other_families(physics, each))),
        state=at.stretch.state,
        deciding=at_most(*numbers),
    )


def _heat(physics: Physics, wire: Wire) -> Iterator[Number]:
    """How hot it gets where and when it is hottest, which need not be where it uses most of what it may carry."""
    hottest = physics.heat.hottest(wire.mark)
    if hottest is None or math.isinf(hottest.conductor_degc):
        return
    yield Number("gets hot", hottest.conductor_degc, "degC", heat_words(physics, hottest), 1)


def heat_words(physics: Physics, at: WireHeat) -> str:
    """Margin to the rating, hottest stretch and deciding state of a wire that has a temperature."""
    left_k, leg = at.margin_k, at.stretch.bundle.leg
    margin = f"{left_k:.1f} K below" if left_k >= 0.0 else f"{-left_k:.1f} K above"
    where = f"hottest from {leg.name}, " if leg is not None else ""
    stands = f"the {plain_number(at.wire.family.rating_degc.value, 1)} degC that {at.wire.family.name} stands"
    return f"{margin} {stands}; {where}{_when(physics, at)}"


def _molten(physics: Physics, wire: Wire) -> str:
    hottest = physics.heat.hottest(wire.mark)
    if hottest is None or math.isfinite(hottest.conductor_degc):
        return ""
    leg = hottest.stretch.bundle.leg
    where = f" from {leg.name}" if leg is not None else ""
    return f": in state {hottest.stretch.state}{where} its copper melts"


def _when(physics: Physics, at: WireHeat) -> str:
    stretch = at.stretch
    case = physics.currents[stretch.state][at.wire.mark].case
    return f"in state {stretch.state}, {case.value}" + (
        f", for {plain_number(stretch.lasts_s, 2)} s" if stretch.lasts_s is not None else ""
    )


def _origin(each: Overload) -> str:
    if each.loading.table is not None:
        return _by_table(each)
    wire, stretch, share = each.wire, each.loading.at.stretch, each.share
    bundle, rating = stretch.bundle, wire.family.rating_degc.value
    count, loaded = len(bundle.wires), sum(1 for current in stretch.currents_a if current > LOADED_A)
    among = "alone" if count == 1 else f"among {count} wires, {loaded} of them loaded,"
    if each.is_alone:
        among = f"among {count} wires, all others cold,"
    where = f" from {bundle.leg.name}" if bundle.leg is not None else ""
    words = f"{wire.size} at {plain_number(bundle.ambient_degc, 1)} degC {among}{where}"
    if bundle.ambient_degc >= rating:
        words = f"{wire.family.name} stands {plain_number(rating, 1)} degC, and it is as hot{where}"
    elif stretch.lasts_s is not None:
        start = stretch.starts_degc[each.loading.at.index]
        words += f", from {plain_number(start, 0)} to {plain_number(rating, 0)} degC"
    if share.value.value != 1:
        words += f"; {plain_number(100 * share.value.value, 1)} % of {each.loading.allowed_a:.2f} A, {share.source}"
    return words + recalled_wires([wire])


def _by_table(each: Overload) -> str:
    stretch, share, table = each.loading.at.stretch, each.share, each.loading.table
    assert table is not None
    where = f", from {stretch.bundle.leg.name}" if stretch.bundle.leg is not None else ""
    words = f"{table.words}{where}"
    if table.is_from_memory:
        words += "; figures of the table from memory"
    if stretch.lasts_s is not None:
        words += "; the table is for ever and knows no shorter time"
    if share.value.value != 1:
        words += f"; {plain_number(100 * share.value.value, 1)} % of {table.allowed_a:.2f} A, {share.source}"
    return words


def _other_families(physics: Physics, each: Overload) -> Iterator[Proposal]:
    """Families of a higher rating in which the wire would carry this current there and then."""
    at, share = each.loading.at, each.share.value.value
    return families_that_carry(
        physics.network,
        each.wire,
        lambda other: physics.heat.allowed_a(at.stretch, at.index, other) * share >= at.current_a,
    )


def _thicker(physics: Physics, each: Overload) -> tuple[Proposal, ...]:
    """The next sizes of the same family that would carry this current there and then."""
    wire, at = each.wire, each.loading.at
    by_area = sorted(wire.family.sizes.items(), key=lambda one: one[1].area_mm2.value)
    proposals: list[Proposal] = []
    for label, figures in by_area:
        if figures.area_mm2.value <= wire.figures.area_mm2.value or len(proposals) == _MOST_PROPOSALS:
            continue
        size = ConductorSize(wire.family.system, label)
        other = replace(wire, size=size, figures=figures)
        allowed_a = physics.heat.allowed_a(at.stretch, at.index, other) * each.share.value.value
        if allowed_a >= at.current_a:
            proposals.append(Proposal(wire.size_place, str(size), f"{size} (allows {allowed_a:.1f} A)"))
    return tuple(proposals)
