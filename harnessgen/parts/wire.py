"""Wire families: insulation and, for each size, copper area, resistance and outside diameter."""

from collections.abc import Mapping

from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.quantity import AREA, DENSITY, LINEAR_RESISTANCE, TEMPERATURE, Quantity
from harnessgen.parts.part import PART_LENGTH, Part
from harnessgen.source.container import MapOf, RecordOf
from harnessgen.source.key import key, record
from harnessgen.source.kind import Choice, Text
from harnessgen.source.measure_kind import Measure

SIZE_PATTERN = r"[0-9]{1,4}(\.[0-9]{1,4})?|[1-4]/0"


@record
class WireSize(Part):
    """One size of a wire family."""

    area_mm2: Quantity = key("area", Measure(AREA, above=0), "Copper area.")
    resistance_ohm_per_m: Quantity = key(
        "resistance", Measure(LINEAR_RESISTANCE, above=0), "Highest resistance of the conductor at 20 degC."
    )
    diameter_mm: Quantity = key("diameter", PART_LENGTH, "Largest diameter over the insulation.")

    noun = "a wire size"


@record
class WireFamily(Part):
    """A family of single-core wire: one insulation in a range of sizes."""

    title: str = key("title", Text(), "What it is, in words.")
    system: str = key("system", Choice(("mm2", "AWG")), "System of its size labels.")
    rating_degc: Quantity = key(
        "rating", Measure(TEMPERATURE), "Highest conductor temperature that the insulation stands."
    )
    density_g_per_cm3: Quantity = key(
        "density",
        Measure(DENSITY, above=0),
        "Density of the insulation.",
        default=Quantity(1.4),
        default_words="1.4 g/cm3, common practice, no source",
    )
    overload_degc: Quantity | None = key(
        "overload",
        Measure(TEMPERATURE),
        "Highest conductor temperature that the insulation stands once, until a fuse has opened.",
        default=None,
        default_words="the rating",
    )
    sizes: Mapping[str, WireSize] = key(
        "sizes", MapOf(RecordOf(WireSize), "size", SIZE_PATTERN), "Figures of each size, by its label."
    )

    noun = "a wire family"
    example = """\
parts:
  wires:
    silicone-200:
      title: silicone-insulated stranded copper
      system: mm2
      rating: 200 degC
      sizes:
        0.5: {area: 0.5 mm2, resistance: 39 mohm/m, diameter: 2.1 mm}
        1:   {area: 1 mm2, resistance: 19.5 mohm/m, diameter: 2.6 mm}
"""

    def size(self, size: ConductorSize) -> WireSize | None:
        """Figures of `size`, or None when the family does not have it."""
        return self.sizes.get(size.label) if size.system == self.system else None

    @property
    def sizes_text(self) -> str:
        """The sizes that there are, for a mend line."""
        return ", ".join(self.sizes) + f" {self.system}"
