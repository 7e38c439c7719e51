"""The data files of the package, each read when a family in it is first asked for.

A kind of parts stands in one table (`seals.yaml`), in a folder with a file for each family that is named after it
(`wires/boat-105.yaml`), or in both. A design pays for the families that it uses alone, however many there are.
"""

from collections.abc import Iterator, Mapping
from functools import cached_property
from importlib import resources
from importlib.resources.abc import Traversable
from typing import Any

from harnessgen.source.container import RecordOf, take
from harnessgen.source.kind import Kind, Reading
from harnessgen.source.reader import Entry, read_tree
from harnessgen.source.reader import Mapping as MappingNode


class PackagedPartsError(RuntimeError):
    """The packaged parts themselves cannot be read: a fault of ours."""


class PackagedFamilies(Mapping[str, Any]):
    """Packaged families of one kind (the key `kind` of a file's parts), by name."""

    def __init__(self, kind: str, family: Kind) -> None:
        self._kind = kind
        self._family = family
        self._known: dict[str, Any] = {}

    def __getitem__(self, name: str) -> Any:
        """The family called `name`.

        Raises:
            KeyError: there is none.
            PackagedPartsError: its data file is broken.
        """
        if name not in self._known:
            if name in self._files:
                entries = self._entries(self._files[name])
                if set(entries) != {name}:
                    raise PackagedPartsError(f"{self._kind}/{name}.yaml holds {', '.join(entries)}")
                self._known[name] = self._typed(name, entries[name])
            else:
                self._known[name] = self._typed(name, self._table[name])
        return self._known[name]

    def __contains__(self, name: object) -> bool:
        return name in self._files or name in self._table

    def __iter__(self) -> Iterator[str]:
        yield from self._table
        yield from self._files

    def __len__(self) -> int:
        return len(self._table) + len(self._files)

    @property
    def _folder(self) -> Traversable:
        return resources.files("harnessgen.parts").joinpath("data")

    @cached_property
    def _files(self) -> Mapping[str, Traversable]:
        folder = self._folder.joinpath(self._kind)
        files = sorted(folder.iterdir(), key=lambda each: each.name) if folder.is_dir() else []
        return {file.name.removesuffix(".yaml"): file for file in files if file.name.endswith(".yaml")}

    @cached_property
    def _table(self) -> Mapping[str, Entry]:
        file = self._folder.joinpath(f"{self._kind}.yaml")
        return self._entries(file) if file.is_file() else {}

    def _entries(self, file: Traversable) -> Mapping[str, Entry]:
        """Entries of the one file under its `parts` and this kind."""
        tree = read_tree(file.name, file.read_text(encoding="utf-8"))
        node = tree.root
        if tree.faults:
            raise PackagedPartsError(f"{file.name}: {tree.faults}")
        for key in ("parts", self._kind):
            entry = node.entries.get(key) if isinstance(node, MappingNode) else None
            if entry is None:
                raise PackagedPartsError(f"{file.name} has no {key}")
            node = entry.value
        if not isinstance(node, MappingNode):
            raise PackagedPartsError(f"{file.name} holds no families")
        return node.entries

    def _typed(self, name: str, entry: Entry) -> Any:
        reading = Reading()
        assert isinstance(self._family, RecordOf)
        family, is_good = take(self._family, entry.value, reading, entry.key.place, name)
        if not is_good or reading.faults:
            raise PackagedPartsError(f"{self._kind} {name}: {reading.faults}")
        return family
