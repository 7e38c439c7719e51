"""What a shop adds to the bare need: scrap, sample crimps, and coverings that get shorter as they go on."""

from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.measures.frozen import frozen


@frozen
class Allowance:
    """One allowance: its value in `unit` (`1` is a share) and where it comes from."""

    value: float
    unit: str
    source: Publication


WIRE_SCRAP = Allowance(0.05, "1", common_practice("share of wire lost to ends of spools and cuts that went wrong"))
PART_SCRAP = Allowance(0.05, "1", common_practice("share of terminals and seals lost in the work, rounded up"))
SAMPLE_CRIMPS = Allowance(3.0, "1", common_practice("sample crimps of each terminal on each wire, before the first"))
SAMPLE_WIRE = Allowance(150.0, "mm", common_practice("wire of one sample crimp, long enough to clamp and pull"))
BRAID_SHORTENING = Allowance(0.10, "1", common_practice("share that a braid loses in length as it opens over a bundle"))
SHRINK_SHORTENING = Allowance(0.10, "1", common_practice("share that heat-shrink loses in length as it recovers"))
