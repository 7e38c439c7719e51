"""What the test procedures find, as rows: faults by class, what nothing shows, and which faults read alike."""

from collections.abc import Sequence

from harnessgen.bench.fault import Consequence, Fault, FaultKind
from harnessgen.bench.need import Need
from harnessgen.bench.proof import Proofs, weighted
from harnessgen.schedules.table import Cell, Column, Table, number_column

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


def coverage_table(proofs: Proofs) -> Table:
    """Number of faults of each class, and how many of them all steps together and each procedure show."""
    needs = [need for need in Need if any(each.need is need for each in proofs.proofs)]
    columns = (
        Column("fault", "fault"),
        number_column("faults", "faults", ""),
        number_column("shown", "shown by some step", ""),
        *(number_column(_NEEDS[need], need.value, "") for need in needs),
    )
    by_need = {need: _shown_by(proofs, need) for need in needs}
    rows = [
        (each.kind.value, each.count, each.shown, *(by_need[need].get(each.kind, "not asked") for need in needs))
        for each in proofs.detection.covered
    ]
    whole: tuple[Cell, ...] = (
        "all",
        len(proofs.detection.faults),
        sum(each.shown for each in proofs.detection.covered),
        *(sum(by_need[need].values()) for need in needs),
    )
    notes = (
        f"Each class weighed by how often it is met: {weighted(proofs.detection):.1%} shown by some step.",
        *proofs.universe.left_out,
    )
    return Table("coverage", "Faults shown, computed", columns, (*rows, whole), notes)


def _shown_by(proofs: Proofs, need: Need) -> dict[FaultKind, int]:
    found: dict[FaultKind, int] = {}
    for proof in proofs.proofs:
        if proof.need is need:
            for each in proof.detection.covered:
                found[each.kind] = found.get(each.kind, 0) + each.shown
    return found


def untested_table(proofs: Proofs) -> Table:
    """Each fault that no step shows, with what it leads to, the gravest first."""
    columns = (Column("fault", "fault"), Column("class", "class"), Column("consequence", "leads to"))
    grave = list(Consequence)
    faults = sorted(proofs.untested, key=lambda fault: -grave.index(fault.consequence))
    more = len(faults) - _MOST_UNTESTED
    notes = (f"And {more} more, no graver: {_ALL}.",) if more > 0 else ()
    return Table("untested", "Shown by no step", columns, tuple(map(_row, faults[:_MOST_UNTESTED])), notes)


def _row(fault: Fault) -> tuple[Cell, ...]:
    return (fault.name, fault.kind.value, fault.consequence.value)


def alike_table(proofs: Proofs) -> Table:
    """Faults that the same steps show, so that the readings alone do not part them."""
    columns = (number_column("count", "faults", ""), Column("names", "that read alike"))
    groups = [group for group in proofs.detection.ambiguity_groups if len(group) > 1]
    more = len(groups) - _MOST_ALIKE
    notes = (f"The largest {_MOST_ALIKE} groups of {len(groups)}: {_ALL}.",) if more > 0 else ()
    return Table("alike", "Ambiguity groups", columns, tuple(map(_group, groups[:_MOST_ALIKE])), notes)


def _group(faults: Sequence[Fault]) -> tuple[Cell, ...]:
    more = len(faults) - _MOST_NAMES
    names = "; ".join(fault.name for fault in faults[:_MOST_NAMES])
    return (len(faults), names + (f"; and {more} more" if more > 0 else ""))
