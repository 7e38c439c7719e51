"""YAML text to a tree of texts that know their places.

Only the structure of YAML is used: every scalar stays the text that was typed (`on`, `010`, `1:30` too), because only
the table of keys knows what it should be. Anchors, aliases, tags and merge keys are refused: banks repeat, and a reader
of the file should see each value where it stands.
"""

import gc
import re
from collections.abc import Iterator
from collections.abc import Mapping as NamesTo
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from typing import Any

import yaml

from harnessgen.measures.frozen import frozen
from harnessgen.source.characters import named, unprintable
from harnessgen.source.fault import Fault
from harnessgen.source.place import Place
from harnessgen.source.syntax_words import UNCLOSED_QUOTE, lone_quote, problem_in_words


def fastest_parser() -> Any:
    """The parser of libyaml where PyYAML was built with it; the plain one else, which refuses tabs between words."""
    return getattr(yaml, "CSafeLoader", yaml.SafeLoader)


_Parser = fastest_parser()
_MOST_LEVELS = 40
MOST_VALUES = 1_000_000
"""Most keys, values, lists and mappings of a design, all files together: some four times those of a whole vehicle."""


@dataclass(slots=True)
class Scalar:
    """One value as typed; `quoted` when it stood in quotes or a block, `is_refused` when a fault on it is told."""

    text: str
    place: Place
    quoted: bool = False
    is_refused: bool = False


@dataclass(slots=True)
class Entry:
    """One line of a mapping."""

    key: Scalar
    value: "Node"


@dataclass(slots=True)
class Mapping:
    """Keys with their values in the order of the file; a second use of a key is a fault and is left out."""

    entries: dict[str, Entry]
    place: Place


@dataclass(slots=True)
class Sequence:
    """Values in order."""

    items: list["Node"]
    place: Place


Node = Scalar | Mapping | Sequence


@frozen
class Tree:
    """What a text holds: its root (None for an empty or broken text), and the faults met on the way."""

    root: Node | None
    faults: tuple[Fault, ...]
    is_broken: bool
    """True when the text ended early in a syntax error."""
    top: NamesTo[str, Entry]
    """What the mapping at its root holds; of a broken text, what was read before the break."""
    values: int
    """Number of keys, values, lists and mappings read."""


def read_tree(file: str, text: str, most_values: int = MOST_VALUES) -> Tree:
    """Read the YAML `text` of the file named `file`; faults are returned, never raised."""
    # A byte order mark is no part of the text, but offsets count it.
    shift = 1 if text.startswith("\ufeff") else 0
    builder = _NodeBuilder(file, shift)
    unseen = unprintable(text, shift)
    if unseen is not None:
        return _unseen(builder, text, unseen)
    with _collector_paused():
        try:
            return builder.build(text[shift:], most_values)
        except yaml.MarkedYAMLError as error:
            return _broken(builder, text, error)


def _unseen(builder: "_NodeBuilder", text: str, offset: int) -> Tree:
    """The text breaks at a character that cannot stand in it; what stands before it is read, to know what it is of."""
    line_start = max(text.rfind("\n", 0, offset), text.rfind("\r", 0, offset)) + 1
    before = _NodeBuilder(builder.file, builder.shift)
    with suppress(yaml.YAMLError), _collector_paused():
        before.build(text[builder.shift : line_start])
    builder.top, builder.values = before.top, before.values
    problem = f"the character {named(text[offset])} cannot stand in a text file"
    return builder.broken(_point(builder.file, text, offset), problem)


def _broken(builder: "_NodeBuilder", text: str, error: yaml.MarkedYAMLError) -> Tree:
    marks = [mark.index + builder.shift for mark in (error.problem_mark, error.context_mark) if mark is not None]
    failed, began = marks[0], marks[-1]
    lone = lone_quote(text, failed)
    if lone is not None:
        # What follows a lone quotation mark fails far below it, at the next one or at the end.
        is_far = text.count("\n", lone, failed) > 0 and text[failed:].strip(" \r\n")
        read_to = (_point(builder.file, text, failed), "up to here it was read as part of the quoted text")
        return builder.broken(_point(builder.file, text, lone), UNCLOSED_QUOTE.words, read_to if is_far else None)
    line_before = text[:failed].splitlines()[-1] if failed and text[failed - 1] not in "\r\n" else ""
    problem = problem_in_words(error.problem or "", line_before, text[failed : failed + 1])
    # A piece that runs to the end of the text fails behind its last line, where nothing stands to point at.
    is_at_start = problem.is_at_start or not text[failed:].strip(" \r\n")
    if problem.start and not is_at_start and text.count("\n", began, failed):
        # A mapping or a list in brackets mostly stands on one line: the line that opens it is the one to mend.
        stopped = (_point(builder.file, text, failed), "it was read on to here")
        where = _point(builder.file, text, began)
        return builder.broken(where, f"{problem.words}, of what opens here", stopped)
    offset = began if is_at_start else failed
    also = (_point(builder.file, text, began), problem.start) if problem.start and not is_at_start else None
    return builder.broken(_point(builder.file, text, offset), problem.words, also)


def _point(file: str, text: str, offset: int) -> Place:
    lines = re.split(r"\r\n|\r|\n", text[:offset])
    line, column = len(lines), len(lines[-1].removeprefix("\ufeff")) + 1
    return Place(file, offset, offset + 1, line, column, line, column + 1)


@contextmanager
def _collector_paused() -> Iterator[None]:
    # Half of the reading time of a large file is the cyclic collector walking a tree that only grows.
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


class _NodeBuilder:
    """Turns the parser's events into nodes, with a stack of our own."""

    def __init__(self, file: str, shift: int) -> None:
        self.file = file
        self.shift = shift
        self.faults: list[Fault] = []
        self.top: dict[str, Entry] = {}
        self.values = 0

    def broken(self, place: Place, problem: str, also: tuple[Place, str] | None = None) -> Tree:
        mend = "mend the line; what follows it could not be read"
        self.faults.append(Fault("syntax", place, f"The text cannot be read here: {problem}.", mend, also))
        return Tree(None, tuple(self.faults), is_broken=True, top=self.top, values=self.values)

    def build(self, text: str, most_values: int = MOST_VALUES) -> Tree:
        parser = _Parser(text)
        root: Node | None = None
        documents = 0
        stack: list[Mapping | Sequence] = []
        keys: list[Scalar | None] = []
        last = _point(self.file, "", 0)
        while (event := parser.get_event()) is not None:
            kind = type(event)
            if kind is yaml.ScalarEvent:
                node: Node = self._scalar(event, last)
                self._refuse_marks(event)
            elif kind is yaml.MappingStartEvent or kind is yaml.SequenceStartEvent:
                self._refuse_marks(event)
                place = self._place(event)
                opened: Mapping | Sequence = (
                    Mapping({}, place) if kind is yaml.MappingStartEvent else Sequence([], place)
                )
                if not stack and isinstance(opened, Mapping) and documents == 1:
                    self.top = opened.entries
                if len(stack) >= _MOST_LEVELS:
                    return self.broken(place, f"it is nested more than {_MOST_LEVELS} levels deep")
                stack.append(opened)
                keys.append(None)
                continue
            elif kind is yaml.MappingEndEvent or kind is yaml.SequenceEndEvent:
                node = stack.pop()
                keys.pop()
                node.place = self._closed(node.place, event, last)
            elif kind is yaml.AliasEvent:
                node = self._refused_alias(event)
            else:
                if kind is yaml.DocumentStartEvent:
                    documents += 1
                    if documents == 2:
                        message = "A second document begins here; a file holds one."
                        self.faults.append(Fault("syntax", self._place(event), message, "take the line --- out"))
                continue
            last = node.place
            self.values += 1
            if self.values > most_values:
                return self.broken(last, f"a design holds at most {MOST_VALUES:,} values, and this is one more")
            if not stack:
                root = node if documents == 1 else root
                continue
            self._attach(stack[-1], keys, node)
        return Tree(root, tuple(self.faults), is_broken=False, top=self.top, values=self.values)

    def _attach(self, parent: Mapping | Sequence, keys: list[Scalar | None], node: Node) -> None:
        if isinstance(parent, Sequence):
            parent.items.append(node)
            return
        key = keys[-1]
        if key is None:
            if not isinstance(node, Scalar):
                self.faults.append(
                    Fault(
                        "syntax", node.place, "A list or a mapping stands where a key is needed.", "write a plain key"
                    )
                )
                node = Scalar("", node.place, is_refused=True)
            elif node.text == "<<" and not node.quoted:
                mend = "write the keys out; a bank repeats a leg for many loads"
                self.faults.append(Fault("alias-or-tag", node.place, "A merge key (<<) stands here.", mend))
                node.is_refused = True
            keys[-1] = node
            return
        keys[-1] = None
        if key.is_refused:
            return
        first = parent.entries.setdefault(key.text, Entry(key, node))
        if first.key is not key:
            self.faults.append(
                Fault(
                    "duplicate-key",
                    key.place,
                    f"{key.text} is written twice in the same place.",
                    "keep one of the two, or give one another name",
                    also=(first.key.place, f"{key.text} stands here first"),
                    subject=key.text,
                )
            )

    def _refuse_marks(self, event: yaml.NodeEvent) -> None:
        tag = getattr(event, "tag", None)
        if event.anchor is None and (tag is None or tag == "!"):
            return
        what = f"An anchor (&{event.anchor})" if event.anchor is not None else f"A tag ({tag})"
        mend = "take it out; every value is written where it is used, and its key says what it is"
        self.faults.append(Fault("alias-or-tag", self._place(event), f"{what} stands before this value.", mend))

    def _refused_alias(self, event: yaml.AliasEvent) -> Scalar:
        place = self._place(event)
        message = f"An alias (*{event.anchor}) stands for a value written elsewhere."
        mend = "write the value itself; a bank repeats a leg for many loads"
        self.faults.append(Fault("alias-or-tag", place, message, mend))
        return Scalar("", place, is_refused=True)

    def _place(self, event: yaml.Event) -> Place:
        start, end = event.start_mark, event.end_mark
        # PyYAML types the marks as optional; its parsers always set them.
        assert start is not None
        assert end is not None
        return Place(
            self.file,
            start.index + self.shift,
            end.index + self.shift,
            start.line + 1,
            start.column + 1,
            end.line + 1,
            end.column + 1,
        )

    def _scalar(self, event: yaml.ScalarEvent, last: Place) -> Scalar:
        place = self._place(event)
        if not event.value and not event.style and place.start == place.end:
            # Parsers differ on where a value stands that is not there; it is behind what stands before it.
            place = place._replace(
                start=last.end, end=last.end, line=last.end_line, column=last.end_column,
                end_line=last.end_line, end_column=last.end_column,
            )  # fmt: skip
        scalar = Scalar(event.value, place, bool(event.style))
        # Only between double quotes a character can be written by its number.
        unseen = unprintable(event.value) if event.style == '"' else None
        if unseen is not None:
            message = f"This text holds the character {named(event.value[unseen])}, which cannot be seen in print."
            self.faults.append(Fault("bad-value", place, message, "take it out"))
            scalar.is_refused = True
        return scalar

    def _closed(self, place: Place, event: yaml.Event, last: Place) -> Place:
        closed = self._place(event)
        # Without a closing bracket parsers go on over blank lines and remarks; the last thing inside is the end.
        end = last if closed.start == closed.end else closed
        return place._replace(end=end.end, end_line=end.end_line, end_column=end.end_column)
