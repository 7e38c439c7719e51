"""The shelf of parts: packaged families, and a design's own laid over them."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from importlib import resources
from typing import Any

from harnessgen.parts.connector import ConnectorPart
from harnessgen.parts.covering import CoveringPart, SplicePart
from harnessgen.parts.fuse import FuseForm
from harnessgen.parts.load import LoadPart
from harnessgen.parts.relay import RelayPart
from harnessgen.parts.terminal import Contact, Seal
from harnessgen.parts.wire import WireFamily
from harnessgen.source.container import MapOf, RecordOf
from harnessgen.source.key import Record, key
from harnessgen.source.kind import Choice, Reading
from harnessgen.source.reader import read_tree

_DATA_FILES = ("wires", "contacts", "connectors", "fuses", "relays", "loads", "coverings", "splices")


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts(Record):
    """Families of parts by kind; a family of the same name as a packaged one takes its place."""

    wires: Mapping[str, WireFamily] = key("wires", MapOf(RecordOf(WireFamily)), "Wire families.", empty=dict)
    contacts: Mapping[str, Contact] = key("contacts", MapOf(RecordOf(Contact)), "Contacts and terminals.", empty=dict)
    seals: Mapping[str, Seal] = key("seals", MapOf(RecordOf(Seal)), "Single-wire seals.", empty=dict)
    connectors: Mapping[str, ConnectorPart] = key(
        "connectors", MapOf(RecordOf(ConnectorPart)), "Connector families.", empty=dict
    )
    fuses: Mapping[str, FuseForm] = key("fuses", MapOf(RecordOf(FuseForm)), "Fuse forms.", empty=dict)
    relays: Mapping[str, RelayPart] = key("relays", MapOf(RecordOf(RelayPart)), "Relay families.", empty=dict)
    loads: Mapping[str, LoadPart] = key("loads", MapOf(RecordOf(LoadPart)), "Load families.", empty=dict)
    coverings: Mapping[str, CoveringPart] = key(
        "coverings", MapOf(RecordOf(CoveringPart)), "Sleeves, conduits, braids, tapes, heat-shrink.", empty=dict
    )
    splices: Mapping[str, SplicePart] = key("splices", MapOf(RecordOf(SplicePart)), "Splice families.", empty=dict)

    noun = "the parts"

    def over(self, shelf: "Parts") -> "Parts":
        """These parts laid over `shelf`: a family named in both is this one's."""
        own: dict[str, Any] = {name: {**getattr(shelf, name), **getattr(self, name)} for name in _KINDS}
        return Parts(**own)


_KINDS = tuple(each.name for each in fields(Parts) if "key" in each.metadata)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsFile(Record):
    """A file of parts alone, in the form that a design can include."""

    format: str = key("format", Choice(("1",)), "Version of the format.")
    parts: Parts = key("parts", RecordOf(Parts), "The families.")

    noun = "a parts file"


class PackagedPartsError(RuntimeError):
    """The packaged parts themselves cannot be read: a fault of ours."""


@cache
def packaged_parts() -> Parts:
    """The families that come with the program.

    Raises:
        PackagedPartsError: a data file of the package is broken.
    """
    shelf = Parts()
    for name in _DATA_FILES:
        file = f"{name}.yaml"
        text = resources.files("harnessgen.parts").joinpath("data", file).read_text(encoding="utf-8")
        tree = read_tree(file, text)
        reading = Reading()
        if tree.root is None or tree.faults:
            raise PackagedPartsError(f"{file}: {tree.faults}")
        own = RecordOf(PartsFile).read(tree.root, reading)
        if reading.faults or not isinstance(own, PartsFile):
            raise PackagedPartsError(f"{file}: {reading.faults}")
        shelf = own.parts.over(shelf)
    return shelf
