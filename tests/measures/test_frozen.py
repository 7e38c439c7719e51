"""Values made quickly behave as frozen dataclasses do."""

from dataclasses import FrozenInstanceError, dataclass, field, replace

import pytest

from harnessgen.measures.frozen import frozen


@frozen
class Fast:
    """Made by `frozen`."""

    a: int
    b: tuple[int, ...] = ()
    c: float = field(default=0.0, compare=False)


@dataclass(frozen=True, slots=True)
class Plain:
    """Made by the standard library."""

    a: int
    b: tuple[int, ...] = ()
    c: float = field(default=0.0, compare=False)


@frozen
class FastOne:
    """Made by `frozen`, with one field."""

    a: float


@dataclass(frozen=True, slots=True)
class PlainOne:
    """Made by the standard library, with one field."""

    a: float


@pytest.mark.parametrize("kind", [FastOne, PlainOne])
def test_a_value_of_one_field_is_more_than_that_field(kind: type[FastOne]) -> None:
    """Unequal to it, with a hash of its own, and equal to itself where the field is not."""
    assert kind(2.0) == kind(2.0)
    assert kind(2.0) != 2.0
    assert hash(kind(2.0)) == hash((2.0,))
    nothing = float("nan")
    assert kind(nothing) == kind(nothing)


@pytest.mark.parametrize("kind", [Fast, Plain])
def test_values_compare_hash_print_and_change_alike(kind: type[Fast]) -> None:
    """Equal by what counts, unequal to another class, one hash, the standard form in print, and never changed."""
    one, same, other = kind(1, (2,), 3.0), kind(1, (2,), 4.0), kind(2, (2,))
    assert one == same
    assert hash(one) == hash(same)
    assert one != other
    assert one != (1, (2,))
    assert repr(one) == f"{kind.__name__}(a=1, b=(2,), c=3.0)"
    assert replace(one, a=2) == other
    with pytest.raises(FrozenInstanceError):
        one.a = 5  # type: ignore[misc]
    with pytest.raises((AttributeError, TypeError)):
        one.__dict__  # noqa: B018
