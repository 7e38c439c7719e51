"""The cutting plan as it is worked through, spool by spool and the longest cut first; what to buy; how good it is."""

import math
from collections.abc import Iterator

from harnessgen.cutting.plan import Cut, CutPlan, KindPlan, Spool
from harnessgen.cutting.problem import Goal
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import plain_number
from harnessgen.schedules.tables.table import Column, Table, number_column, tick_column

BY_THE_METRE = "bought by the metre"


@frozen
class CuttingRow:
    """One cut: from which spool or offcut, how much was on that at first, what is left on it and becomes of it.

    Of wire by the metre nothing is on a spool.
    """

    kind: KindPlan
    cut: Cut
    spool: Spool | None
    left_mm: float | None
    then: str


_CUTS: tuple[Column[CuttingRow], ...] = (
    Column("family", "wire family", lambda row: row.kind.kind.family),
    Column("size", "size", lambda row: row.kind.kind.size),
    Column("colour", "colour", lambda row: row.kind.kind.colour),
    Column("spool", "spool or offcut", lambda row: row.spool.label if row.spool is not None else BY_THE_METRE),
    number_column("stock_mm", "on it", "mm", lambda row: row.spool.length_mm if row.spool is not None else None),
    Column("mark", "wire", lambda row: row.cut.mark),
    Column("copy", "copy", lambda row: str(row.cut.copy)),
    number_column("cut_mm", "cut", "mm", lambda row: row.cut.length_mm),
    number_column("left_mm", "left on it", "mm", lambda row: row.left_mm),
    Column("then", "then", lambda row: row.then),
    tick_column(),
)


def cutting_table(plan: CutPlan) -> Table[CuttingRow]:
    """Every cut, in the order in which a person cuts."""
    rows: list[CuttingRow] = []
    for kind in plan.kinds:
        for spool in kind.spools:
            rows += _spool_rows(plan, kind, spool)
        rows += [CuttingRow(kind, cut, None, None, "") for cut in kind.loose]
    return Table("cutting-plan", f"Cutting plan for {_copies(plan.copies)}", _CUTS, tuple(rows), _notes(plan))


def _spool_rows(plan: CutPlan, kind: KindPlan, spool: Spool) -> Iterator[CuttingRow]:
    left_mm = spool.length_mm
    for number, cut in enumerate(spool.cuts, start=1):
        # Differences of lengths that were rounded to the micrometre.
        left_mm = round(left_mm - cut.length_mm, 3)
        yield CuttingRow(kind, cut, spool, left_mm, _then(plan, spool) if number == len(spool.cuts) else "")


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


@frozen
class WireToBuyRow:
    """Wire to buy of one kind: `count` spools, or one length by the metre without count; `length_m` is all of it."""

    kind: KindPlan
    what: str
    count: int | None
    length_m: float
    cost: float | None


_BUYING: tuple[Column[WireToBuyRow], ...] = (
    Column("family", "wire family", lambda row: row.kind.kind.family),
    Column("size", "size", lambda row: row.kind.kind.size),
    Column("colour", "colour", lambda row: row.kind.kind.colour),
    Column("what", "buy", lambda row: row.what),
    number_column("count", "count", "", lambda row: row.count, 0),
    number_column("length_m", "length", "m", lambda row: row.length_m, 3),
    number_column("cost", "cost", "", lambda row: row.cost, 2),
    tick_column("bought", "bought"),
)


def buying_table(plan: CutPlan) -> Table[WireToBuyRow]:
    """What has to be bought before all can be cut."""
    rows: list[WireToBuyRow] = []
    for kind in plan.kinds:
        rows += [
            WireToBuyRow(kind, f"spool as {each.label}", each.count, each.count * each.length_mm / 1000, each.cost)
            for each in kind.purchases
        ]
        if kind.loose:
            longest = max(cut.length_mm for cut in kind.loose)
            what = f"by the metre, in pieces of {plain_number(longest / 1000, 3)} m or more"
            rows.append(WireToBuyRow(kind, what, None, kind.metres_mm / 1000, None))
    total = sum(each.cost for kind in plan.kinds for each in kind.purchases)
    notes = (f"The spools cost {plain_number(total, 2)} together, in the money of the design.",) if total else ()
    return Table("wire-to-buy", "Wire to buy", _BUYING, tuple(rows), notes)


@frozen
class ProofRow:
    """How good the plan of one kind of wire is: values in the unit of `counts`, its bounds and the gap to them."""

    kind: KindPlan
    scrap_mm: float
    counts: str
    value: float
    material: float
    shared: float
    columns: float | None
    gap: float
    gap_share: str


_PROOF: tuple[Column[ProofRow], ...] = (
    Column("family", "wire family", lambda row: row.kind.kind.family),
    Column("size", "size", lambda row: row.kind.kind.size),
    Column("colour", "colour", lambda row: row.kind.kind.colour),
    number_column("cuts", "cuts", "", lambda row: row.kind.count, 0),
    number_column("needed_m", "cut in all", "m", lambda row: row.kind.needed_mm / 1000, 3),
    number_column("scrap_mm", "scrap", "mm", lambda row: row.scrap_mm),
    Column("counts", "what counts", lambda row: row.counts),
    number_column("value", "plan", "", lambda row: row.value, 3),
    number_column("material", "bound by material", "", lambda row: row.material, 3),
    number_column("shared", "bound by sharing", "", lambda row: row.shared, 3),
    number_column("columns", "bound by columns", "", lambda row: row.columns, 3),
    number_column("gap", "gap", "", lambda row: row.gap, 3),
    Column("gap_share", "gap in %", lambda row: row.gap_share),
)


def proof_table(plan: CutPlan) -> Table[ProofRow]:
    """How good the plan is, for each kind of wire: what it counts, and how little any plan could count."""
    rows = tuple(_proof_row(plan, kind) for kind in plan.kinds)
    notes = (
        "A bound says that no plan counts less: by the sum of the cuts, by which of them can share a spool (L2), by"
        " column generation (looked for only where the others leave a gap and cuts are long against the stock).",
        "A gap of 0 means that the plan is proved best; an open gap, that it may be best or not.",
    )
    return Table("cutting-proof", "How good the cutting plan is", _PROOF, rows, notes)


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


def _proof_row(plan: CutPlan, kind: KindPlan) -> ProofRow:
    solved = kind.solved
    return ProofRow(
        kind,
        scrap_mm=kind.scrap_mm(plan.tail.value.value),
        counts=what_counts(kind),
        value=scaled(kind, solved.packing.value),
        material=scaled(kind, solved.bounds.material),
        shared=scaled(kind, solved.bounds.shared),
        columns=scaled(kind, solved.columns) if solved.columns is not None else None,
        gap=scaled(kind, solved.gap),
        gap_share="no bound" if math.isinf(solved.gap_share) else plain_number(100.0 * solved.gap_share, 2),
    )
