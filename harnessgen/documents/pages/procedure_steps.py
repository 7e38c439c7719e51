"""What the page and the paper of a procedure share: faces of a block, ways to reach, steps in rows, words of a row."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from harnessgen.bench.setup.connector_half import Half
from harnessgen.bench.setup.step import Block, Expected, Phase, Setup, Step, TouchPlace
from harnessgen.measures.designator import natural_key

MOST_FACES = 24
"""Connectors shown by a face view in one block; beyond that the cavity chart serves."""


def places_of(block: Block) -> Iterator[TouchPlace]:
    """Every place that a tip goes to, as often as it does."""
    for step in block.steps:
        yield from (place for place in (step.a, step.b) if place is not None)


def touched(block: Block, held: Mapping[str, Half]) -> list[str]:
    """Connectors that tips go to in a block and that a face shows, in the order of their numbers."""
    own = {place.designator for place in places_of(block) if place.designator in held}
    return sorted(own, key=natural_key)[:MOST_FACES]


def reaches(block: Block, held: Mapping[str, Half]) -> Counter[TouchPlace]:
    """How often tips go to each place that no face shows but that says how it is reached."""
    return Counter(place for place in places_of(block) if place.reach and place.designator not in held)


def rows_of(block: Block) -> Iterator[tuple[Step, ...]]:
    """Steps by rows: one each; in isolation the steps from one place share a row.

    Tips to metal that is no part of a wire pass otherwise, so they have a row of their own.
    """
    if block.setup.phase is not Phase.ISOLATION:
        yield from ((step,) for step in block.steps)
        return
    for _, steps in groupby(block.steps, key=lambda step: (step.a, step.b is not None and bool(step.b.wires))):
        yield tuple(steps)


def stand_words(setup: Setup) -> str:
    """How the harness stands during a block, in a line: whether the battery is on, what is apart, what is out."""
    if setup.phase.is_powered:
        battery = "BATTERY ON"
    elif setup.phase in (Phase.DROP, Phase.LAMP_JOINED, Phase.LAMP_APART):
        battery = "Vehicle's battery off, current from a bench supply alone"
    else:
        battery = "Battery off"
    words = [battery]
    if setup.phase is Phase.LOOK:
        words.append("nothing plugged in")
    elif setup.apart:
        words.append(f"apart: {', '.join(setup.apart)}")
    elif setup.phase.is_powered:
        words.append("every connector mated")
    if setup.out:
        words.append(f"out of their holders: {', '.join(setup.out)}")
    return f"{'; '.join(words)}."


def number_words(steps: Sequence[Step]) -> str:
    """Number of a row: `12`, or `12 to 17`."""
    return steps[0].number if len(steps) == 1 else f"{steps[0].number} to {steps[-1].number}"


def action_words(steps: Sequence[Step]) -> str:
    """What is done in a row, without the targets where there are several."""
    return steps[0].action if len(steps) == 1 else steps[0].action.partition(" to ")[0]


def pointer_words(steps: Sequence[Step]) -> str:
    """What a row points to that does not come out; a row of several steps says what each of them would show."""
    lines = dict.fromkeys(line for step in steps for line in step.points_to)
    if len(steps) > 1:
        # The two places that do not read open say which two nets touch.
        kinds = dict.fromkeys(line.partition(":")[0] for line in lines)
        return ", ".join(kinds)
    return "; ".join(lines)


def passes_words(step: Step) -> str:
    """Between which readings a step passes; empty where it is judged by words or for information."""
    return range_text(step.expected, step.instrument.decimals if step.instrument is not None else 2)


def range_text(expected: Expected, decimals: int) -> str:
    """Between which readings a step passes; empty where it is judged by words or for information."""
    low, high, unit = expected.low, expected.high, expected.unit
    if low is not None and high is not None:
        if low == -high:
            return f"at most {high:.{decimals}f} {unit}, either way"
        return f"{low:.{decimals}f} to {high:.{decimals}f} {unit}"
    if low is not None:
        return f"above {low / 1e6:g} Mohm" if unit == "ohm" and low >= 1e6 else f"above {low:.{decimals}f} {unit}"
    return f"below {high:.{decimals}f} {unit}" if high is not None else ""
