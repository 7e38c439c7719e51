"""A relay that holds itself and that no declared state switches off again."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.physics.electrical.operating_point import OperatingPoint
from harnessgen.physics.physics import Physics
from harnessgen.source.kind import names_in

RULE = "relay-stays-on"

_MOST_POSITIONS = 64
"""Positions of all relays that are followed; more than a vehicle has."""


def check(physics: Physics) -> list[Finding]:
    """One finding for each such relay, found by going from every state to every other with the relays as they stand."""
    design = physics.network.design
    if not design.relays or not design.declares_states:
        return []
    states = [name for name in design.states if name not in physics.shorted]
    rest = frozenset[str]()
    unpulled = {name: physics.followed(name, rest) for name in states}
    everything = frozenset(design.relays)
    if all(_same(physics.followed(name, everything), unpulled[name]) for name in states):
        # What held before makes no difference anywhere: no relay holds itself.
        return []
    return list(_held(physics, _followed(physics, states, unpulled)))


def _same(one: OperatingPoint, other: OperatingPoint) -> bool:
    return one.pulled_in == other.pulled_in


_Held = frozenset[str]
_Steps = dict[_Held, dict[str, _Held]]
"""Where each state leads to from each position of the relays."""


def _followed(physics: Physics, states: list[str], unpulled: dict[str, OperatingPoint]) -> _Steps:
    """Every position of the relays that a sequence of states can come to, with where each state leads from there."""
    steps: _Steps = {frozenset(): {name: point.pulled_in for name, point in unpulled.items()}}
    waiting = list(steps[frozenset()].values())
    while waiting and len(steps) < _MOST_POSITIONS:
        held = waiting.pop()
        if held not in steps:
            steps[held] = {name: physics.followed(name, held).pulled_in for name in states}
            waiting.extend(steps[held].values())
    return steps


def _held(physics: Physics, steps: _Steps) -> Iterator[Finding]:
    for name, relay in physics.network.design.relays.items():
        # One that a state closes whatever came before, and that no state leaves open, is no matter of holding itself.
        stays = [state for state, held in steps[frozenset()].items() if name not in held]
        caught = [held for held in steps if name in held and not _lets_go(steps, held, name)]
        if not stays or not caught:
            continue
        first = min(caught, key=len)
        closing = [state for before in steps.values() for state, held in before.items() if held == first]
        message = (
            f"{name} holds itself once {closing[0]} has closed it, and stays on in {names_in(stays)}: "
            "no state switches it off."
        )
        mend = f"feed its coil through a switch that opens, and declare the state that switches {name} off"
        yield Finding(RULE, Severity.ERROR, name, relay.place, message, mend=mend)


def _lets_go(steps: _Steps, start: _Held, relay: str) -> bool:
    """Whether some sequence of states opens a relay again."""
    seen, waiting = {start}, [start]
    while waiting:
        for after in steps.get(waiting.pop(), {}).values():
            if relay not in after:
                return True
            if after not in seen:
                seen.add(after)
                waiting.append(after)
    return False
