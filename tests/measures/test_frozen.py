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
