"""What the file says of a splice's place and of a stretch's length, changed with all else left as it stands."""

import re
from collections.abc import Mapping
from dataclasses import replace

from harnessgen.design.records.connector import Splice
from harnessgen.measures.quantity import Quantity, quantity_text
from harnessgen.network.network import Network
from harnessgen.remedies.changes import Change
from harnessgen.remedies.placing.tree import TreePlace
from harnessgen.source.place import NOWHERE, Place

_IN_A_MAPPING = re.compile(r"(?P<before>.*?)\bat\s*:\s*$", re.DOTALL)


def is_writable(splice: Splice, texts: Mapping[str, str]) -> bool:
    """Whether the place of a splice stands in the file by itself, and not in the pattern of a bank."""
    place = splice.where("at")
    return place != NOWHERE and place.file in texts and not place.pattern and "at" in splice.places


def splice_changes(network: Network, name: str, spot: TreePlace, texts: Mapping[str, str]) -> list[Change]:
    """The changes that write a splice's new place, measured from the point that it is measured from today if it can."""
    splice = network.design.splices[name]
    at, toward, offset = written(network, splice, spot)
    offset_text = quantity_text(replace(splice.offset_mm, value=offset), "mm")
    if "offset_mm" in splice.places and "toward" in splice.places:
        changes = [Change(splice.where("offset_mm"), offset_text)]
        if at != splice.at:
            changes.append(Change(splice.where("at"), at))
        if toward != splice.toward:
            changes.append(Change(splice.where("toward"), toward))
        return changes
    place = splice.where("at")
    before = texts[place.file][: place.start].rpartition("\n")[2]
    mapping = _IN_A_MAPPING.match(before)
    if mapping is None:
        return [Change(place, f"{{at: {at}, offset: {offset_text}, toward: {toward}}}")]
    if mapping["before"].strip():
        return [Change(place, f"{at}, offset: {offset_text}, toward: {toward}")]
    indent = mapping["before"]
    return [Change(place, f"{at}\n{indent}offset: {offset_text}\n{indent}toward: {toward}")]


def written(network: Network, splice: Splice, spot: TreePlace) -> tuple[str, str, float]:
    """Point, neighbour and distance that say where a spot is, from the nearer end; of two, from today's."""
    length_mm = network.design.route[spot.from_point][spot.to_point].length_mm.value
    from_end, from_start = round(length_mm - spot.offset_mm, 1), round(spot.offset_mm, 1)
    if from_end < from_start or (from_end == from_start and splice.at == spot.to_point):
        return spot.to_point, spot.from_point, from_end
    return spot.from_point, spot.to_point, from_start


def length_change(place: Place, length: Quantity) -> Change:
    """The change that writes the new length of a stretch."""
    return Change(place, quantity_text(length, "mm"))
