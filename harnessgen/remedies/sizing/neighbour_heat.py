"""What the wires of a stretch may add to the heat of a thing in it that got too hot: insulation, or a contact."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen
from harnessgen.physics.heat.contacts import ContactHeat, contacts_of
from harnessgen.physics.heat.harness import LOADED_A, WireHeat
from harnessgen.remedies.sizing.lightest import Budget
from harnessgen.remedies.sizing.resized_network import resized
from harnessgen.remedies.sizing.trial import Key, Verdict
from harnessgen.rules.loading import over_temperature, wire_overload

_NEVER_K = 1e4
"""Kelvin for a size with which a conductor melts."""


@frozen
class _Hot:
    """A thing that is too hot, where it is hottest: how hot it is beside these wires, and what it stands."""

    beside: tuple[WireHeat, ...]
    degc: Callable[[tuple[WireHeat, ...]], float]
    stands_degc: float


def warmth_budget(verdict: Verdict, key: Key, shelves: Sequence[Sequence[ConductorSize]]) -> Budget | None:
    """What the wires beside a thing may add to its heat, in K, by the sizes of their shelves; None where it is not so.

    Each wire is exchanged by itself while all carry what they carry in the trial, so that the sum of what they add is
    a guide; it never allows the sizes of the trial.
    """
    hot = _hot(verdict, key)
    if hot is None:
        return None
    now_degc = hot.degc(hot.beside)
    if not hot.stands_degc < now_degc < math.inf:
        return None
    index_of = {wire.mark: at for at, wire in enumerate(verdict.network.wires)}
    changes: dict[int, tuple[float, ...]] = {}
    for mark in _loaded(hot.beside):
        at = index_of[mark]
        sizes = [_exchanged(verdict, hot.beside, mark, size) for size in shelves[at]]
        changes[at] = tuple(min(hot.degc(beside) - now_degc, _NEVER_K) for beside in sizes)
    takes = {at: tuple(each - min(own) for each in own) for at, own in changes.items()}
    most = hot.stands_degc - now_degc - math.fsum(min(own) for own in changes.values())
    return Budget(takes, most) if most > 0.0 else None


def _hot(verdict: Verdict, key: Key) -> _Hot | None:
    rule, subject = key
    if rule not in (wire_overload.RULE, over_temperature.RULE):
        return None
    if subject in verdict.network.wire_of:
        hottest = verdict.physics.heat.hottest(subject)
        if hottest is None:
            return None
        rating = hottest.wire.family.rating_degc.value
        return _Hot((hottest,), lambda beside: beside[0].conductor_degc, rating)
    for contact in contacts_of(verdict.physics.network):
        if contact.name == subject and (found := contact.hottest(verdict.physics.heat)) is not None:
            return _hot_contact(found)
    return None


def _hot_contact(found: ContactHeat) -> _Hot:
    return _Hot(found.wires, lambda beside: replace(found, wires=beside).degc, found.contact.stands_degc)


def _loaded(beside: Sequence[WireHeat]) -> Mapping[str, None]:
    """The wires that carry something in any of the stretches."""
    return {
        wire.mark: None
        for each in beside
        for wire, current in zip(each.stretch.bundle.wires, each.stretch.currents_a, strict=True)
        if current > LOADED_A
    }


def _exchanged(verdict: Verdict, beside: Sequence[WireHeat], mark: str, size: ConductorSize) -> tuple[WireHeat, ...]:
    wire = resized(verdict.network.wire_of[mark], size)
    heat = verdict.physics.heat
    return tuple(
        WireHeat(heat.exchanged(each.stretch, each.stretch.bundle.marks.index(mark), wire), each.index)
        if mark in each.stretch.bundle.marks
        else each
        for each in beside
    )
