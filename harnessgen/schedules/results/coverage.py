"""What the test procedures find, as rows: faults by class, what nothing shows, and which faults read alike."""

from collections.abc import Mapping, Sequence

from harnessgen.bench.faults.fault import Consequence, FaultKind, HarnessFault
from harnessgen.bench.need import Need
from harnessgen.bench.proof import Proofs, weighted
from harnessgen.measures.frozen import frozen
from harnessgen.schedules.tables.table import Cell, Column, Table, number_column

_NEEDS = {
    Need.BENCH: "bench",
    Need.POWERED: "powered",
    Need.VEHICLE: "vehicle",
    Need.SERVICE: "service",
    Need.LAMP_BENCH: "lamp_bench",
    Need.LAMP_VEHICLE: "lamp_vehicle",
}
_MOST_ALIKE = 40
_MOST_NAMES = 60
_MOST_UNTESTED = 400
_ALL = "harnessgen prove --format json lists all"


@frozen
class CoverageRow:
    """One class of faults, or all: how many there are, how many some step shows, and how many the steps of each need.

    A need has no number in `by_need` where no step of it is asked for such faults.
    """

    kind: str
    faults: int
    shown: int
    by_need: Mapping[Need, int]


def _columns(needs: Sequence[Need]) -> tuple[Column[CoverageRow], ...]:
    return (
        Column("fault", "fault", lambda row: row.kind),
        number_column("faults", "faults", "", lambda row: row.faults),
        number_column("shown", "shown by some step", "", lambda row: row.shown),
        *map(_need_column, needs),
    )


def _need_column(need: Need) -> Column[CoverageRow]:
    def get(row: CoverageRow) -> Cell:
        return row.by_need.get(need, "not asked")

    return number_column(_NEEDS[need], need.value, "", get)


def coverage_table(proofs: Proofs) -> Table[CoverageRow]:
    """Number of faults of each class, and how many of them all steps together and each procedure show."""
    needs = [need for need in Need if any(each.need is need for each in proofs.proofs)]
    found = {need: _shown_by(proofs, need) for need in needs}
    covered = proofs.detection.covered
    rows = [
        CoverageRow(
            each.kind.value,
            each.count,
            each.shown,
            {need: found[need][each.kind] for need in needs if each.kind in found[need]},
        )
        for each in covered
    ]
    of_all = {need: sum(found[need].values()) for need in needs}
    rows.append(CoverageRow("all", len(proofs.detection.faults), sum(each.shown for each in covered), of_all))
    notes = (
        f"Each class weighed by how often it is met: {weighted(proofs.detection):.1%} shown by some step.",
        *proofs.universe.left_out,
    )
    return Table("coverage", "Faults shown, computed", _columns(needs), tuple(rows), notes)


def _shown_by(proofs: Proofs, need: Need) -> dict[FaultKind, int]:
    found: dict[FaultKind, int] = {}
    for proof in proofs.proofs:
        if proof.need is need:
            for each in proof.detection.covered:
                found[each.kind] = found.get(each.kind, 0) + each.shown
    return found


_UNTESTED: tuple[Column[HarnessFault], ...] = (
    Column("fault", "fault", lambda fault: fault.name),
    Column("class", "class", lambda fault: fault.kind.value),
    Column("consequence", "leads to", lambda fault: fault.consequence.value),
)


def untested_table(proofs: Proofs) -> Table[HarnessFault]:
    """Each fault that no step shows, with what it leads to, the gravest first."""
    grave = list(Consequence)
    faults = sorted(proofs.untested, key=lambda fault: -grave.index(fault.consequence))
    more = len(faults) - _MOST_UNTESTED
    notes = (f"And {more} more, no graver: {_ALL}.",) if more > 0 else ()
    return Table("untested", "Shown by no step", _UNTESTED, tuple(faults[:_MOST_UNTESTED]), notes)


def _names(faults: Sequence[HarnessFault]) -> str:
    more = len(faults) - _MOST_NAMES
    return "; ".join(fault.name for fault in faults[:_MOST_NAMES]) + (f"; and {more} more" if more > 0 else "")


_ALIKE: tuple[Column[Sequence[HarnessFault]], ...] = (
    number_column("count", "faults", "", len),
    Column("names", "that read alike", _names),
)


def alike_table(proofs: Proofs) -> Table[Sequence[HarnessFault]]:
    """Faults that the same steps show, so that the readings alone do not part them."""
    groups = [group for group in proofs.detection.ambiguity_groups if len(group) > 1]
    more = len(groups) - _MOST_ALIKE
    notes = (f"The largest {_MOST_ALIKE} groups of {len(groups)}: {_ALL}.",) if more > 0 else ()
    return Table("alike", "Ambiguity groups", _ALIKE, tuple(groups[:_MOST_ALIKE]), notes)
