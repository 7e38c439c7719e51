"""What unequal volts do to a bank of injectors: when each opens, and what that means in fuel.

The volts are those of the settled current. While an injector opens its current is still rising, so the true spread is
smaller than the one shown.
"""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from enum import Enum
from statistics import fmean, median

from harnessgen.design.limits.table import Limit, limit
from harnessgen.design.records.device import Load
from harnessgen.design.records.state import State
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity, plain_number
from harnessgen.network.network import Network
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.loads.pulsed_load import timings
from harnessgen.physics.states.solved import SolvedStates
from harnessgen.physics.states.voltage_drop import LoadDrop, PathPart, drops_in

_LINE = common_practice("a straight line between two entries of the table of dead times")
_FUEL = common_practice("an injector's fuel follows its pulse less its dead time")


class Evenness(Enum):
    """What a spread of fuel is worth beside the injectors' own."""

    NEGLIGIBLE = "negligible"
    WITHIN = "within the flow match"
    UNEVEN = "more than the flow match"
    UNKNOWN = "not known"
    """A load's volts lie outside its table of dead times."""


@frozen
class InjectorOpening:
    """How one injector of a set opens. `flow` is its fuel over the average of the set, less one.

    `own_part` is the part that takes most volts of those on its way which no other of the set shares.
    """

    load: str
    title: str
    volts: float
    dead_s: float
    flow: float
    own_part: PathPart | None
    dead_time: Evaluated


@frozen
class FuelSpread:
    """The injectors of a bank, or the like ones outside banks, in one state.

    `width_s` is the pulse that is compared and where it comes from, `match` how far the flow of an injector may lie
    from that of its set. `odd` are the loads that give less than their fellows by more than the match; more, if none
    gives less.
    """

    of: str
    state: str
    case: Case
    width_s: float
    width_source: Publication
    match: Limit
    negligible: Limit
    openings: tuple[InjectorOpening, ...]
    odd: tuple[InjectorOpening, ...]
    evenness: Evenness
    remark: str = ""

    @property
    def spread_s(self) -> float:
        """Difference between the latest and the earliest opening."""
        dead = [each.dead_s for each in self.openings]
        return max(dead) - min(dead) if dead else 0.0

    @property
    def spread(self) -> Evaluated:
        """Difference in fuel between the richest and the poorest of the set, in per cent of the average."""
        dead = [each.dead_s for each in self.openings]
        inputs = (
            Input("longest", "longest dead time of the set", max(dead), "s", _LINE),
            Input("shortest", "shortest dead time of the set", min(dead), "s", _LINE),
            Input("average", "average dead time of the set", fmean(dead), "s", _LINE),
            Input("width", "pulse", self.width_s, "s", self.width_source),
        )
        formula = "100 * (longest - shortest) / (width - average)"
        return evaluated(f"spread of fuel of {self.of} in {self.state}", formula, inputs, "%", _FUEL)

    def off_average(self, opening: InjectorOpening) -> Evaluated:
        """Fuel of one injector over the average of its set, less one, in per cent."""
        average_s = fmean(max(self.width_s - each.dead_s, 0.0) for each in self.openings)
        inputs = (
            Input("width", "pulse", self.width_s, "s", self.width_source),
            Input("dead", f"dead time of {opening.load}", opening.dead_s, "s", _LINE),
            Input("average", "average of the set, pulse less dead time", average_s, "s", _LINE),
        )
        title = f"fuel of {opening.load} off the average of {self.of} in {self.state}"
        return evaluated(title, "100 * (max(width - dead, 0) / average - 1)", inputs, "%", _FUEL)

    @property
    def sentence(self) -> str:
        """The spread beside the injectors' own tolerance, in one sentence for a document."""
        if self.evenness is Evenness.UNKNOWN:
            return f"{self.of}: the spread of fuel is not known, {self.remark}."
        match = f"+/- {plain_number(100 * self.match.value.value, 1)} %"
        percent = self.spread.result
        width = f"{plain_number(1000 * self.width_s, 2)} ms"
        words = f"{self.of}: openings differ by {1e6 * self.spread_s:.1f} us, {percent:.2g} % of the fuel at {width}"
        beside = f"the injectors themselves are matched to {match}"
        if self.evenness is Evenness.NEGLIGIBLE:
            return f"{words}; {beside}, so it is negligible."
        named = "; ".join(_named(each) for each in self.odd)
        return f"{words}; {beside}" + (f". {named}." if named else ".")


def _named(opening: InjectorOpening) -> str:
    way = "less" if opening.flow < 0.0 else "more"
    who = f"{opening.title} ({opening.load})" if opening.title else opening.load
    words = f"{who} gets {abs(100 * opening.flow):.2g} % {way} than the average"
    if opening.own_part is not None:
        words += f": {opening.own_part.element} takes {1000 * opening.own_part.drop_v:.0f} mV of its own"
    return words


def dead_time_table(network: Network, load: Load) -> Mapping[str, Quantity]:
    """Dead time of a load by the voltage across it: its own table, else its family's; empty where there is none."""
    family = network.parts.loads.get(load.part)
    return load.dead_time_s or (family.dead_time_s if family is not None else {})


def dead_time(load: str, table: Mapping[str, Quantity], volts: float) -> Evaluated:
    """Dead time at a voltage, in s, on the straight line between the two entries beside it.

    Raises:
        ValueError: the voltage lies outside the table.
    """
    entries = sorted((float(text), each.value) for text, each in table.items())
    if len(entries) < 2 or not entries[0][0] <= volts <= entries[-1][0]:
        low, high = (plain_number(entries[at][0]) for at in (0, -1)) if entries else ("", "")
        raise ValueError(f"{volts:.2f} V lies outside the dead times of {load} ({low} to {high} V)")
    above = min(max(bisect_right([each for each, _ in entries], volts), 1), len(entries) - 1)
    (low_v, low_s), (high_v, high_s) = entries[above - 1], entries[above]
    inputs = (
        Input("U", f"volts across {load}", volts, "V"),
        Input("U1", "entry below", low_v, "V"),
        Input("t1", "its dead time", low_s, "s"),
        Input("U2", "entry above", high_v, "V"),
        Input("t2", "its dead time", high_s, "s"),
    )
    return evaluated(f"dead time of {load}", "t1 + (t2 - t1) * (U - U1) / (U2 - U1)", inputs, "s", _LINE)


def fuel_spreads(physics: SolvedStates, state: str, case: Case = Case.WEAK) -> tuple[FuelSpread, ...]:
    """The spread of each bank, and of each family of loads outside banks, that has dead times and works in a state.

    Raises:
        KeyError: no state has this name.
    """
    drops = {each.load: each for each in drops_in(physics, state, case)}
    network = physics.network
    found: list[FuelSpread] = []
    for of, loads in _sets(network):
        working = [drops[name] for name in loads if name in drops]
        if len(working) > 1:
            found.append(_spread(network, of, working, network.design.states[state], case))
    return tuple(found)


def _sets(network: Network) -> list[tuple[str, list[str]]]:
    """Sets of like injectors with a table of dead times: what they are called, and their designators."""
    design = network.design
    in_bank = {name: bank.name for bank in design.banks.values() for name in bank.loads}
    sets: dict[str, list[str]] = {}
    for load in design.loads.values():
        if dead_time_table(network, load):
            of = f"bank {in_bank[load.name]}" if load.name in in_bank else f"the {load.part or load.kind} loads"
            sets.setdefault(of, []).append(load.name)
    return list(sets.items())


def _spread(network: Network, of: str, drops: Sequence[LoadDrop], state: State, case: Case) -> FuelSpread:
    limits = network.design.limits
    width_s, width_source = _width(network, state, drops)
    match, negligible = _match(network, drops[0].load), limit("negligible-spread", limits)
    head = (of, state.name, case, width_s, width_source, match, negligible)
    loads = network.design.loads
    try:
        times = [dead_time(each.load, dead_time_table(network, loads[each.load]), each.across_v) for each in drops]
    except ValueError as error:
        return FuelSpread(*head, (), (), Evenness.UNKNOWN, str(error))
    opens = [max(width_s - each.result, 0.0) for each in times]
    average = fmean(opens)
    if average <= 0.0:
        return FuelSpread(*head, (), (), Evenness.UNKNOWN, "no injector opens within the pulse")
    openings = tuple(
        InjectorOpening(
            each.load, each.title, each.across_v, time.result, open_s / average - 1.0, _own(each, drops), time
        )
        for each, time, open_s in zip(drops, times, opens, strict=True)
    )
    odd = _odd(openings, match)
    flows = [each.flow for each in openings]
    if odd or max(map(abs, flows)) > match.value.value:
        evenness = Evenness.UNEVEN
    elif max(flows) - min(flows) <= negligible.value.value * match.value.value:
        evenness = Evenness.NEGLIGIBLE
    else:
        evenness = Evenness.WITHIN
    return FuelSpread(*head, openings, odd, evenness)


def _odd(openings: Sequence[InjectorOpening], match: Limit) -> tuple[InjectorOpening, ...]:
    """Those that lie off the middle of their fellows by more than the match: the lean ones, else the rich."""
    flows = [each.flow for each in openings]
    off = [flow - median(flows[:index] + flows[index + 1 :]) for index, flow in enumerate(flows)]
    lean = tuple(each for each, by in zip(openings, off, strict=True) if by < -match.value.value)
    return lean or tuple(each for each, by in zip(openings, off, strict=True) if by > match.value.value)


def _width(network: Network, state: State, drops: Sequence[LoadDrop]) -> tuple[float, Publication]:
    """Pulse that is compared: that of the driver which the loads return to, else the limit."""
    pulsed = timings(state)
    drivers = {part.element for each in drops for part in each.return_ if part.element in pulsed}
    for driver in sorted(drivers):
        return pulsed[driver].on_s, Publication(f"set in the design, {state.pulse[driver].place}")
    usual = limit("pulse-width", network.design.limits)
    return usual.value.value, usual.source


def _match(network: Network, name: str) -> Limit:
    load = network.design.loads[name]
    family = network.parts.loads.get(load.part)
    usual = limit("flow-match", network.design.limits)
    if load.flow_match is not None:
        return Limit(usual.name, load.flow_match, "1", Publication(f"set in the design, {load.where('flow_match')}"))
    if family is not None and family.flow_match is not None:
        return Limit(usual.name, family.flow_match, "1", family.publication)
    return usual


def _own(drop: LoadDrop, drops: Sequence[LoadDrop]) -> PathPart | None:
    """The part with the highest drop on a load's way that no other load of the set has on its own."""
    shared = {part.element for each in drops if each is not drop for part in (*each.feed, *each.return_)}
    alone = [part for part in (*drop.feed, *drop.return_) if part.element not in shared]
    return max(alone, default=None, key=lambda part: part.drop_v)
