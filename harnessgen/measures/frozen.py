"""Small frozen values, made quickly.

A dataclass writes and compiles six methods for each class, about a millisecond; with the hundreds of classes of this
program that was a third of the time of a check. Comparing, hashing and printing are the same for all of them.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, fields
from typing import Any, TypeVar, dataclass_transform

_T = TypeVar("_T")


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def frozen(cls: type[_T]) -> type[_T]:
    """Make a class a frozen, slotted dataclass whose instances are equal if all their fields are."""
    made = dataclass(frozen=True, slots=True, eq=False, repr=False)(cls)
    for name, method in (("__eq__", _is_equal), ("__hash__", _hash), ("__repr__", _shown)):
        if name not in cls.__dict__:
            setattr(made, name, method)
    return made


def _compared(self: Any) -> Iterator[Any]:
    return (getattr(self, each.name) for each in fields(self) if each.compare)


def _is_equal(self: Any, other: object) -> bool:
    if other.__class__ is not self.__class__:
        return NotImplemented  # type: ignore[no-any-return]
    same: bool = tuple(_compared(self)) == tuple(_compared(other))
    return same


def _hash(self: Any) -> int:
    return hash(tuple(_compared(self)))


def _shown(self: Any) -> str:
    shown = ", ".join(f"{each.name}={getattr(self, each.name)!r}" for each in fields(self) if each.repr)
    return f"{self.__class__.__qualname__}({shown})"
