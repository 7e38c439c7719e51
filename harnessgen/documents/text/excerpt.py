"""A line of a design file as it is shown at a terminal, with one stretch of it underlined."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import field

from harnessgen.measures.frozen import frozen
from harnessgen.source.characters import visible
from harnessgen.source.place import Place

_TAB = 4
_CUT = "..."


def safe(text: str) -> str:
    """`text` on one line; characters that steer a terminal or turn the direction of reading stand as their number."""
    return visible(text)


def _shown(character: str) -> str:
    return character if character.isprintable() and character.isascii() else visible(character)


def columns_of(text: str) -> int:
    """Columns that `text` takes at a terminal: wide characters take two, combining ones none."""
    return sum(_width(character) for character in text)


def _width(character: str) -> int:
    if unicodedata.combining(character):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


@frozen
class Excerpts:
    """Lines of the files by their names, split when the first of a file is asked for."""

    texts: Mapping[str, str]
    _lines: dict[str, list[str]] = field(default_factory=dict)

    def line(self, place: Place) -> str | None:
        """The line that `place` begins in; None when the file has no such line."""
        if place.file not in self._lines:
            text = self.texts.get(place.file, "").removeprefix("\ufeff")
            self._lines[place.file] = re.split(r"\r\n|\r|\n", text)
        lines = self._lines[place.file]
        return lines[place.line - 1] if 1 <= place.line <= len(lines) and place.file in self.texts else None


def underlined(line: str, place: Place, width: int) -> tuple[str, str]:
    """`line` as shown in at most `width` columns, and the carets under `place`, which begins in it.

    A stretch that runs over several lines is underlined in its first. A long line is cut around the underlined stretch.
    """
    first = min(place.column - 1, len(line))
    last = place.end_column - 1 if place.end_line == place.line else len(line.rstrip())
    last = max(min(last, len(line)), first)
    # What lies further off than this cannot be shown; a file may be one line of megabytes.
    reach = 4 * width
    before = _spread(line[max(0, first - reach) : first], 0)
    marked = _spread(line[first : min(last, first + reach)], columns_of(before))
    after = _spread(line[last : last + reach], columns_of(before + marked)).rstrip()
    before, marked, after = _window(before, marked, after, width)
    return before + marked + after, " " * columns_of(before) + "^" * max(1, columns_of(marked))


def _spread(text: str, column: int) -> str:
    """`text`, which begins at `column`, with tabs as blanks to the next stop and without steering characters."""
    shown = []
    for character in text:
        piece = " " * (_TAB - column % _TAB) if character == "\t" else _shown(character)
        shown.append(piece)
        column += columns_of(piece)
    return "".join(shown)


def _window(before: str, marked: str, after: str, width: int) -> tuple[str, str, str]:
    if columns_of(before + marked + after) <= width:
        return before, marked, after
    most = width - 2 * len(_CUT)
    if columns_of(marked) > most:
        marked, after = _head(marked, most), _CUT
    room = width - columns_of(marked)
    share = min(columns_of(after), max(len(_CUT), room // 3))
    before = before if columns_of(before) <= room - share else _CUT + _tail(before, room - share - len(_CUT))
    room -= columns_of(before)
    after = after if columns_of(after) <= room else _head(after, room - len(_CUT)) + _CUT
    return before, marked, after


def _head(text: str, width: int) -> str:
    count = 0
    for index, character in enumerate(text):
        count += _width(character)
        if count > width:
            return text[:index]
    return text


def _tail(text: str, width: int) -> str:
    return _head(text[::-1], width)[::-1]
