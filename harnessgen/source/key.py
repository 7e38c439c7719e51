"""Keys, declared once: the field of a record that holds the value, its kind and one line of meaning.

A record class is a frozen dataclass whose fields are made by `key(...)`. Reading a file, the JSON Schema, the reference
page and the near-name hints all come from these declarations.
"""

import dataclasses
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, ClassVar, TypeVar, dataclass_transform

from harnessgen.measures.frozen import frozen
from harnessgen.source.place import NOWHERE, Place

if TYPE_CHECKING:
    from harnessgen.source.kind import Kind

_MISSING: Any = object()
_T = TypeVar("_T")


@frozen
class Key:
    """One key of the file: its name there, the kind of its value, what it means, and whether it has to stand."""

    name: str
    kind: "Kind"
    meaning: str
    is_required: bool
    default_words: str


def key(
    name: str,
    kind: "Kind",
    meaning: str,
    *,
    default: Any = _MISSING,
    factory: Callable[[], Any] | None = None,
    default_words: str = "",
) -> Any:
    """Declare a field of a record as the key `name`; with neither `default` nor `factory` the key is required.

    `factory` makes the default where it has to be a new container; `default_words` names it on the reference page.
    """
    is_required = default is _MISSING and factory is None
    metadata = {"key": Key(name, kind, meaning, is_required, default_words)}
    if is_required:
        return field(metadata=metadata)
    if factory is not None:
        return field(metadata=metadata, default_factory=factory)
    return field(metadata=metadata, default=default)


@dataclass_transform(frozen_default=True, kw_only_default=True, eq_default=False, field_specifiers=(key,))
def record(cls: type[_T]) -> type[_T]:
    """Make a class of declared keys a frozen dataclass; two records are the same only if they are one.

    Comparing and printing are left out: every class made costs a start of the program about a millisecond.
    """
    return dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)(cls)


@record
class Record:
    """What one mapping of the file says. `name` is the key under which it stood, `place` where that key stands."""

    name: str = ""
    place: Place = NOWHERE
    places: Mapping[str, Place] = field(default_factory=dict)
    """Place of the value of each field that the file gives."""

    noun: ClassVar[str] = "a record"
    """What the thing is called in a sentence."""
    shorthand: ClassVar[str] = ""
    """The field that may be written alone in place of the mapping."""
    example: ClassVar[str] = ""
    """A few lines of the file, for the reference page; a test reads them."""

    def __repr__(self) -> str:
        return f"<{self.noun} {self.name}>"

    def where(self, field_name: str) -> Place:
        """Where the value of `field_name` stands; the record's own place when the file leaves it out."""
        return self.places.get(field_name, self.place)


def keys_of(record: type[Record]) -> Mapping[str, tuple[str, Key]]:
    """Keys of a record class by their name in the file: (field name, declaration)."""
    known = _KEYS.get(record)
    if known is None:
        known = _KEYS[record] = _declared_keys(record)
    return known


_KEYS: dict[type[Record], Mapping[str, tuple[str, Key]]] = {}


def _declared_keys(record: type[Record]) -> Mapping[str, tuple[str, Key]]:
    return {
        each.metadata["key"].name: (each.name, each.metadata["key"])
        for each in dataclasses.fields(record)
        if "key" in each.metadata
    }
