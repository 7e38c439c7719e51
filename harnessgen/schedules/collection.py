"""All schedules of a harness, made once: for files by kind, and for pages section by section."""

from collections.abc import Mapping

from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.schedules.cavity_chart import cavity_rows, cavity_table
from harnessgen.schedules.covering_list import covering_rows, covering_table
from harnessgen.schedules.cut_list import cut_rows, cut_table
from harnessgen.schedules.cut_sheet import cut_sheet_table
from harnessgen.schedules.parts_to_buy import buy_rows, buy_table
from harnessgen.schedules.sample_crimps import sample_rows, sample_table
from harnessgen.schedules.splice_schedule import splice_rows, splice_table
from harnessgen.schedules.table import Table


@frozen
class SectionSchedules:
    """The schedules of one section; `sheet` is its cut list as it lies on the bench."""

    cut: Table
    sheet: Table
    splices: Table
    cavities: Table
    coverings: Table


@frozen
class Schedules:
    """The schedules of each section in order, and those of the whole harness."""

    sections: tuple[SectionSchedules, ...]
    samples: Table
    buy: Table

    @property
    def by_kind(self) -> Mapping[str, tuple[Table, ...]]:
        """Tables of the same columns under the stem of the file that holds them."""
        return {
            "cut-list": tuple(each.cut for each in self.sections),
            "splice-schedule": tuple(each.splices for each in self.sections),
            "cavity-chart": tuple(each.cavities for each in self.sections),
            "covering-list": tuple(each.coverings for each in self.sections),
            "sample-crimps": (self.samples,),
            "parts-to-buy": (self.buy,),
        }

    def for_page(self, *, on_bench: bool) -> tuple[Table, ...]:
        """Tables in the order of a page; `on_bench` takes the cut list with a row for each end of each wire."""
        of_sections = [
            table
            for each in self.sections
            for table in (each.sheet if on_bench else each.cut, each.splices, each.cavities, each.coverings)
        ]
        return tuple(table for table in (*of_sections, self.samples, self.buy) if table.rows)


def schedules_of(network: Network, physics: Physics) -> Schedules:
    """Every schedule of a harness."""
    unit = network.design.units.length
    sections = []
    for section in network.sections.sections:
        rows = cut_rows(network, physics, section)
        sections.append(
            SectionSchedules(
                cut_table(rows, section, unit),
                cut_sheet_table(rows, section, unit),
                splice_table(splice_rows(network, section), section),
                cavity_table(network, cavity_rows(network, section), section),
                covering_table(network, covering_rows(network, section), section),
            )
        )
    return Schedules(
        tuple(sections), sample_table(network, sample_rows(network)), buy_table(network, buy_rows(network, physics))
    )
