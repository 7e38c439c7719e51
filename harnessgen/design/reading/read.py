"""Read a design from its files: one main file and those that it includes."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import field, fields, replace
from posixpath import basename, dirname, join, normpath
from typing import Any

from harnessgen.design.records.design import Design
from harnessgen.measures.frozen import frozen
from harnessgen.parts.library import Parts
from harnessgen.source.characters import visible_name
from harnessgen.source.container import RecordOf, take
from harnessgen.source.fault import Fault
from harnessgen.source.key import Record, keys_of
from harnessgen.source.kind import Reading, Reference
from harnessgen.source.near import nearest
from harnessgen.source.place import Place
from harnessgen.source.reader import MOST_VALUES, Entry, Node, Scalar, Sequence, Tree, read_tree
from harnessgen.source.reader import Mapping as MappingNode

FORMAT = "2"
OLD_FORMATS = ("1",)
"""Formats that are read as they are, with a message; `harnessgen upgrade` rewrites such a file."""
MOST_BYTES = 16 * 1024 * 1024
"""Size that a file of a design may have, and that all its files together may have."""
MOST_FILES = 200
"""Number of files that a design may have."""
MOST_DEPTH = 16
"""Number of files, each included by the one before, that may lead to a file."""


class UnreadableFile(Exception):
    """A file of the design that cannot be had as text; the message says why.

    `beside` names the files that stand where it was looked for, as far as that is known.
    """

    def __init__(self, why: str, beside: Iterable[str] = ()) -> None:
        super().__init__(why)
        self.beside = tuple(beside)


TextOf = Callable[[str], str]
"""Gives the text of a file by its name, or raises UnreadableFile."""


@frozen
class DesignFiles:
    """What the files hold: the design (None when there is nothing to work with), and every fault met on the way.

    `declared` has the names that the files give to each kind of thing, those of broken records too; `is_complete` is
    False when a value was lost, so that nothing should be concluded from the design; `lacks_file` is True when that
    may be a whole file of names. `texts` has the texts that may be quoted: of a file that is no design nothing is,
    since an include can name anything on a disk. `starts` has the place of each point of the route under which
    stretches are written.
    """

    design: Design | None
    faults: tuple[Fault, ...]
    references: tuple[Reference, ...]
    declared: Mapping[str, frozenset[str]]
    texts: Mapping[str, str]
    is_complete: bool
    starts: Mapping[str, Place] = field(default_factory=dict)
    lacks_file: bool = False


def read_files(main: str, text_of: TextOf) -> DesignFiles:
    """Read the file named `main` and all that it includes; faults are returned, never raised.

    Raises:
        UnreadableFile: the main file itself cannot be had.
    """
    reader = _FilesReader(text_of)
    reader.texts[main] = text_of(main)
    reader.read(main)
    return reader.result(main)


class _FilesReader:
    def __init__(self, text_of: TextOf) -> None:
        self.text_of = text_of
        self.texts: dict[str, str] = {}
        self.unquotable: set[str] = set()
        self.values = 0
        self.reading = Reading()
        self.designs: list[Design] = []
        self.declared: dict[str, set[str]] = {}
        self.starts: dict[str, Place] = {}
        self.is_broken = False
        self.lacks_file = False

    def read(self, file: str, depth: int = 0) -> None:
        tree = read_tree(file, self.texts[file], MOST_VALUES - self.values)
        self.values += tree.values
        self.is_broken |= tree.is_broken
        if not _is_of_a_design(tree):
            self._tell_no_design(file, tree)
            return
        self.reading.faults.extend(tree.faults)
        # What the reader refuses it leaves out: the second of two keys, an alias, a second document.
        self.reading.has_lost_values |= bool(tree.faults)
        root = tree.root
        if not isinstance(root, MappingNode):
            return
        self._check_format(root, file)
        self.reading.units = _units_of(root)
        self._note_declared(root)
        record, is_good = take(RecordOf(Design), root, self.reading, root.place)
        if is_good:
            self.designs.append(record)
        for item in _includes(root):
            self._include(item, file, depth + 1)

    def _tell_no_design(self, file: str, tree: Tree) -> None:
        """Say that a file is no design, and where it breaks if it does, without showing what stands in it."""
        self.unquotable.add(file)
        self.is_broken = True
        self.reading.has_lost_values = True
        if tree.is_broken:
            # These words name a place and at most one sign of YAML.
            fault = tree.faults[-1]
            mend = "mend the line; it is not shown, since no key of a design stands before it"
            self._tell("syntax", fault.place, fault.message, mend)
            return
        root = tree.root
        place = root.place if root and not isinstance(root, MappingNode) else Place(file, 0, 0, 1, 1, 1, 1)
        self._tell("missing-key", place, "This file holds no design.", f"begin it with format: {FORMAT}")

    def _include(self, item: Scalar, file: str, depth: int) -> None:
        name = normpath(join(dirname(file), item.text.strip()))
        if name in self.texts:
            self._tell("bad-value", item.place, f"{item.text} is included a second time.", "include each file once")
            return
        shown = visible_name(item.text.strip())
        if depth > MOST_DEPTH or len(self.texts) >= MOST_FILES:
            self.reading.has_lost_values = self.lacks_file = True
            message = f"{shown} is not read: a design has at most {MOST_FILES} files."
            if depth > MOST_DEPTH:
                message = f"{shown} is not read: files include one another at most {MOST_DEPTH} deep."
            self._tell("unreadable-file", item.place, message, "write what it holds into fewer files")
            return
        try:
            text = self.text_of(name)
            if sum(map(len, self.texts.values())) + len(text) > MOST_BYTES:
                raise UnreadableFile(f"with it the design has more than {MOST_BYTES // 1024 // 1024} MiB")
        except UnreadableFile as error:
            near = nearest(basename(name), error.beside)
            mend = f"did you mean {near}?" if near else "mend the file's name"
            self._tell("unreadable-file", item.place, f"{shown} cannot be read: {error}.", mend)
            self.reading.has_lost_values = True
            self.lacks_file = True
            return
        self.texts[name] = text
        self.read(name, depth)

    def _tell(self, rule: str, place: Place, message: str, mend: str) -> None:
        self.reading.faults.append(Fault(rule, place, message, mend))

    def _check_format(self, root: MappingNode, file: str) -> None:
        entry = root.entries.get("format")
        good = Entry(Scalar("format", root.place), Scalar(FORMAT, root.place))
        if entry is None:
            at = Place(file, 0, 0, 1, 1, 1, 1)
            self._tell(
                "missing-key", at, "This file does not say which version of the format it has.", f"add format: {FORMAT}"
            )
            root.entries["format"] = good
        elif isinstance(entry.value, Scalar) and entry.value.text in OLD_FORMATS:
            message = f"This file has format {entry.value.text}, which is read as format {FORMAT}."
            mend = f"harnessgen upgrade {file} --write, and the name of the new file"
            self._tell("old-format", entry.value.place, message, mend)
            root.entries["format"] = good
        elif isinstance(entry.value, Scalar) and entry.value.text not in ("", FORMAT):
            message = f"This file has format {entry.value.text}; format {FORMAT} is read here."
            self._tell("bad-value", entry.value.place, message, f"write format: {FORMAT}")
            root.entries["format"] = good

    def _note_declared(self, root: MappingNode) -> None:
        for text, entry in root.entries.items():
            value = entry.value
            if isinstance(value, MappingNode):
                self.declared.setdefault(text, set()).update(value.entries)
                for name, inner in value.entries.items():
                    if text == "banks" and isinstance(inner.value, MappingNode):
                        # The loads of a bank are there, even when something else of the bank cannot be read.
                        loads = inner.value.entries.get("loads")
                        names = loads.value.entries if loads and isinstance(loads.value, MappingNode) else ()
                        self.declared.setdefault("loads", set()).update(names)
                    if text == "route":
                        self.starts.setdefault(name, inner.key.place)
                    if text == "vehicle" and isinstance(inner.value, MappingNode):
                        inside = {"taps": "splices", "circuits": "vehicle.circuits"}.get(name, name)
                        self.declared.setdefault(inside, set()).update(inner.value.entries)
                    if text in ("parts", "route") and isinstance(inner.value, MappingNode):
                        # A stretch leads to a point of the route even when its length cannot be read.
                        inside = f"parts.{name}" if text == "parts" else text
                        self.declared.setdefault(inside, set()).update(inner.value.entries)

    def result(self, main: str) -> DesignFiles:
        design = self._joined(main) if self.designs and not self.is_broken else None
        return DesignFiles(
            design,
            tuple(self.reading.faults),
            tuple(self.reading.references),
            {name: frozenset(names) for name, names in self.declared.items()},
            {name: text for name, text in self.texts.items() if name not in self.unquotable},
            is_complete=not self.reading.has_lost_values and not self.is_broken,
            starts=self.starts,
            lacks_file=self.lacks_file,
        )

    def _joined(self, main: str) -> Design:
        joined: dict[str, Any] = {}
        places: dict[str, Place] = {}
        for each in fields(Design):
            if "key" not in each.metadata:
                continue
            for design in self.designs:
                if each.name not in design.places or each.name in ("include", "units", "format"):
                    continue
                value = getattr(design, each.name)
                places.setdefault(each.name, design.places[each.name])
                joined[each.name] = self._join(each.name, joined.get(each.name), value, design, places)
        return replace(self.designs[0], **joined, places=places)

    def _join(self, name: str, first: Any, value: Any, design: Design, places: Mapping[str, Place]) -> Any:
        if first is None:
            return value
        if isinstance(value, tuple):
            return first + value
        if isinstance(value, Parts):
            return value.over(first)
        if isinstance(value, dict):
            return self._join_maps(name, first, value)
        message = f"{name} stands in two files of the design."
        also = (places[name], "it stands here first")
        self.reading.faults.append(
            Fault("duplicate-key", design.places[name], message, "keep one of the two", also=also, subject=name)
        )
        self.reading.has_lost_values = True
        return first

    def _join_maps(self, name: str, first: dict[str, Any], second: dict[str, Any]) -> dict[str, Any]:
        joined = dict(first)
        for text, value in second.items():
            known = joined.get(text)
            if known is None:
                joined[text] = value
            elif name == "route":
                joined[text] = self._join_maps("", known, value)
            else:
                self.reading.faults.append(_second_in_another_file(text, known, value))
                self.reading.has_lost_values = True
        return joined


def _second_in_another_file(text: str, known: object, value: object) -> Fault:
    place = value.place if isinstance(value, Record) else Place("", 0, 0, 0, 0, 0, 0)
    also = (known.place, f"{text} stands here first") if isinstance(known, Record) else None
    return Fault(
        "duplicate-key",
        place,
        f"{text} stands in two files of the design.",
        "keep one of the two",
        also=also,
        subject=text,
    )


_KEYS_OF_ANY_FILE = frozenset({"include", "format"})
"""Keys of ours that files of other programs have too."""


def _is_of_a_design(tree: Tree) -> bool:
    """Whether a text says that it is of a design: by its format, or by another key that only a design has.

    An include can name any file that can be read, a list of passwords too: what is none of ours is not quoted.
    """
    stated = tree.top.get("format")
    says_format = stated is not None and isinstance(stated.value, Scalar) and stated.value.text.isdecimal()
    known = keys_of(Design).keys() - _KEYS_OF_ANY_FILE
    return says_format or any(name in known for name in tree.top)


def _units_of(root: MappingNode) -> dict[str, str]:
    entry = root.entries.get("units")
    if entry is None or not isinstance(entry.value, MappingNode):
        return {}
    # What is wrong with the block is told when the record is read; here only what can be used counts.
    known = {"length": {"mm", "cm", "m", "in", "ft"}, "temperature": {"degC", "degF"}, "size": {"mm2", "AWG"}}
    return {
        name: each.value.text
        for name, each in entry.value.entries.items()
        if isinstance(each.value, Scalar) and each.value.text in known.get(name, ())
    }


def _includes(root: MappingNode) -> list[Scalar]:
    entry = root.entries.get("include")
    if entry is None:
        return []
    items: list[Node] = entry.value.items if isinstance(entry.value, Sequence) else [entry.value]
    return [item for item in items if isinstance(item, Scalar) and item.text.strip()]
