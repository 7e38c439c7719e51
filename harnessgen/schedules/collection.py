"""All schedules of a harness, made once: for files by kind, and for pages section by section."""

from collections.abc import Mapping
from typing import Any

from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.schedules.bundles.assembly_order import OrderRow, order_rows, order_table
from harnessgen.schedules.bundles.bundle_list import (
    BundleRow,
    MassRow,
    bundle_rows,
    bundle_table,
    mass_rows,
    mass_table,
)
from harnessgen.schedules.bundles.covering_list import CoveringRow, covering_rows, covering_table
from harnessgen.schedules.bundles.fixing_list import FixingRow, fixing_rows, fixing_table
from harnessgen.schedules.parts_to_buy import BuyRow, buy_rows, buy_table
from harnessgen.schedules.tables.table import Table
from harnessgen.schedules.wires.cavity_chart import CavityRow, cavity_rows, cavity_table
from harnessgen.schedules.wires.cut_list import CutRow, cut_rows, cut_table
from harnessgen.schedules.wires.cut_sheet import CutSheetRow, cut_sheet_table
from harnessgen.schedules.wires.recut_list import RecutRow, recut_rows, recut_table
from harnessgen.schedules.wires.sample_crimps import SampleRow, sample_rows, sample_table
from harnessgen.schedules.wires.splice_schedule import SpliceRow, splice_rows, splice_table


@frozen
class SectionSchedules:
    """The schedules of one section; `sheet` is its cut list as it lies on the bench."""

    cut: Table[CutRow]
    sheet: Table[CutSheetRow]
    splices: Table[SpliceRow]
    cavities: Table[CavityRow]
    coverings: Table[CoveringRow]
    fixings: Table[FixingRow]
    bundles: Table[BundleRow]
    order: Table[OrderRow]


@frozen
class Schedules:
    """The schedules of each section in order, and those of the whole harness."""

    sections: tuple[SectionSchedules, ...]
    samples: Table[SampleRow]
    buy: Table[BuyRow]
    mass: Table[MassRow]
    recut: Table[RecutRow]

    @property
    def by_kind(self) -> Mapping[str, tuple[Table[Any], ...]]:
        """Tables of the same columns under the stem of their file; some only where there is anything.

        Those are the re-cut list (a wire is too short) and the list of clips, tape and grommets.
        """
        recut = {"recut-list": (self.recut,)} if self.recut.rows else {}
        fixings = tuple(each.fixings for each in self.sections)
        fixed = {"fixing-list": fixings} if any(each.rows for each in fixings) else {}
        return {
            "cut-list": tuple(each.cut for each in self.sections),
            "splice-schedule": tuple(each.splices for each in self.sections),
            "cavity-chart": tuple(each.cavities for each in self.sections),
            "covering-list": tuple(each.coverings for each in self.sections),
            **fixed,
            "bundles": tuple(each.bundles for each in self.sections),
            "assembly-order": tuple(each.order for each in self.sections),
            **recut,
            "mass": (self.mass,),
            "sample-crimps": (self.samples,),
            "parts-to-buy": (self.buy,),
        }

    def for_page(self, *, on_bench: bool) -> tuple[Table[Any], ...]:
        """Tables in the order of a page; `on_bench` takes the cut list with a row for each end of each wire."""
        of_sections = [
            table
            for each in self.sections
            for table in (
                each.sheet if on_bench else each.cut,
                each.splices,
                each.cavities,
                each.coverings,
                each.fixings,
                each.order,
                each.bundles,
            )
        ]
        return tuple(table for table in (self.recut, *of_sections, self.samples, self.buy, self.mass) if table.rows)


def schedules_of(network: Network, physics: Physics) -> Schedules:
    """Every schedule of a harness."""
    unit = network.design.units.length
    sections = []
    bundles = tuple(bundle_rows(network, section) for section in network.sections.sections)
    has_fixed = any(row.fixed for own in bundles for row in own)
    for section, own_bundles in zip(network.sections.sections, bundles, strict=True):
        rows = cut_rows(network, physics, section)
        sections.append(
            SectionSchedules(
                cut_table(rows, section, unit),
                cut_sheet_table(rows, section, unit),
                splice_table(splice_rows(network, section), section),
                cavity_table(network, cavity_rows(network, section), section),
                covering_table(network, covering_rows(network, section), section),
                fixing_table(network, fixing_rows(network, section), section),
                bundle_table(own_bundles, section, has_fixed=has_fixed),
                order_table(order_rows(network, section), section),
            )
        )
    recut = recut_table(recut_rows(network, physics))
    samples, buy = sample_table(network, sample_rows(network)), buy_table(network, buy_rows(network, physics))
    return Schedules(tuple(sections), samples, buy, mass_table(mass_rows(network, physics, bundles)), recut)
