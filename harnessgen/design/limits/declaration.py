"""How a limit is declared: a key of the file that carries its own default and the source of that default."""

from dataclasses import field
from functools import partial
from typing import Any

from harnessgen.evidence.publication import Publication
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity, parse_quantity, parse_tolerance
from harnessgen.source.key import Key
from harnessgen.source.kind import Choice, Count, Reading
from harnessgen.source.measure_kind import Measure
from harnessgen.source.reader import Node

HEAT_BALANCE = "heat-balance"
AIR = "air"
METHODS = (HEAT_BALANCE, "boat-table", "aircraft-curves", "space-derating")


@frozen
class DefaultLimit:
    """A limit that holds unless the design sets another: its value in its base unit, and where that comes from."""

    value: Quantity
    unit: str
    source: Publication


@frozen
class LimitKey(Key):
    """A key of the limits: `default` for a quantity or a count, `word` for a choice."""

    default: DefaultLimit | None = None
    word: str = ""
    of_a_circuit: bool = False
    """Whether a circuit may set it for itself: then each stage has to ask a wire's own table first."""


@frozen
class Counted(Count):
    """A whole number that is calculated with as other limits are."""

    def read(self, node: Node, reading: Reading) -> Any:
        """The number as a quantity.

        Raises:
            Refusal: it is no whole number within its bounds.
        """
        return Quantity(float(Count.read(self, node, reading)))


def declared(
    name: str,
    kind: Measure | Counted,
    default: str,
    meaning: str,
    source: Publication,
    *,
    of_a_circuit: bool = False,
) -> Any:
    """Declare a field of the limits as the key `name`; `default` is written as a design would write it."""
    if isinstance(kind, Counted):
        held = DefaultLimit(Quantity(float(int(default))), "1", source)
    else:
        parse = parse_tolerance if kind.only_tolerance else partial(parse_quantity, may_cover=kind.may_cover)
        held = DefaultLimit(parse(default, kind.dimension), kind.dimension.base, source)
    key = LimitKey(name, kind, meaning, False, default, held, "", of_a_circuit)
    return field(metadata={"key": key}, default=None)


def chosen_word(name: str, words: tuple[str, ...], meaning: str, *, of_a_circuit: bool = False) -> Any:
    """Declare a limit that is one of `words`; the first holds where the design says nothing."""
    key = LimitKey(name, Choice(words), meaning, False, f"`{words[0]}`", None, words[0], of_a_circuit)
    return field(metadata={"key": key}, default=None)
