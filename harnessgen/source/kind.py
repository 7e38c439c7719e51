"""Kinds of values: each reads its text, and says of itself what the reference page and the JSON Schema need."""

import re
from abc import ABC, abstractmethod
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from harnessgen.measures.frozen import frozen
from harnessgen.source.characters import shortened
from harnessgen.source.fault import Fault
from harnessgen.source.near import did_you_mean
from harnessgen.source.place import Place
from harnessgen.source.reader import Mapping as MappingNode
from harnessgen.source.reader import Node, Scalar

Schema = dict[str, Any]


class Refusal(Exception):
    """A value that its key cannot take: raised by a kind, made a fault by the record that holds the key."""

    def __init__(self, place: Place, message: str, mend: str, rule: str = "bad-value") -> None:
        super().__init__(message)
        self.place = place
        self.message = message
        self.mend = mend
        self.rule = rule


class AlreadyTold(Exception):
    """A record lacks a value whose own fault is on the list; the record is dropped without a second one."""


@frozen
class Reference:
    """A name in the file that has to exist elsewhere in the design: `target` names the collection to look in."""

    target: str
    name: str
    place: Place


@dataclass(slots=True)
class Reading:
    """What reading a file gathers: faults, names to be found, and the file's units for bare numbers."""

    units: dict[str, str] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    references: list[Reference] = field(default_factory=list)
    has_lost_values: bool = False
    """True once a value could not be taken, so that the design is not what the builder wrote."""


class End(NamedTuple):
    """One end of a wire as written: a designator and, where it has several, the cavity or terminal."""

    designator: str
    terminal: str
    place: Place

    def __str__(self) -> str:
        """As written: `C21/1`, `S1`."""
        return f"{self.designator}/{self.terminal}" if self.terminal else self.designator


class Kind(ABC):
    """What a value may be."""

    @abstractmethod
    def read(self, node: Node, reading: Reading) -> Any:
        """The typed value of `node`.

        Raises:
            Refusal: the node holds no such value.
        """

    @abstractmethod
    def words(self) -> str:
        """What may stand here, in a few words for the reference page."""

    @abstractmethod
    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """JSON Schema of the value; record kinds add themselves to `definitions`."""


def scalar_of(node: Node, wanted: str) -> Scalar:
    """`node` as a single value.

    Raises:
        Refusal: it is a list, a mapping, or empty.
    """
    if not isinstance(node, Scalar):
        what = "a mapping (key: value)" if isinstance(node, MappingNode) else "a list"
        raise Refusal(node.place, f"This is {what}; {wanted} is needed here.", f"write {wanted}")
    if not node.text.strip():
        raise Refusal(node.place, f"Nothing is written here; {wanted} is needed.", f"write {wanted}")
    return node


_SCALAR: Schema = {"type": ["string", "number", "boolean"]}


MOST_LETTERS = 300
"""Letters of a text, where its key says nothing else: three lines of a table on paper."""
MOST_LETTERS_OF_A_NAME = 60
"""Letters of a name or of one part of an end: more fits no label and no cell of a drawing."""


@frozen
class Text(Kind):
    """Any words, on one line."""

    most: int = MOST_LETTERS
    """Most letters."""

    def read(self, node: Node, reading: Reading) -> str:
        """The words on one line, without blanks around them.

        Raises:
            Refusal: nothing is written, or more than `most` letters.
        """
        scalar = scalar_of(node, "a text")
        if len(scalar.text) > self.most:
            raise _too_long(scalar, "text", self.most)
        words = scalar.text.strip()
        # A block, or a number between double quotes, can bring tabs and line ends into a text.
        return words if words.isprintable() else re.sub(r"[\t\n\r]+", " ", words)

    def words(self) -> str:
        """For the reference page."""
        return "text"

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """Any single value: YAML readers of editors take some texts for numbers."""
        return dict(_SCALAR)


def _too_long(scalar: Scalar, what: str, most: int) -> Refusal:
    message = f"This {what} has {len(scalar.text):,} letters; {most} are taken: {shortened(scalar.text, 40)!r}."
    return Refusal(scalar.place, message, f"write at most {most} letters")


NAME_PATTERN = r"[A-Za-z0-9_][A-Za-z0-9_.+-]*"


@frozen
class Name(Kind):
    """A designator, circuit number or other name without blanks."""

    what: str = "name"

    def read(self, node: Node, reading: Reading) -> str:
        """The name as typed."""
        scalar = scalar_of(node, f"a {self.what}")
        check_name(scalar, self.what)
        return scalar.text

    def words(self) -> str:
        """For the reference page."""
        return self.what

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """A text of letters, digits, and _ . + -."""
        return {"anyOf": [{"type": "string", "pattern": f"^{NAME_PATTERN}$"}, {"type": ["number", "boolean"]}]}


def check_name(scalar: Scalar, what: str, pattern: str = NAME_PATTERN) -> None:
    """Hold a name to its letters.

    Raises:
        Refusal: it has blanks, a slash or other letters that a designator cannot have.
    """
    _check_length(scalar, what)
    if re.fullmatch(pattern, scalar.text) is None:
        raise Refusal(
            scalar.place,
            f"{scalar.text!r} cannot be a {what}.",
            "use letters, digits and _ . + - (a slash parts a connector from its cavity)",
        )


def _check_length(scalar: Scalar, what: str, names: int = 1) -> None:
    most = MOST_LETTERS_OF_A_NAME * names
    if len(scalar.text) > most:
        raise _too_long(scalar, what, most)


@frozen
class Ref(Kind):
    """The name of something that stands elsewhere in the design."""

    target: str

    def read(self, node: Node, reading: Reading) -> str:
        """The name; whether it exists is seen when the whole design is there.

        Raises:
            Refusal: nothing is written, or more than a name can have.
        """
        scalar = scalar_of(node, f"the name of a {self.target}")
        _check_length(scalar, "name", 2)
        reading.references.append(Reference(self.target, scalar.text, scalar.place))
        return scalar.text

    def words(self) -> str:
        """For the reference page."""
        return f"name of a {self.target}"

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """A name."""
        return Name(self.target).schema(definitions)


@frozen
class EndOf(Kind):
    """An end of a wire: `C21/1`, `F1`, `S1`, `K1/87`, `G1`."""

    target: str = "wire end"

    def read(self, node: Node, reading: Reading) -> End:
        """Designator and terminal; whether they exist is seen when the whole design is there.

        Raises:
            Refusal: the text is no end of a wire.
        """
        scalar = scalar_of(node, "an end such as C21/1")
        _check_length(scalar, "end", 2)
        parts = scalar.text.split("/")
        if len(parts) > 2 or not all(re.fullmatch(NAME_PATTERN, part) for part in parts):
            raise Refusal(
                scalar.place,
                f"{scalar.text!r} is no end of a wire.",
                "write a connector and its cavity (C21/1), a device and its terminal (K1/87), or a splice (S1)",
            )
        end = End(parts[0], parts[1] if len(parts) == 2 else "", scalar.place)
        reading.references.append(Reference(self.target, scalar.text, scalar.place))
        return end

    def words(self) -> str:
        """For the reference page."""
        return "end (`C21/1`, `K1/87`, `S1`)"

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """A designator, with a cavity or terminal behind a slash."""
        pattern = f"^{NAME_PATTERN}(/{NAME_PATTERN})?$"
        return {"anyOf": [{"type": "string", "pattern": pattern}, {"type": ["number", "boolean"]}]}


@frozen
class Choice(Kind):
    """One of a few words."""

    choices: tuple[str, ...]

    def read(self, node: Node, reading: Reading) -> str:
        """The word.

        Raises:
            Refusal: it is not one of the choices.
        """
        scalar = scalar_of(node, "one of " + ", ".join(self.choices))
        if scalar.text not in self.choices:
            raise Refusal(
                scalar.place,
                f"{shortened(scalar.text)!r} is not one of {', '.join(self.choices)}.",
                did_you_mean(scalar.text, self.choices),
            )
        return scalar.text

    def words(self) -> str:
        """For the reference page."""
        return " or ".join(f"`{each}`" for each in self.choices)

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """An enumeration; a choice of digits may be read as a number by an editor."""
        numbers = [int(each) for each in self.choices if each.isdecimal()]
        return {"enum": [*self.choices, *numbers]}


@frozen
class Count(Kind):
    """A whole number."""

    lowest: int = 0
    highest: int = 1000

    def read(self, node: Node, reading: Reading) -> int:
        """The number.

        Raises:
            Refusal: it is no whole number within its bounds.
        """
        scalar = scalar_of(node, "a whole number")
        if not re.fullmatch(r"[0-9]{1,9}", scalar.text) or not self.lowest <= int(scalar.text) <= self.highest:
            raise Refusal(
                scalar.place,
                f"{shortened(scalar.text)!r} is no whole number from {self.lowest} to {self.highest}.",
                f"write a whole number from {self.lowest} to {self.highest}",
            )
        return int(scalar.text)

    def words(self) -> str:
        """For the reference page."""
        return f"whole number, {self.lowest} to {self.highest}"

    def schema(self, definitions: dict[str, Schema]) -> Schema:
        """An integer in its bounds."""
        return {"type": "integer", "minimum": self.lowest, "maximum": self.highest}


def names_in(words: Iterable[str]) -> str:
    """`a, b and c`."""
    listed = list(words)
    return " and ".join([", ".join(listed[:-1]), listed[-1]] if len(listed) > 1 else listed)
