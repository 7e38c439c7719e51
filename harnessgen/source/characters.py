"""Characters that no text of a design may hold: they are not seen, steer a terminal or turn the direction of reading.

Refused are controls (but for tab and line ends), format characters (zero width, bidirectional, tags), separators of
lines and paragraphs, surrogates, what Unicode has not assigned or leaves to private use, and letters without a shape.
Unicode Standard Annex 9 and Technical Report 36 say what the bidirectional ones can do to a reader.
"""

import re
import unicodedata

_FILLERS = "\u034f\u115f\u1160\u17b4\u17b5\u3164\uffa0"
"""Letters and marks that Unicode gives no shape."""
_LINE_SIGNS = "\t\n\r"


def _is_unseen(character: str) -> bool:
    kind = unicodedata.category(character)
    return (kind[0] == "C" or kind in ("Zl", "Zp") or character in _FILLERS) and character not in _LINE_SIGNS


def unprintable(text: str, start: int = 0) -> int | None:
    """Offset of the first character of `text` from `start` on that no text of a design may hold; None without one."""
    found = [text.find(each, start) for each in set(text) if _is_unseen(each)]
    return min((offset for offset in found if offset >= 0), default=None)


def code_point(character: str) -> str:
    """A character by its number: `U+202E`."""
    return f"U+{ord(character):04X}"


def named(character: str) -> str:
    """A character by its number and, where Unicode gives it one, its name: `U+202E (right-to-left override)`."""
    name = unicodedata.name(character, "").lower()
    return f"{code_point(character)} ({name})" if name else code_point(character)


def visible(text: str) -> str:
    """`text` on one line, with every character that is not seen written as its number: `a<U+202E>b`."""
    if text.isprintable():
        # Of the fillers alone this does not hold.
        return text if text.isascii() else re.sub(f"[{_FILLERS}]", lambda match: f"<{code_point(match[0])}>", text)
    flat = re.sub(f"[{_LINE_SIGNS}]", " ", text)
    return "".join(f"<{code_point(each)}>" if _is_unseen(each) else each for each in flat)


def shortened(text: str, most: int = 80) -> str:
    """`text` in at most `most` characters, cut behind its beginning where it has more."""
    return text if len(text) <= most else text[: most - 3] + "..."


def visible_name(name: str) -> str:
    """A file's name as it can be printed: bytes that are no UTF-8 as `\\xff`, unseen characters as their number."""
    if name.isascii() and name.isprintable():
        return name
    return visible(re.sub("[\udc80-\udcff]", lambda match: f"\\x{ord(match[0]) - 0xDC00:02x}", name))
