"""What a default limit is."""

from harnessgen.evidence.publication import Publication
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity


@frozen
class DefaultLimit:
    """A limit that holds unless the design sets another: its value in its base unit, and where that comes from."""

    value: Quantity
    unit: str
    source: Publication
