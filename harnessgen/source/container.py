"""Kinds that hold others: records, lists, and mappings from names to values."""

import re
from collections.abc import Iterable
from typing import Any

from harnessgen.measures.frozen import frozen
from harnessgen.measures.slips import LIKELY, likeliest
from harnessgen.source.fault import Fault
from harnessgen.source.key import Key, Record, keys_of
from harnessgen.source.kind import NAME_PATTERN, AlreadyTold, Kind, Reading, Refusal, Schema, check_name
from harnessgen.source.near import did_you_mean, nearest
from harnessgen.source.place import Place
from harnessgen.source.reader import Entry, Mapping, Node, Scalar, Sequence

_LONG = 5
_LONG_SLIP = 1.0
"""A key of so many letters is taken for another one even where a letter is lost."""


def take(kind: Kind, node: Node, reading: Reading, at: Place, name: str = "") -> tuple[Any, bool]:
    """Read `node`, turning a refusal into a fault: the value and True, or None and False.

    An empty value has no place of its own to underline, so its fault is put at the key (`at`). `name` is the key where
    the value is one of many named alike.
    """
    if isinstance(node, Scalar) and node.is_refused:
        reading.has_lost_values = True
        return None, False
    try:
        if isinstance(kind, RecordOf):
            return kind.read_named(node, reading, name, at), True
        return kind.read(node, reading), True
    except AlreadyTold:
        pass
    except Refusal as refusal:
        is_empty = isinstance(node, Scalar) and not node.text and not node.quoted
        place = at if is_empty else refusal.place
        reading.faults.append(Fault(refusal.rule, place, refusal.message, refusal.mend, subject=name))
    reading.has_lost_values = True
    return None, False


def first_scalar(node: Node) -> Place:
    """Place of what a node begins with: a mapping's first key, a list's first value, the value itself.

    A fault of a whole mapping or list is shown there, since a block of many lines cannot be underlined.
    """
    while not isinstance(node, Scalar):
        inner = [each.key for each in node.entries.values()] if isinstance(node, Mapping) else node.items
        if not inner:
            break
        node = inner[0]
    return node.place


@frozen
class RecordOf(Kind):
    """A mapping with declared keys; or, where the record has a shorthand, that one value alone."""

    record: type[Record]

    def read(self, node: Node, reading: Reading) -> Record:
        """The record; it is refused when a required key is missing or unreadable."""
        return self.read_named(node, reading, "", first_scalar(node))

    def read_named(self, node: Node, reading: Reading, name: str, at: Place) -> Record:
        """The record that stands under the key `name` at `at`.

        Raises:
            Refusal: the node is no such mapping, or a required key is missing.
            AlreadyTold: a required key could not be read.
        """
        record = self.record
        keys = keys_of(record)
        if not isinstance(node, Mapping):
            node = self._spelled_out(node)
        values: dict[str, Any] = {"name": name, "place": at}
        places: dict[str, Place] = {}
        misspelled: set[str] = set()
        lost = False
        for text, entry in node.entries.items():
            declared = keys.get(text)
            if declared is None:
                reading.faults.append(self._unknown(entry, keys))
                misspelled.add(nearest(text, keys) or "")
                others = [each for each in keys if each not in node.entries]
                meant = likeliest(text, others, most=_LONG_SLIP if len(text) >= _LONG else LIKELY)
                if meant is None:
                    continue
                # What stands there is read, so that nothing that names it is told besides.
                declared = keys[meant]
            field_name, key = declared
            value, is_good = take(key.kind, entry.value, reading, entry.key.place)
            if is_good:
                values[field_name] = value
                places[field_name] = entry.value.place
            elif key.is_required:
                lost = True
        absent = [key.name for _, key in keys.values() if key.is_required and key.name not in node.entries]
        missing = [each for each in absent if each not in misspelled]
        if missing:
            self._refuse_missing(missing, name, node, at)
        if lost or absent:
            # Its own fault is already told; a record without what it needs would only breed false ones.
            raise AlreadyTold
        return record(**values, places=places)

    def _spelled_out(self, node: Node) -> Mapping:
        record = self.record
        keys = keys_of(record)
        if isinstance(node, Scalar) and not node.text and not node.quoted and not record.shorthand:
            return Mapping({}, node.place)
        if record.shorthand:
            short = next(each for field_name, each in keys.values() if field_name == record.shorthand)
            if isinstance(short.kind, ListOf) or not isinstance(node, Sequence):
                return Mapping({short.name: Entry(Scalar(short.name, node.place), node)}, node.place)
        raise Refusal(
            node.place,
            f"{record.noun.capitalize()} is written as a mapping here.",
            "write key: value pairs, such as " + ", ".join(f"{name}: ..." for name in list(keys)[:3]),
        )

    def _unknown(self, entry: Entry, keys: Iterable[str]) -> Fault:
        key, value = entry.key, entry.value
        message = f"{key.text} is no key of {self.record.noun}."
        mend = did_you_mean(key.text, keys)
        if key.text[:1].isdecimal() and isinstance(value, Scalar) and not value.text and not value.quoted:
            # {length: 14,5 in} reads as length: 14 and a key `5 in`.
            mend = "write a decimal point, if this was meant as one number: a comma ends the value before it"
        first, _, rest = key.text.partition(" ")
        if first in keys and rest and isinstance(value, Scalar) and not value.text and not value.quoted:
            # {title engine block} lacks its colon.
            mend = f"write the colon: {first}: {rest}"
        return Fault("unknown-key", key.place, message, mend, subject=key.text)

    def _refuse_missing(self, missing: list[str], name: str, node: Mapping, at: Place) -> None:
        subject = f"{name} ({self.record.noun})" if name else self.record.noun.capitalize()
        listed = ", ".join(missing)
        raise Refusal(at if at.file else node.place, f"{subject} has no {listed}.", f"add {listed}", "missing-key")

    def words(self) -> str:
        """For the reference page: the record's name, with its shorthand."""
        record = self.record
        link = f"[{record.noun}](#{anchor(record)})"
        if not record.shorthand:
            return link
        short = next(each for field_name, each in keys_of(record).values() if field_name == record.shorthand)
        return f"{link}, or its `{short.name}` alone"

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """A reference to the record's own definition, added on first use."""
        record = self.record
        name = record.__name__
        if name not in definitions:
            definitions[name] = {}
            keys = [key for _, key in keys_of(record).values()]
            definitions[name] = self._definition(keys, definitions)
        return {"$ref": f"#/$defs/{name}"}

    def _definition(self, keys: list[Key], definitions: dict[str, Schema]) -> Schema:
        record = self.record
        properties = {key.name: key.kind.schema(definitions) | {"description": key.meaning} for key in keys}
        required = [key.name for key in keys if key.is_required]
        whole: Schema = {"type": "object", "additionalProperties": False, "properties": properties}
        if required:
            whole["required"] = required
        if record.shorthand:
            short = next(each for field_name, each in keys_of(record).values() if field_name == record.shorthand)
            return {"anyOf": [whole, short.kind.schema(definitions)]}
        return whole if required else {"anyOf": [whole, {"type": "null"}]}


def heading(record: type[Record]) -> str:
    """The heading of a record on the reference page: its noun without the article."""
    article, _, noun = record.noun.partition(" ")
    return noun if article in ("a", "an", "the") else record.noun


def anchor(record: type[Record]) -> str:
    """The heading of a record on the reference page as a link target, as Markdown readers make it."""
    return re.sub(r"[^a-z0-9 -]", "", heading(record).lower()).replace(" ", "-")


def records_under(root: type[Record]) -> list[type[Record]]:
    """All record classes that a file of `root` can hold: root first, then depth first in the order of the keys."""
    found: dict[type[Record], None] = {}
    waiting = [root]
    while waiting:
        record = waiting.pop()
        if record not in found:
            found[record] = None
            waiting += reversed([inner for _, key in keys_of(record).values() for inner in _records_in(key.kind)])
    return list(found)


def _records_in(kind: Kind) -> list[type[Record]]:
    while isinstance(kind, MapOf | ListOf):
        kind = kind.value
    if isinstance(kind, EitherRecord):
        return [kind.named.record, kind.own.record]
    return [kind.record] if isinstance(kind, RecordOf) else []


@frozen
class EitherRecord(Kind):
    """A record of its own, or one that names what stands elsewhere: that by its shorthand alone, or with that key."""

    named: RecordOf
    own: RecordOf

    def read(self, node: Node, reading: Reading) -> Record:
        """The record of the kind that is written.

        Raises:
            Refusal: it is neither, or a required key is missing.
            AlreadyTold: a required key could not be read.
        """
        return self._which(node).read(node, reading)

    def _which(self, node: Node) -> RecordOf:
        if isinstance(node, Mapping):
            return self.named if self._key_name() in node.entries else self.own
        return self.named if isinstance(node, Scalar) and node.text else self.own

    def _key_name(self) -> str:
        record = self.named.record
        return next(each.name for field_name, each in keys_of(record).values() if field_name == record.shorthand)

    def words(self) -> str:
        """For the reference page."""
        return f"{self.own.words()}, or {self.named.words()}"

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """Either of the two."""
        return {"anyOf": [self.named.schema(definitions), self.own.schema(definitions)]}


@frozen
class MapOf(Kind):
    """Names with a value each, in the order of the file."""

    value: Kind
    what: str = "name"
    pattern: str = NAME_PATTERN

    def read(self, node: Node, reading: Reading) -> dict[str, Any]:
        """The values by name; those that cannot be read are left out and told.

        Raises:
            Refusal: there is no mapping here.
        """
        if isinstance(node, Scalar) and not node.text and not node.quoted:
            return {}
        if not isinstance(node, Mapping):
            raise Refusal(node.place, f"Each {self.what} is written as a key here.", f"write {self.what}: value")
        result: dict[str, Any] = {}
        for text, entry in node.entries.items():
            value, is_good = self._one(entry, reading)
            if is_good:
                result[text] = value
        return result

    def _one(self, entry: Entry, reading: Reading) -> tuple[Any, bool]:
        try:
            check_name(entry.key, self.what, self.pattern)
        except Refusal as refusal:
            reading.faults.append(Fault(refusal.rule, refusal.place, refusal.message, refusal.mend))
            reading.has_lost_values = True
            return None, False
        return take(self.value, entry.value, reading, entry.key.place, entry.key.text)

    def words(self) -> str:
        """For the reference page."""
        return f"{self.what}: {self.value.words()}"

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """An object with any names."""
        return {"type": ["object", "null"], "additionalProperties": self.value.schema(definitions)}


@frozen
class ListOf(Kind):
    """Values in order; one value alone may stand without the brackets."""

    value: Kind

    def read(self, node: Node, reading: Reading) -> tuple[Any, ...]:
        """The values; those that cannot be read are left out and told."""
        items = node.items if isinstance(node, Sequence) else [node]
        if isinstance(node, Scalar) and not node.text and not node.quoted:
            return ()
        taken = (take(self.value, item, reading, first_scalar(item)) for item in items)
        return tuple(value for value, is_good in taken if is_good)

    def words(self) -> str:
        """For the reference page."""
        return f"{self.value.words()}, or a list of them"

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """One value or an array; empty means none."""
        one = self.value.schema(definitions)
        return {"anyOf": [one, {"type": "array", "items": one}, {"type": "null"}]}
