"""Changes of a design's text at places of its files, with everything around them left as the builder wrote it."""

import re
from collections.abc import Callable, Iterable, Mapping

from harnessgen.measures.frozen import frozen
from harnessgen.rules.examine import Examination
from harnessgen.source.place import Place

Run = Callable[[Mapping[str, str]], Examination]
"""Runs the line on a design of which some files have another text: the new texts by the names of their files."""

_PLAIN = re.compile(r"(?P<quote>['\"]?)(?P<number>[0-9./]+)(?P<blank>\s*)(?P<unit>[A-Za-z][^'\"\s]*)?(?P=quote)")


@frozen
class Change:
    """The text that is to stand at `place`; a place of no length is a gap, in which the text is put in."""

    place: Place
    text: str


class OverlappingChanges(ValueError):
    """Two changes that differ want to write the same stretch of a file."""


def changed_texts(texts: Mapping[str, str], changes: Iterable[Change]) -> dict[str, str]:
    """The new text of each file that changes, by name; a number is spelled as the one that stood there.

    Several changes that say the same of one place count once; gaps at one place are filled in the order given.

    Raises:
        KeyError: a change is for a file that is not among `texts`.
        OverlappingChanges: two changes that differ overlap.
    """
    by_file: dict[str, dict[tuple[int, int, str], None]] = {}
    for change in changes:
        at = change.place
        by_file.setdefault(at.file, {})[at.start, at.end, change.text] = None
    return {file: _changed(texts[file], wanted) for file, wanted in by_file.items()}


def _changed(text: str, wanted: Iterable[tuple[int, int, str]]) -> str:
    pieces: list[str] = []
    done = 0
    for start, end, new in sorted(wanted, key=lambda each: each[:2]):
        if start < done:
            raise OverlappingChanges(f"two changes overlap at offset {start}")
        pieces += [text[done:start], in_the_same_spelling(new, text[start:end])]
        done = end
    return "".join((*pieces, text[done:]))


def in_the_same_spelling(text: str, typed: str) -> str:
    """`text` (a number and its unit) as the builder spells the unit in `typed`; else `text` as it is.

    A size of `0.5 mm2` becomes `0.5` where a bare number stood; `0.5mm2` where no blank did; quotation marks stay.
    """
    new, old = _PLAIN.fullmatch(text), _PLAIN.fullmatch(typed)
    if new is None or old is None or not new["unit"]:
        return text
    unit = old["unit"] or ""
    # A bare size is of its family's system; a bare length may be in inches.
    is_same = unit.replace("²", "2") == new["unit"] if unit else new["unit"] in ("mm2", "AWG")
    if not is_same:
        return text
    return f"{old['quote']}{new['number']}{old['blank'] if unit else ''}{unit}{old['quote']}"
