"""JSON Schema of a file, made from the declarations of its keys, for editors that help while a design is written.

An editor reads YAML its own way (`010` may reach it as 8), so the schema takes a number or a boolean wherever the text
of one could be meant. It helps; the reader alone decides.
"""

import inspect
from typing import Any

from harnessgen.source.container import RecordOf, heading, records_under
from harnessgen.source.key import Key, Record, keys_of
from harnessgen.source.kind import Schema

_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_ID = "urn:harnessgen:format:2"


def json_schema(root: type[Record]) -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of a file of `root`, with one definition for each record that it can hold.

    Raises:
        ValueError: two records that it can hold have the same class name, which names their definitions.
    """
    records = {record.__name__: record for record in records_under(root)}
    if len(records) != len(records_under(root)):
        raise ValueError(f"two records under {root.__name__} have the same class name")
    definitions: dict[str, Schema] = {}
    reference = RecordOf(root).schema(definitions)
    described = {name: _described(definitions[name], record) for name, record in records.items()}
    head = {"$schema": _DIALECT, "$id": _ID, "title": heading(root), "description": _first_line(root)}
    return head | reference | {"$defs": described}


def _described(definition: Schema, record: type[Record]) -> Schema:
    """`definition` with the words of the record and of its keys."""
    keys = {key.name: key for _, key in keys_of(record).values()}
    branches = definition.get("anyOf")
    if branches is not None:
        definition = {"anyOf": [_with_key_words(branch, keys) for branch in branches]}
    else:
        definition = _with_key_words(definition, keys)
    return {"title": heading(record), "description": _first_line(record)} | definition


def _with_key_words(branch: Schema, keys: dict[str, Key]) -> Schema:
    """`branch` with the meaning and the default of each key, where it is the mapping form of the record."""
    if "properties" not in branch:
        return branch
    properties = {name: schema | {"description": _words(keys[name])} for name, schema in branch["properties"].items()}
    return branch | {"properties": properties}


def _words(key: Key) -> str:
    return f"{key.meaning} Without it: {key.default_words}." if key.default_words else key.meaning


def _first_line(record: type[Record]) -> str:
    return inspect.cleandoc(record.__doc__ or "").partition("\n")[0]
