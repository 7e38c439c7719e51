"""The cutting plan as it is worked through, spool by spool and the longest cut first; what to buy; how good it is."""

import math

from harnessgen.cutting.plan import CutPlan, KindPlan, Spool
from harnessgen.cutting.problem import Goal
from harnessgen.measures.quantity import plain_number
from harnessgen.schedules.table import Cell, Column, Table, number_column, tick_column

BY_THE_METRE = "bought by the metre"


def cutting_table(plan: CutPlan) -> Table:
    """Every cut, in the order in which a person cuts."""
    columns = (
        Column("family", "wire family"),
        Column("size", "size"),
        Column("colour", "colour"),
        Column("spool", "spool or offcut"),
        number_column("stock_mm", "on it", "mm"),
        Column("mark", "wire"),
        Column("copy", "copy"),
        number_column("cut_mm", "cut", "mm"),
        number_column("left_mm", "left on it", "mm"),
        Column("then", "then"),
        tick_column(),
    )
    rows: list[tuple[Cell, ...]] = []
    for kind in plan.kinds:
        head = (kind.kind.family, kind.kind.size, kind.kind.colour)
        for spool in kind.spools:
            rows += [(*head, *cells) for cells in _spool_cells(plan, spool)]
        rows += [
            (*head, BY_THE_METRE, None, cut.mark, str(cut.copy), cut.length_mm, None, "", None) for cut in kind.loose
        ]
    return Table("cutting-plan", f"Cutting plan for {_copies(plan.copies)}", columns, tuple(rows), _notes(plan))


def _spool_cells(plan: CutPlan, spool: Spool) -> list[tuple[Cell, ...]]:
    left_mm = spool.length_mm
    cells: list[tuple[Cell, ...]] = []
    for number, cut in enumerate(spool.cuts, start=1):
        # Differences of lengths that were rounded to the micrometre.
        left_mm = round(left_mm - cut.length_mm, 3)
        then = _then(plan, spool) if number == len(spool.cuts) else ""
        cells.append((spool.label, spool.length_mm, cut.mark, str(cut.copy), cut.length_mm, left_mm, then, None))
    return cells


def _then(plan: CutPlan, spool: Spool) -> str:
    if not spool.left_mm:
        return "used up"
    return "back to the shelf" if spool.left_mm >= plan.tail.value.value else "scrap"


def _notes(plan: CutPlan) -> tuple[str, ...]:
    tail = plain_number(plan.tail.value.value, 1)
    notes = [
        f"An end of {tail} mm or more goes back to the shelf, a shorter one is scrap ({plan.tail.source}).",
        "Nothing is lost at a cut. Where little is left on a spool, its last cut is short if the others came out long.",
    ]
    if plan.in_hand:
        notes.append(f"Not cut, as the wire is there already: {', '.join(plan.in_hand)}.")
    too_long = [f"{cut.mark} ({plain_number(cut.length_mm, 1)} mm)" for kind in plan.kinds for cut in kind.too_long]
    if too_long:
        notes.append(f"Longer than any stock of its wire: {', '.join(dict.fromkeys(too_long))}.")
    return tuple(notes)


def _copies(copies: int) -> str:
    return "one copy" if copies == 1 else f"{copies} copies"


def buying_table(plan: CutPlan) -> Table:
    """What has to be bought before all can be cut."""
    columns = (
        Column("family", "wire family"),
        Column("size", "size"),
        Column("colour", "colour"),
        Column("what", "buy"),
        number_column("count", "count", "", 0),
        number_column("length_m", "length", "m", 3),
        number_column("cost", "cost", "", 2),
        tick_column("bought", "bought"),
    )
    rows: list[tuple[Cell, ...]] = []
    for kind in plan.kinds:
        head = (kind.kind.family, kind.kind.size, kind.kind.colour)
        rows += [
            (*head, f"spool as {each.label}", each.count, each.count * each.length_mm / 1000, each.cost, None)
            for each in kind.purchases
        ]
        if kind.loose:
            longest = max(cut.length_mm for cut in kind.loose)
            what = f"by the metre, in pieces of {plain_number(longest / 1000, 3)} m or more"
            rows.append((*head, what, None, kind.metres_mm / 1000, None, None))
    total = sum(each.cost for kind in plan.kinds for each in kind.purchases)
    notes = (f"The spools cost {plain_number(total, 2)} together, in the money of the design.",) if total else ()
    return Table("wire-to-buy", "Wire to buy", columns, tuple(rows), notes)


def proof_table(plan: CutPlan) -> Table:
    """How good the plan is, for each kind of wire: what it counts, and how little any plan could count."""
    columns = (
        Column("family", "wire family"),
        Column("size", "size"),
        Column("colour", "colour"),
        number_column("cuts", "cuts", "", 0),
        number_column("needed_m", "cut in all", "m", 3),
        number_column("scrap_mm", "scrap", "mm"),
        Column("counts", "what counts"),
        number_column("value", "plan", "", 3),
        number_column("material", "bound by material", "", 3),
        number_column("shared", "bound by sharing", "", 3),
        number_column("columns", "bound by columns", "", 3),
        number_column("gap", "gap", "", 3),
        Column("gap_share", "gap in %"),
    )
    rows = tuple(_proof_cells(plan, kind) for kind in plan.kinds)
    notes = (
        "A bound says that no plan counts less: by the sum of the cuts, by which of them can share a spool (L2), by"
        " column generation (looked for only where the others leave a gap and cuts are long against the stock).",
        "A gap of 0 means that the plan is proved best; an open gap, that it may be best or not.",
    )
    return Table("cutting-proof", "How good the cutting plan is", columns, rows, notes)


def what_counts(kind: KindPlan) -> str:
    """What the plan of a kind of wire keeps low, in words."""
    solved = kind.solved
    if solved.goal is Goal.TAKEN:
        longest = plain_number(solved.packing.problem.longest_um / 1_000_000, 3)
        return f"pieces of {longest} m taken"
    return "cost of new spools" if solved.goal is Goal.BOUGHT else "metres to buy"


def scaled(kind: KindPlan, value: float) -> float:
    """A counted value in the unit of `what_counts`."""
    return value / 1_000_000 if kind.solved.goal is Goal.METRES else value


def _proof_cells(plan: CutPlan, kind: KindPlan) -> tuple[Cell, ...]:
    solved = kind.solved
    head = (kind.kind.family, kind.kind.size, kind.kind.colour, kind.count, kind.needed_mm / 1000)
    figures = (solved.packing.value, solved.bounds.material, solved.bounds.shared)
    columns = scaled(kind, solved.columns) if solved.columns is not None else None
    share = "no bound" if math.isinf(solved.gap_share) else plain_number(100.0 * solved.gap_share, 2)
    return (
        *head,
        kind.scrap_mm(plan.tail.value.value),
        what_counts(kind),
        *(scaled(kind, each) for each in figures),
        columns,
        scaled(kind, solved.gap),
        share,
    )
