"""The re-cut list: each wire that is too short, with every remedy that works and what it does to others."""

from collections.abc import Iterator

from harnessgen.lengths.too_short.remedies import recut_list, remedies
from harnessgen.lengths.too_short.trial import Remedy, RemedyKind
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.schedules.tables.table import Column, Table, number_column

MOST_ON_THE_BENCH = 8
"""Wires whose remedies are all worked out; the rest are cut anew."""


@frozen
class RecutRow:
    """One remedy of one wire, lengths in mm: what it is short of, what it has, and what it is to be cut to anew."""

    mark: str
    short_mm: float
    has_mm: float
    recut_mm: float
    remedy: Remedy | None

    @property
    def kind(self) -> RemedyKind:
        """What is done: where no other remedy was looked for, the wire is cut longer."""
        return self.remedy.kind if self.remedy is not None else RemedyKind.LENGTHEN

    @property
    def is_recut(self) -> bool:
        """True where the wire is cut anew."""
        return self.kind is RemedyKind.LENGTHEN

    @property
    def wins_mm(self) -> float:
        """Length that the remedy wins, mm."""
        return self.remedy.gain_mm if self.remedy is not None else self.recut_mm - self.has_mm

    @property
    def others(self) -> str:
        """What the remedy does to the other wires: `21D needs 4 mm more, 12 mm to spare`."""
        effects = self.remedy.effects if self.remedy is not None else ()
        return "; ".join(
            f"{each.mark} needs {abs(each.change_mm):.1f} mm {'more' if each.change_mm > 0 else 'less'}"
            + (f", {each.margin_mm:.1f} mm to spare" if each.margin_mm is not None else "")
            for each in effects
            if each.mark != self.mark
        )


def recut_rows(network: Network, physics: Physics) -> tuple[RecutRow, ...]:
    """Every remedy of every wire of stated length that is too short, the ones that change least first."""
    return tuple(_rows(network, physics))


def _rows(network: Network, physics: Physics) -> Iterator[RecutRow]:
    for number, (mark, has_mm, recut_mm) in enumerate(recut_list(network, physics.lengths)):
        short_mm = -physics.lengths[mark].margin_mm
        on_the_bench = number < MOST_ON_THE_BENCH
        found = remedies(network, physics.lengths, network.wire_of[mark]) if on_the_bench else ()
        for remedy in found or (None,):
            yield RecutRow(mark, short_mm, has_mm, recut_mm, remedy)


_COLUMNS: tuple[Column[RecutRow], ...] = (
    Column("mark", "wire", lambda row: row.mark),
    number_column("short_mm", "short by", "mm", lambda row: row.short_mm),
    number_column("has_mm", "has", "mm", lambda row: row.has_mm),
    number_column("recut_mm", "cut anew to", "mm", lambda row: row.recut_mm if row.is_recut else None),
    Column("remedy", "what would do", lambda row: row.kind.value),
    Column("how", "how", lambda row: row.remedy.words.partition(" (wins ")[0] if row.remedy is not None else ""),
    number_column("wins_mm", "wins", "mm", lambda row: row.wins_mm),
    Column("others", "what it does to others", lambda row: row.others),
)


def recut_table(rows: tuple[RecutRow, ...]) -> Table[RecutRow]:
    """The re-cut list."""
    notes = (
        "Each line is one remedy that by itself makes the wire reach, computed on the changed design; none makes"
        " another wire of stated length fall short. A connector's freedom is not counted as length until it is used.",
    )
    return Table("recut-list", "Wires that are too short, and what would do", _COLUMNS, rows, notes)
