"""The shelf of parts: packaged families, and a design's own laid over them."""

from collections import ChainMap
from collections.abc import Mapping
from dataclasses import fields
from functools import cache
from typing import Any

from harnessgen.parts.connector import ConnectorPart
from harnessgen.parts.covering import CoveringPart, SplicePart, TapePart
from harnessgen.parts.fuse import FuseForm
from harnessgen.parts.load import LoadPart
from harnessgen.parts.packaged import PackagedFamilies, PackagedPartsError
from harnessgen.parts.relay import RelayPart
from harnessgen.parts.terminal import Contact, Seal
from harnessgen.parts.wire import WireFamily
from harnessgen.source.container import MapOf, RecordOf
from harnessgen.source.key import Record, key, keys_of, record
from harnessgen.source.kind import Choice


@record
class Parts(Record):
    """Families of parts by kind; a family of the same name as a packaged one takes its place."""

    wires: Mapping[str, WireFamily] = key("wires", MapOf(RecordOf(WireFamily)), "Wire families.", factory=dict)
    contacts: Mapping[str, Contact] = key("contacts", MapOf(RecordOf(Contact)), "Contacts and terminals.", factory=dict)
    seals: Mapping[str, Seal] = key("seals", MapOf(RecordOf(Seal)), "Single-wire seals.", factory=dict)
    connectors: Mapping[str, ConnectorPart] = key(
        "connectors", MapOf(RecordOf(ConnectorPart)), "Connector families.", factory=dict
    )
    fuses: Mapping[str, FuseForm] = key("fuses", MapOf(RecordOf(FuseForm)), "Fuse forms.", factory=dict)
    relays: Mapping[str, RelayPart] = key("relays", MapOf(RecordOf(RelayPart)), "Relay families.", factory=dict)
    loads: Mapping[str, LoadPart] = key("loads", MapOf(RecordOf(LoadPart)), "Load families.", factory=dict)
    coverings: Mapping[str, CoveringPart] = key(
        "coverings", MapOf(RecordOf(CoveringPart)), "Sleeves, conduits, braids, heat-shrink.", factory=dict
    )
    tapes: Mapping[str, TapePart] = key("tapes", MapOf(RecordOf(TapePart)), "Tapes wound on bundles.", factory=dict)
    splices: Mapping[str, SplicePart] = key("splices", MapOf(RecordOf(SplicePart)), "Splice families.", factory=dict)

    noun = "the parts"

    def over(self, shelf: "Parts") -> "Parts":
        """These parts laid over `shelf`: a family named in both is this one's."""
        laid: dict[str, Any] = {}
        for name in _KINDS:
            own, below = getattr(self, name), getattr(shelf, name)
            laid[name] = ChainMap(own, below) if own else below
        return Parts(**laid)


_KINDS = tuple(each.name for each in fields(Parts) if "key" in each.metadata)


@record
class PartsFile(Record):
    """A file of parts alone, in the form that a design can include."""

    format: str = key("format", Choice(("2",)), "Version of the format.")
    parts: Parts = key("parts", RecordOf(Parts), "The families.")

    noun = "a parts file"


@cache
def packaged_parts() -> Parts:
    """The families that come with the program; each is read from its file when it is first asked for."""
    kinds: dict[str, Any] = {}
    for name, declared in keys_of(Parts).values():
        assert isinstance(declared.kind, MapOf)
        kinds[name] = PackagedFamilies(declared.name, declared.kind.value)
    return Parts(**kinds)


__all__ = ["PackagedPartsError", "Parts", "PartsFile", "packaged_parts"]
