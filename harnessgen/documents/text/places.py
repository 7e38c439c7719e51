"""Better places for a person at a terminal: what moves, what it gains, and how it was found."""

import textwrap

from harnessgen.remedies.placing.model import Aim
from harnessgen.remedies.placing.place import Placing

_WIDTH = 110
_WANTED = {
    Aim.COPPER: "least copper",
    Aim.DIAMETER: "the thinnest bundles",
    Aim.REACH: "no short leg",
}


def render(placing: Placing, number: str) -> str:
    """The places for the harness with this number."""
    lines = [f"{number}: places for {_WANTED[placing.aim]}".removeprefix(": "), ""]
    if placing.moves:
        names = max(len(each.name) for each in placing.moves)
        before = max(len(each.before) for each in placing.moves)
        lines += [f"  {each.name:<{names}}  {each.before:<{before}}  ->  {each.after}" for each in placing.moves]
    else:
        lines.append("  Today's places stay: nothing better was found that meets every rule.")
    lines += ["", *_gains(placing), ""]
    proved = "Proved: no better arrangement exists by this method."
    lines.append(proved if placing.is_proved else "Not proved best: see below.")
    for each in (*placing.method, *placing.remarks):
        lines += textwrap.wrap(each, _WIDTH, break_long_words=False, break_on_hyphens=False)
    return "\n".join(lines) + "\n"


def _gains(placing: Placing) -> list[str]:
    before, after = placing.before, placing.after
    rows = (
        ("copper", before.copper_g, after.copper_g, "g", 1),
        ("thickest bundle", before.thickest_mm, after.thickest_mm, "mm", 2),
        ("space of all wires", before.space_cm3, after.space_cm3, "cm3", 2),
        ("short in all", before.short_mm, after.short_mm, "mm", 1),
    )
    lines = []
    for name, one, two, unit, decimals in rows:
        values = f"{one:>10.{decimals}f}  ->  {two:>10.{decimals}f} {unit:<3}"
        lines.append(f"  {name:<18}  {values}  {_change(one, two, unit, decimals)}")
    return lines


def _change(before: float, after: float, unit: str, decimals: int) -> str:
    if not round(after - before, decimals):
        return "as today"
    share = f" ({100.0 * (after - before) / before:+.1f} %)" if before else ""
    return f"{after - before:+.{decimals}f} {unit}{share}"
