"""Publications that the protection of wires rests on, apart from what computes so that rules can be listed."""

from harnessgen.evidence.publication import Publication, Standing, common_practice

FUSE_TIME_SOURCE = Publication("Published data sheets of fuses declared to ISO 8820-3", "opening time limits")
ADIABATIC_SOURCE = Publication(
    "IEC 60364-5-54:2011", "annex A, k of copper with 234.5 K, 3.45e-3 J/(K mm3) and 17.241e-6 ohm mm"
)
OVERLOAD_SOURCE = Publication("ISO 6722-1:2011", "thermal overload, class temperature and 50 K", Standing.FROM_MEMORY)
CAPACITY_SOURCE = common_practice("only the copper takes up heat, on straight lines between temperatures")
BETWEEN_SOURCE = common_practice(
    "opening times on straight lines in logarithms of time and current between published limits, "
    "beyond the last of them by its I2t"
)
PROTECTION_SOURCES = (FUSE_TIME_SOURCE, ADIABATIC_SOURCE, OVERLOAD_SOURCE, CAPACITY_SOURCE, BETWEEN_SOURCE)
