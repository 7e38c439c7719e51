"""The bundles: each stretch with its diameter, covering, bend radius, clips and mass, and the mass of the whole."""

import math
from collections import Counter
from itertools import pairwise

from harnessgen.design.limits.table import limit
from harnessgen.design.records.fixings import CLIP, GROMMET
from harnessgen.lengths.bundles.bend_radius import LeastRadius, least_radius
from harnessgen.lengths.bundles.diameter import PackingMethod
from harnessgen.lengths.bundles.lay_up import lay_up
from harnessgen.lengths.bundles.stretch import (
    COPPER_SOURCE,
    MASS_PRACTICE,
    StretchBundle,
    copper_g_per_m,
    covering_g_per_m,
    diameter_mm,
    insulation_g_per_m,
    stretch_bundles,
)
from harnessgen.measures.frozen import frozen
from harnessgen.network.fixings import fixings_on
from harnessgen.network.network import HarnessSection, Network
from harnessgen.network.wires import Wire
from harnessgen.physics.physics import Physics
from harnessgen.schedules.bundles.covering_list import covered_mm
from harnessgen.schedules.tables.table import Column, Medium, Table, number_column


@frozen
class BundleRow:
    """One stretch of a section. Masses in g; `clips` is the number that holds it, `ties` that of ties between.

    `fixed` are its tapes and grommets, in words.
    """

    section: str
    bundle: StretchBundle
    least: LeastRadius
    length_mm: float
    clips: int
    ties: int
    lay: str
    copper_g: float
    insulation_g: float
    covering_g: float
    fixed: str = ""

    @property
    def total_g(self) -> float:
        """Mass of the stretch."""
        return self.copper_g + self.insulation_g + self.covering_g


def bundle_rows(network: Network, section: HarnessSection) -> tuple[BundleRow, ...]:
    """Stretches of a section that hold a wire, in the order of its route."""
    own = {(leg.from_point, leg.to_point) for leg in section.legs}
    found = (each for each in stretch_bundles(network) if (each.leg.from_point, each.leg.to_point) in own)
    return tuple(_row(network, section, each) for each in found)


def _row(network: Network, section: HarnessSection, bundle: StretchBundle) -> BundleRow:
    length_mm = covered_mm(bundle.leg)
    copper_g = insulation_g = 0.0
    for leg in section.legs:
        if (leg.from_point, leg.to_point) == (bundle.leg.from_point, bundle.leg.to_point):
            for wire in network.wires_by_leg.get((leg.start, leg.end), ()):
                copper_g += copper_g_per_m(wire) * length_mm * leg.share / 1000.0
                insulation_g += insulation_g_per_m(wire) * length_mm * leg.share / 1000.0
    part = bundle.covering
    covering = covering_g_per_m(part) * length_mm / 1000.0 if part is not None else 0.0
    clips, ties = supports(network, bundle, length_mm)
    return BundleRow(
        section.number,
        bundle,
        least_radius(network, bundle),
        length_mm,
        clips,
        ties,
        _lay_words(network, bundle),
        copper_g,
        insulation_g,
        covering,
        _fixed_words(network, bundle),
    )


def _fixed_words(network: Network, bundle: StretchBundle) -> str:
    """Tapes with their number, and grommets by name: `2 x pvc-19, GR1`."""
    named = Counter(each.name for each in fixings_on(network, bundle.leg) if each.kind != CLIP)
    return ", ".join(f"{count} x {name}" if count > 1 else name for name, count in named.items())


def supports(network: Network, bundle: StretchBundle, length_mm: float) -> tuple[int, int]:
    """Clips along a stretch between its two ends, and ties between them; ends and grommets hold it too."""
    limits = network.design.limits
    tie_mm = limit("tie-spacing", limits).value.value
    own = bundle.leg.stretch.clips
    if own is not None and own.set_at:
        held = [each for each in fixings_on(network, bundle.leg) if each.kind in (CLIP, GROMMET)]
        ends_mm = [0.0, *(each.low_mm for each in held), max(length_mm, bundle.leg.stretch.length_mm.value)]
        gaps_mm = [b - a for a, b in pairwise(ends_mm)]
        return len(own.set_at), sum(max(math.ceil(gap_mm / tie_mm - 1e-9), 1) - 1 for gap_mm in gaps_mm)
    spacing_mm = own.every_mm.value if own is not None and own.every_mm else limit("clip-spacing", limits).value.value
    spans = max(math.ceil(length_mm / spacing_mm - 1e-9), 1)
    ties = max(math.ceil(length_mm / spans / tie_mm - 1e-9), 1) - 1
    return spans - 1, ties * spans


def _lay_words(network: Network, bundle: StretchBundle) -> str:
    """Layers of what is twisted in a stretch: the bundle itself, or cables in it."""
    if bundle.leg.stretch.lay_length_mm is not None:
        return str(lay_up(bundle.diameter.diameters_mm))
    cores: dict[str, list[Wire]] = {}
    for wire in bundle.wires:
        if wire.cable and network.design.cables[wire.cable].lay == "twisted":
            cores.setdefault(wire.cable, []).append(wire)
    return "; ".join(f"{name}: {lay_up([diameter_mm(each) for each in wires])}" for name, wires in cores.items())


_COLUMNS: tuple[Column[BundleRow], ...] = (
    Column("section", "section", lambda row: row.section, on=Medium.CSV),
    Column("stretch", "stretch", lambda row: row.bundle.name),
    number_column("wires", "wires", "", lambda row: len(row.bundle.wires), 0),
    number_column("diameter_mm", "bundle", "mm", lambda row: row.bundle.diameter.diameter_mm),
    Column("method", "found by", lambda row: row.bundle.diameter.method.value),
    Column("covering", "covering", lambda row: row.bundle.covering.name if row.bundle.covering is not None else ""),
    number_column("fill", "fill", "%", lambda row: _percent(row.bundle.fill), 0),
    number_column("outside_mm", "outside", "mm", lambda row: row.bundle.outside_mm),
    number_column("bend_mm", "least bend radius", "mm", lambda row: row.least.radius_mm, 0),
    Column("bend_by", "for", lambda row: row.least.what, on=Medium.CSV),
    number_column("clips", "clips", "", lambda row: row.clips, 0),
    number_column("ties", "ties", "", lambda row: row.ties, 0),
    Column("fixed", "tape, grommets", lambda row: row.fixed),
    Column("lay", "lay-up", lambda row: row.lay),
    number_column("copper_g", "copper", "g", lambda row: row.copper_g),
    number_column("insulation_g", "insulation", "g", lambda row: row.insulation_g),
    number_column("covering_g", "covering", "g", lambda row: row.covering_g),
    number_column("mass_g", "mass", "g", lambda row: row.total_g),
    Column("marks", "wires in it", lambda row: ", ".join(wire.mark for wire in row.bundle.wires), on=Medium.CSV),
)


def bundle_table(rows: tuple[BundleRow, ...], section: HarnessSection, *, has_fixed: bool = False) -> Table[BundleRow]:
    """The bundles of a section; with a column of tapes and grommets where any section has them (`has_fixed`)."""
    columns = tuple(each for each in _COLUMNS if has_fixed or each.key != "fixed")
    return Table("bundles", f"Bundles {section.number}", columns, rows, _notes(rows))


def _percent(share: float | None) -> float | None:
    return None if share is None else 100.0 * share


def _notes(rows: tuple[BundleRow, ...]) -> tuple[str, ...]:
    notes = ["Bundle is the diameter of the thickest part of the stretch; fill is the wires' share of the inside."]
    errors = [row.bundle.diameter.error for row in rows if row.bundle.diameter.method is PackingMethod.RULE]
    if errors:
        low, high = min(each[0] for each in errors), max(each[1] for each in errors)
        notes.append(
            "The rule of the trade, 1.2 times the root of the sum of squared diameters, lies within"
            f" {100.0 * low:+.1f} and {100.0 * high:+.1f} % of the best packing."
        )
    if rows:
        sources = "; ".join(dict.fromkeys(str(row.least.times.source) for row in rows))
        notes.append(f"Least bend radius is on the inside of a bend that nothing holds. {sources}.")
    notes.append(
        "Clips are those between the ends of a stretch, ties those between clips: as many as the design places,"
        " else the fewest that suffice."
    )
    if any(row.lay for row in rows):
        notes.append("Lay-up counts the core and then each layer, fillers included; each layer runs against the last.")
    return tuple(notes)


@frozen
class MassRow:
    """Masses of a section, or of the whole harness, in g, by the lengths to which its wires are cut."""

    section: str
    copper_g: float
    insulation_g: float
    covering_g: float

    @property
    def total_g(self) -> float:
        """Sum of all three."""
        return self.copper_g + self.insulation_g + self.covering_g


def mass_rows(network: Network, physics: Physics, bundles: tuple[tuple[BundleRow, ...], ...]) -> tuple[MassRow, ...]:
    """The mass of each section and of their sum; `bundles` are the rows of the sections in order."""
    rows: list[MassRow] = []
    for section, own in zip(network.sections.sections, bundles, strict=True):
        wires = [wire for wire in network.wires if wire.section == section.letter]
        metres = [physics.lengths[wire.mark].cut_mm / 1000.0 for wire in wires]
        copper = math.fsum(copper_g_per_m(wire) * length for wire, length in zip(wires, metres, strict=True))
        insulation = math.fsum(insulation_g_per_m(wire) * length for wire, length in zip(wires, metres, strict=True))
        rows.append(MassRow(section.number, copper, insulation, math.fsum(row.covering_g for row in own)))
    if len(rows) > 1:
        sums = (math.fsum(getattr(row, each) for row in rows) for each in ("copper_g", "insulation_g", "covering_g"))
        rows.append(MassRow("whole harness", *sums))
    return tuple(rows)


_MASSES: tuple[Column[MassRow], ...] = (
    Column("section", "section", lambda row: row.section),
    number_column("copper_g", "copper", "g", lambda row: row.copper_g),
    number_column("insulation_g", "insulation", "g", lambda row: row.insulation_g),
    number_column("covering_g", "coverings", "g", lambda row: row.covering_g),
    number_column("mass_g", "together", "g", lambda row: row.total_g),
)


def mass_table(rows: tuple[MassRow, ...]) -> Table[MassRow]:
    """The mass of copper, insulation and coverings."""
    notes = (
        f"Wires by their cut lengths; copper by its area and {COPPER_SOURCE}.",
        f"{MASS_PRACTICE}; their densities are common practice, no source. Corrugation of conduit is not counted.",
        "Connectors, terminals, splices, clips, ties, tape and grommets come on top.",
    )
    return Table("mass", "Mass", _MASSES, rows, notes)
