"""Publications that default limits come from, apart from the table itself so that rules can be listed without it."""

from harnessgen.evidence.publication import Publication, Standing

DROP_SOURCE = Publication("ABYC E-11", "10 % for circuits that are not vital; taken here for every vehicle")
CRANKING_SOURCE = Publication(
    "ISO 16750-2:2012", "4.6.3 starting profile of 12 V systems, level I", Standing.FROM_MEMORY
)
NORMAL_SOURCE = Publication("ISO 16750-2:2012", "4.2 supply range of 12 V systems, code C", Standing.FROM_MEMORY)
HIGH_SOURCE = Publication("ISO 16750-2:2012", "4.3.1 overvoltage of 12 V systems for an hour", Standing.FROM_MEMORY)
UNFUSED_SOURCE = Publication(
    "33 CFR 183.455",
    "(b)(1): 7 in along the conductor, where a fuse at the source is impractical; small craft, taken here for road "
    "vehicles by common practice",
)
UNFUSED_COVERED_SOURCE = Publication(
    "33 CFR 183.455",
    "(b)(2): 40 in along the conductor, contained throughout in a sheath or enclosure, where a fuse within 7 in is "
    "impractical; small craft, taken here for road vehicles by common practice",
)
