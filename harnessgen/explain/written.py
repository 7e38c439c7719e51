"""What a file says of a thing, key by key, as it was typed."""

from collections.abc import Iterator, Mapping

from harnessgen.explain.thing import Fact, stated
from harnessgen.source.key import Record, keys_of

_LONGEST = 100


def written_facts(record: Record, texts: Mapping[str, str]) -> Iterator[Fact]:
    """Each value that the files give a record, as typed, with its place; a long one is cut."""
    for field_name, declared in keys_of(type(record)).values():
        place = record.places.get(field_name)
        if place is None or place.file not in texts or field_name == "title":
            continue
        typed = " ".join(texts[place.file][place.start : place.end].split())
        shown = typed if len(typed) <= _LONGEST else typed[:_LONGEST].rstrip() + " ..."
        yield stated(declared.name, shown, place)
