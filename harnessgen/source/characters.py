"""Characters that no text of a design may hold: they are not seen, steer a terminal or turn the direction of reading.

Refused are the controls C0, DEL and C1 but for tab and line ends, the format characters of Unicode (zero width,
bidirectional, tags), its separators of lines and paragraphs, lone surrogates, noncharacters, and letters without a
shape. Unicode Standard Annex 9 and Technical Report 36 say what the bidirectional ones can do to a reader.
"""

import re
import unicodedata

_UNSEEN = (
    "\xad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\u3164\ufeff\uffa0"
    "\ufdd0-\ufdef\ufff0-\ufffb\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e0fff"
    + "".join(f"{chr(plane * 0x10000 + 0xFFFE)}{chr(plane * 0x10000 + 0xFFFF)}" for plane in range(17))
)
UNPRINTABLE_IN_ASCII = "[^\t\n\r\x20-\x7e]"
UNPRINTABLE = f"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff{_UNSEEN}]"
"""Patterns of one such character, for a text of ASCII alone and for any; the second takes longer to compile."""


def unprintable(text: str, start: int = 0) -> re.Match[str] | None:
    """The first character of `text` from `start` on that no text of a design may hold."""
    pattern = UNPRINTABLE_IN_ASCII if text.isascii() else UNPRINTABLE
    return re.compile(pattern).search(text, start)


def code_point(character: str) -> str:
    """A character by its number: `U+202E`."""
    return f"U+{ord(character):04X}"


def named(character: str) -> str:
    """A character by its number and, where Unicode gives it one, its name: `U+202E (right-to-left override)`."""
    name = unicodedata.name(character, "").lower()
    return f"{code_point(character)} ({name})" if name else code_point(character)


def visible(text: str) -> str:
    """`text` on one line, with every character that is not seen written as its number: `a<U+202E>b`."""
    if text.isascii() and text.isprintable():
        return text
    flat = re.sub(r"[\t\n\r]", " ", text)
    return re.sub(UNPRINTABLE, lambda match: f"<{code_point(match[0])}>", flat)


def shortened(text: str, most: int = 80) -> str:
    """`text` in at most `most` characters, cut behind its beginning where it has more."""
    return text if len(text) <= most else text[: most - 3] + "..."


def visible_name(name: str) -> str:
    """The name of a file as it can be printed: bytes that are no UTF-8 as `\\xff`, unseen characters as their number."""
    if name.isascii() and name.isprintable():
        return name
    return visible(re.sub("[\udc80-\udcff]", lambda match: f"\\x{ord(match[0]) - 0xDC00:02x}", name))
