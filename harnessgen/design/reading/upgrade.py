"""What has to change in a file of an earlier format, as edits at places of its text."""

import json
import re
from collections.abc import Iterator
from collections.abc import Mapping as Said

from harnessgen.design.reading.read import FORMAT, OLD_FORMATS
from harnessgen.source.place import Place
from harnessgen.source.reader import Mapping, Scalar, read_tree


def upgrades(file: str, text: str) -> Iterator[tuple[Place, str]]:
    """Each place of the file named `file` that differs in the present format, with the text that belongs there.

    None where the file has the present format already, or is no design.
    """
    root = read_tree(file, text).root
    entry = root.entries.get("format") if isinstance(root, Mapping) else None
    if entry is not None and isinstance(entry.value, Scalar) and entry.value.text in OLD_FORMATS:
        yield entry.value.place, FORMAT


_PLAIN = re.compile(r"[0-9A-Za-z][\w .%+/²-]*")


def with_keys(text: str, value: Place, key: str, keys: Said[str, str]) -> Iterator[tuple[Place, str]]:
    """The edit that writes `keys` with their values before the key named `key` whose value stands at `value`.

    On the same line inside braces, else on lines of their own. None where there is nothing to write.
    """
    at = text.rfind(key, 0, value.start)
    if not keys or at < 0:
        return
    at -= at > 0 and text[at - 1] in "'\""
    said = [f"{name}: {each if _PLAIN.fullmatch(each) else json.dumps(each)}" for name, each in keys.items()]
    before = text[text.rfind("\n", 0, at) + 1 : at]
    # On a line of its own a key has nothing before it but blanks and the dash of its item.
    is_block = not before.strip(" -")
    gap = f"\n{' ' * len(before)}" if is_block else ", "
    yield value._replace(start=at, end=at), "".join(f"{each}{gap}" for each in said)
