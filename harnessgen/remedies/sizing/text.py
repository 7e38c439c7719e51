"""Sizes written into the text of a design: at the places that say them now, and by mark where wires share a place."""

from collections import Counter
from collections.abc import Mapping

from harnessgen.design.records.design import Design
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.remedies.changes import Change, changed_texts
from harnessgen.source.place import NOWHERE, Place


def sized_texts(
    network: Network, main: str, texts: Mapping[str, str], sizes: Mapping[str, ConductorSize]
) -> dict[str, str]:
    """The new texts of the files that change, by name, with these sizes of wires by mark; `main` is the first file.

    A place that sizes several wires takes the size that most of them have; the others are listed under `sizes`.
    """
    changes: list[Change] = []
    apart: dict[str, ConductorSize] = {}
    for place, wires in _by_place(network).items():
        wanted = [sizes.get(wire.mark, wire.size) for wire in wires]
        common = _common(wanted, wires)
        if common != wires[0].size:
            changes.append(Change(place, str(common)))
        apart |= {wire.mark: size for wire, size in zip(wires, wanted, strict=True) if size != common}
    if apart:
        changes.append(_listed(network.design, main, texts, apart))
    return changed_texts(texts, changes)


def _by_place(network: Network) -> dict[Place, list[Wire]]:
    found: dict[Place, list[Wire]] = {}
    for wire in network.wires:
        found.setdefault(wire.size_place._replace(pattern=""), []).append(wire)
    return found


def _common(wanted: list[ConductorSize], wires: list[Wire]) -> ConductorSize:
    """The size that most want; of equally many the one that is written, else the first."""
    counted = Counter(wanted)
    most = max(counted.values())
    best = [size for size, count in counted.items() if count == most]
    return wires[0].size if wires[0].size in best else best[0]


def _listed(design: Design, main: str, texts: Mapping[str, str], apart: Mapping[str, ConductorSize]) -> Change:
    """The change that adds sizes by mark: behind those that are listed, or as a new block at the end of `main`."""
    known = design.places.get("sizes", NOWHERE)
    entries = [f"{mark}: {size}" for mark, size in apart.items()]
    if known.file and design.sizes:
        text = texts[known.file]
        if text[known.start] == "{":
            at = known.end - 1
            return Change(known._replace(start=at, end=at), "".join(f", {entry}" for entry in entries))
        # A remark behind the last entry stays with it.
        at = text.find("\n", known.end)
        at = len(text) if at < 0 else at
        indent = " " * (known.column - 1)
        return Change(known._replace(start=at, end=at), "".join(f"\n{indent}{entry}" for entry in entries))
    end = len(texts[main])
    gap = Place(main, end, end, 1, 1, 1, 1)
    lead = "" if not texts[main] or texts[main].endswith("\n") else "\n"
    listed = "".join(f"  {entry}\n" for entry in entries)
    return Change(gap, f"{lead}\nsizes:                                  # of single wires, by mark\n{listed}")
