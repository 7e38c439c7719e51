"""What has to change in a file of an earlier format, as edits at places of its text."""

from collections.abc import Iterator

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
