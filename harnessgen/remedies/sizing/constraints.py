"""What a trial that failed says of the sizes: which wires have to be thicker, or what a way may take in all."""

import re
from collections.abc import Iterable, Mapping, Sequence

from harnessgen.evidence.finding import Finding
from harnessgen.measures.frozen import frozen
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.states.voltage_drop import LoadDrop, PathPart
from harnessgen.remedies.sizing.lightest import Budget
from harnessgen.remedies.sizing.trial import Key, Verdict
from harnessgen.rules.loading.excess_drop import RULE as EXCESS_DROP
from harnessgen.rules.loading.excess_drop import drop_limit, harness_v, working_states

_WORD = re.compile(r"[^\s,.;:()]+")


def named_wires(verdict: Verdict, key: Key, finding: Finding) -> tuple[int, ...]:
    """The wires that a finding is about: its subject, those on the way of its load, or those that its words name."""
    at = {wire.mark: index for index, wire in enumerate(verdict.network.wires)}
    _, subject = key
    if subject in at:
        return (at[subject],)
    on_way = {
        part.element
        for drop in _drops_of(verdict, (subject, f"{subject} coil"), verdict.physics.points)
        for part in (*drop.feed, *drop.return_)
    }
    if on_way & at.keys():
        return tuple(sorted(at[mark] for mark in on_way & at.keys()))
    said = (finding.message, *(words for _, words in finding.see), *(number.source for number in finding.numbers))
    named = {word for text in said for word in _WORD.findall(text)}
    return tuple(sorted(at[mark] for mark in named & at.keys()))


def _drops_of(verdict: Verdict, loads: Sequence[str], states: Iterable[str]) -> list[LoadDrop]:
    return [drop for state in states for drop in verdict.physics.drops_in(state, Case.WEAK) if drop.load in loads]


@frozen
class DropBudgets:
    """What the ways of a load may take of its volts, by load and state.

    `likely` takes currents as the trial has them: a guide. `sure` takes those that flow at least where every load gets
    what its limit leaves it, and so shuts out no sizes that pass.
    """

    likely: Mapping[Key, Budget]
    sure: Mapping[Key, Budget]


def drop_ways(verdict: Verdict, thickest: Verdict, key: Key, ohms: Sequence[Mapping[str, float]]) -> DropBudgets:
    """For each state in which a load loses too much: what the wires on its way may take of its volts.

    `thickest` is the verdict with every wire at its thickest, where the most current flows; `ohms` has the hot
    resistance of every wire in each size, by mark.
    """
    rule, load = key
    likely: dict[Key, Budget] = {}
    sure: dict[Key, Budget] = {}
    if rule != EXCESS_DROP:
        return DropBudgets(likely, sure)
    index_of = {wire.mark: index for index, wire in enumerate(verdict.network.wires)}
    for state in working_states(verdict.physics):
        for drop in _drops_of(verdict, (load,), (state,)):
            if _lost_v(drop) <= _allowed_v(verdict, drop):
                continue
            at = (load, state)
            likely[at] = _budget(drop, 1.0, _allowed_v(verdict, drop), index_of, ohms)
            for most in _drops_of(thickest, (load,), (state,)):
                if _way(most) == _way(drop):
                    least = _least_share(thickest, state)
                    supply_v = most.source_v - least * most.inside_v
                    allowed_v = drop_limit(thickest.network, most).value.value * supply_v
                    sure[at] = _budget(most, least, allowed_v, index_of, ohms)
    return DropBudgets(likely, sure)


def _least_share(thickest: Verdict, state: str) -> float:
    """The least share of its current with the thickest wires that a load takes while all loads get their volts."""
    shares = [1.0]
    for drop in thickest.physics.drops_in(state, Case.WEAK):
        if drop.load in thickest.network.design.loads:
            outside_v = drop.lost_v - _lost_v(drop)
            shares.append((drop.supply_v - _allowed_v(thickest, drop) - outside_v) / drop.across_v)
    return max(min(shares), 0.0)


def _budget(
    drop: LoadDrop,
    share: float,
    allowed_v: float,
    index_of: Mapping[str, int],
    ohms: Sequence[Mapping[str, float]],
) -> Budget:
    """What is left to the wires of a way that carries this share of its currents."""
    wires = [part for part in _parts(drop) if part.element in index_of]
    takes = {
        index_of[part.element]: tuple(share * part.current_a * each[part.element] for each in ohms) for part in wires
    }
    others_v = _lost_v(drop) - sum(part.drop_v for part in wires)
    return Budget(takes, max(allowed_v - share * others_v, 1e-9))


def _parts(drop: LoadDrop) -> tuple[PathPart, ...]:
    return (*drop.feed, *drop.return_)


def _way(drop: LoadDrop) -> tuple[str, ...]:
    return tuple(part.element for part in _parts(drop))


def _lost_v(drop: LoadDrop) -> float:
    return harness_v(drop.feed) + harness_v(drop.return_)


def _allowed_v(verdict: Verdict, drop: LoadDrop) -> float:
    return drop_limit(verdict.network, drop).value.value * drop.supply_v
