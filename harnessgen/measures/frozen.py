"""Small frozen values, made quickly.

A dataclass writes and compiles six methods for each class, about a millisecond; with the hundreds of classes of this
program that was a third of the time of a check. Comparing, hashing and printing are the same for all of them.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, fields
from operator import attrgetter
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


_compared_of: dict[type, Callable[[Any], tuple[Any, ...]]] = {}


def _compared(self: Any) -> tuple[Any, ...]:
    # To look for the fields of a class anew each time took most of the time of comparing.
    if self.__class__ not in _compared_of:
        _compared_of[self.__class__] = _getter([each.name for each in fields(self) if each.compare])
    return _compared_of[self.__class__](self)


def _getter(names: list[str]) -> Callable[[Any], tuple[Any, ...]]:
    if len(names) > 1:
        return attrgetter(*names)
    # Of one name the library's getter gives the bare value.
    return lambda each: tuple(getattr(each, name) for name in names)


def _is_equal(self: Any, other: object) -> bool:
    if other.__class__ is not self.__class__:
        return NotImplemented  # type: ignore[no-any-return]
    same: bool = _compared(self) == _compared(other)
    return same


def _hash(self: Any) -> int:
    return hash(_compared(self))


def _shown(self: Any) -> str:
    shown = ", ".join(f"{each.name}={getattr(self, each.name)!r}" for each in fields(self) if each.repr)
    return f"{self.__class__.__qualname__}({shown})"
