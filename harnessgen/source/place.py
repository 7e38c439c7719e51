"""Where a piece of a file stands."""

from typing import NamedTuple

from harnessgen.source.characters import visible_name


class Place(NamedTuple):
    """A stretch of one file: offsets in characters from 0, lines and columns from 1, the end one past the last.

    `pattern` says which bank's pattern the value was expanded from, and for which load; empty for what was typed.
    """

    file: str
    start: int
    end: int
    line: int
    column: int
    end_line: int
    end_column: int
    pattern: str = ""

    def __str__(self) -> str:
        """As compilers print it: `designs/six.yaml:41:52`."""
        return f"{visible_name(self.file)}:{self.line}:{self.column}"


NOWHERE = Place("", 0, 0, 0, 0, 0, 0)
"""The place of what no file says, such as a default."""
