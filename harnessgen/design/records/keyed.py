"""Mappings whose keys are names that stand elsewhere in the design."""

from typing import Any

from harnessgen.measures.frozen import frozen
from harnessgen.source.container import MapOf
from harnessgen.source.kind import Reading, Reference
from harnessgen.source.reader import Mapping, Node


@frozen
class MapByName(MapOf):
    """Values by the name of something in the design, which `what` names: each name has to exist there."""

    def read(self, node: Node, reading: Reading) -> dict[str, Any]:
        """The values by name, as every mapping has them; whether the names exist is seen when the design is there.

        Raises:
            Refusal: there is no mapping here.
        """
        result = MapOf.read(self, node, reading)
        if isinstance(node, Mapping):
            keys = (entry.key for text, entry in node.entries.items() if text in result)
            reading.references.extend(Reference(self.what, each.text, each.place) for each in keys)
        return result
