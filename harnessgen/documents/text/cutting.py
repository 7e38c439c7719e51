"""The cutting plan for a person at a terminal: each kind of wire with its spools, what to buy, bounds and gap."""

import math
import textwrap
from collections.abc import Iterator

from harnessgen.cutting.plan import Cut, CutPlan, KindPlan, Spool
from harnessgen.measures.quantity import plain_number
from harnessgen.schedules.results.status import Status
from harnessgen.schedules.wires.cutting_plan import buying_table, cutting_table, scaled, what_counts

_WIDTH = 110


def render(plan: CutPlan, title: str, status: Status, width: int = _WIDTH) -> str:
    """The plan under its title; while errors stand it says so above all."""
    lines = [cutting_table(plan).title + f", {title}"]
    if status.banner:
        lines.insert(0, f"{status.banner}: {status.words}")
    for kind in plan.kinds:
        lines += ["", *_kind(plan, kind, width)]
    lines += ["", *_buying(plan), ""]
    for note in cutting_table(plan).notes:
        lines += textwrap.wrap(note, width)
    return "\n".join(lines) + "\n"


def _kind(plan: CutPlan, kind: KindPlan, width: int) -> Iterator[str]:
    cuts = "1 cut" if kind.count == 1 else f"{kind.count} cuts"
    yield f"{kind.kind}: {cuts}, {plain_number(kind.needed_mm / 1000, 3)} m"
    for spool in kind.spools:
        yield f"  {spool.label} ({plain_number(spool.length_mm / 1000, 3)} m)"
        yield from _cuts(plan, spool.cuts, width)
        yield f"    left {plain_number(spool.left_mm, 1)} mm, {_fate(plan, spool)}"
    if kind.loose:
        yield f"  wire bought by the metre ({plain_number(kind.metres_mm / 1000, 3)} m)"
        yield from _cuts(plan, kind.loose, width)
    yield from textwrap.wrap(_proof(kind), width, initial_indent="  ", subsequent_indent="  ")


def _fate(plan: CutPlan, spool: Spool) -> str:
    if not spool.left_mm:
        return "used up"
    return "back to the shelf" if spool.left_mm >= plan.tail.value.value else "scrap"


def _cuts(plan: CutPlan, cuts: tuple[Cut, ...], width: int) -> list[str]:
    said = [f"{plain_number(cut.length_mm, 1)} {cut.mark}{f' #{cut.copy}' if plan.copies > 1 else ''}" for cut in cuts]
    # A cut and its mark stay on one line.
    joined = ", ".join(each.replace(" ", "\u00a0") for each in said)
    wrapped = textwrap.wrap(joined, width, initial_indent="    ", subsequent_indent="    ")
    return [line.replace("\u00a0", " ") for line in wrapped]


def _proof(kind: KindPlan) -> str:
    solved = kind.solved
    bounds = [
        f"by material {_figure(kind, solved.bounds.material)}",
        f"by sharing {_figure(kind, solved.bounds.shared)}",
    ]
    if solved.columns is not None:
        bounds.append(f"by columns {_figure(kind, solved.columns)}")
    share = "" if math.isinf(solved.gap_share) else f" ({plain_number(100.0 * solved.gap_share, 2)} %)"
    end = "gap 0: proved best" if not solved.gap else f"gap {_figure(kind, solved.gap)}{share}: may be best or not"
    return f"{what_counts(kind)}: {_figure(kind, solved.packing.value)}; no plan below {', '.join(bounds)}; {end}"


def _figure(kind: KindPlan, value: float) -> str:
    return plain_number(scaled(kind, value), 3)


def _buying(plan: CutPlan) -> Iterator[str]:
    table = buying_table(plan)
    if not table.rows:
        yield "Nothing has to be bought."
        return
    yield "To buy:"
    for row in table.rows:
        wire, times = row.kind.kind, f"{row.count} x " if row.count else ""
        money = f", cost {plain_number(row.cost, 2)}" if row.cost is not None else ""
        length = plain_number(row.length_m, 3)
        yield f"  {wire.family} {wire.size} {wire.colour}: {times}{row.what}, {length} m in all{money}"
    yield from table.notes
