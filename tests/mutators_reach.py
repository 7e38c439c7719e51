"""For the rules on length: what breaks a good design in that one way, and what nearly does.

No good design states a cut, a lift or re-terminations that are asked for, so each of them is added: a hair on either
side of what decides.
"""

from collections.abc import Callable

from harnessgen.design.records.device import Ground
from harnessgen.lengths.too_short.probability import verdict_of
from harnessgen.lengths.too_short.trial import recut
from harnessgen.lengths.wire_length import WireLength
from harnessgen.lengths.wire_length_terms import service_loops
from harnessgen.measures.quantity import plain_number
from harnessgen.network.wires import EndKind
from harnessgen.physics.physics import Physics
from tests.line import physics_of
from tests.mutators import Change, Good, Mutator, line_with, mated, plain_wires, under

HAIR_MM = 0.1
MOST_SLACK_MM = 50.0
PASSED = 0.001
STROKE_MM = 20.0
"""Default limits, as FORMAT.md states them."""


def _cut(good: Good, find: Callable[[WireLength], float], by_mm: float, *, fails: bool) -> Change | None:
    """The first plain wire with a cut beside what `find` says of its length, where that reaches at k = 2."""
    for wire, place in plain_wires(good):
        if "cut:" in good.text.split("\n")[place.line - 1]:
            continue
        ample_mm = good.physics.lengths[wire.mark].longest_need_mm + 2.0 * MOST_SLACK_MM
        ample: Physics = physics_of(line_with(good.text, place.line, f", cut: {ample_mm:.3f} mm"))
        length = ample.lengths[wire.mark]
        edge_mm = find(length)
        # A wire through one stretch alone is never tight: its one bound ends before k = 2 does.
        if edge_mm < length.cut_mm - length.margin_mm + 2.0 * HAIR_MM:
            continue
        return Change(line_with(good.text, place.line, f", cut: {edge_mm + by_mm:.3f} mm"), place.line if fails else 0)
    return None


def _most_mm(length: WireLength) -> float:
    """The cut at which a wire is as long as it may be before it is called slack."""
    return length.cut_mm - (length.margin_mm - MOST_SLACK_MM)


def _tight_mm(length: WireLength) -> float:
    """The cut at which one wire in a thousand would be too short, by halving."""
    low_mm, high_mm = length.cut_mm - length.margin_mm, length.cut_mm
    while high_mm - low_mm > HAIR_MM / 10.0:
        middle_mm = (low_mm + high_mm) / 2.0
        is_tight = verdict_of(recut(length, middle_mm)).probability > PASSED
        low_mm, high_mm = (middle_mm, high_mm) if is_tight else (low_mm, middle_mm)
    return high_mm


def slack(good: Good) -> Change | None:
    """A wire cut a hair longer than may hang loose."""
    return _cut(good, _most_mm, HAIR_MM, fails=True)


def not_slack(good: Good) -> Change | None:
    """A wire cut a hair shorter than that."""
    return _cut(good, _most_mm, -HAIR_MM, fails=False)


def tight(good: Good) -> Change | None:
    """A wire that reaches, and is too short a hair more often than is let pass."""
    return _cut(good, _tight_mm, -HAIR_MM, fails=True)


def not_tight(good: Good) -> Change | None:
    """The same wire cut a hair longer."""
    return _cut(good, _tight_mm, HAIR_MM, fails=False)


def _asked(good: Good, by_mm: float) -> Change | None:
    """The first plain wire without a splice, asked for two re-terminations, with slack beside what they take."""
    for wire, place in plain_wires(good):
        if any(end.kind is EndKind.SPLICE for end in wire.ends) or wire.slack_mm.value:
            continue
        needs_mm = [
            (2.0 - count) * each_mm for count, each_mm in (service_loops(good.network, wire, e) for e in wire.ends)
        ]
        tail = f", slack: {max(needs_mm) + by_mm:.3f} mm, limits: {{least-reterminations: 2}}"
        return Change(line_with(good.text, place.line, tail), place.line if by_mm < 0.0 else 0)
    return None


def unserviceable(good: Good) -> Change | None:
    """Slack a hair short of two re-terminations."""
    return _asked(good, -HAIR_MM)


def serviceable(good: Good) -> Change | None:
    """Slack a hair more."""
    return _asked(good, HAIR_MM)


def _lifted(good: Good, text: str, lift: str) -> str | None:
    """The text with 80 mm of slack beyond the last disconnect, whose part is lifted as `lift` says."""
    disconnect = next(reversed(good.network.design.disconnects.values()), None)
    if disconnect is None:
        return None
    lines = text.split("\n")
    start = lines.index(next(line for line in lines if line.startswith(f"  {disconnect.at}:")))
    # A stretch may go on over lines, so the key is put first.
    lines[start + 1] = lines[start + 1].replace("{", "{slack: 80 mm, ", 1)
    row = next(index for index, line in enumerate(lines) if line.startswith(f"  {disconnect.name}: {{part:"))
    lines[row] = line_with(lines[row], 1, f", lift: {lift}")
    return "\n".join(lines)


def _lift_by(good: Good, by_mm: float) -> Change | None:
    text = _lifted(good, good.text, f"{plain_number(80.0 - STROKE_MM + by_mm, 1)} mm")
    if text is None:
        return None
    return Change(text, text[: text.index(", lift: ")].count("\n") + 1 if by_mm > 0.0 else 0)


def lifted_too_far(good: Good) -> Change | None:
    """A part lifted a hair further than its slack lets it."""
    return _lift_by(good, HAIR_MM)


def lifted(good: Good) -> Change | None:
    """A part lifted a hair less far."""
    return _lift_by(good, -HAIR_MM)


def _grounded_beyond(good: Good, lift: str, *, fails: bool) -> Change | None:
    """A load in the section that is lifted, on a ground point of its own there."""
    ground = good.device(Ground)
    change = mated(good)
    if ground is None or change is None:
        return None
    text = change.text.replace(f"direct: {{2: {ground.name}}}}}", "}", 1).replace(", }", "}", 1)
    beyond = list(good.network.design.sections.values())[-1].holds
    wire = next(line for line in text.split("\n") if line.startswith("  777: "))
    look = wire[wire.index(", color:") :]
    text = under(text, "grounds", f"G99: {{at: {beyond}}}").text
    whole = _lifted(good, under(text, "circuits", f"778: {{from: E99/2, to: G99{look}").text, lift)
    if whole is None:
        return None
    return Change(whole, whole[: whole.index("  778: ")].count("\n") + 1 if fails else 0)


def tethered(good: Good) -> Change | None:
    """That ground point is not said to come with the part."""
    return _grounded_beyond(good, "40 mm", fails=True)


def not_tethered(good: Good) -> Change | None:
    """It is said to come."""
    return _grounded_beyond(good, "{travel: 40 mm, comes: G99}", fails=False)


REACH: dict[str, tuple[Mutator, Mutator]] = {
    "leg-slack": (slack, not_slack),
    "leg-tight": (tight, not_tight),
    "no-service-slack": (unserviceable, serviceable),
    "lift-too-short": (lifted_too_far, lifted),
    "tethered-section": (tethered, not_tethered),
}
"""For each of these rules what breaks a good design in that way, and what nearly does."""
