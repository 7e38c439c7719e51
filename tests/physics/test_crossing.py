"""The search for a root: plain false position creeps along a curved function, this one must not."""

from collections.abc import Callable

import pytest

from harnessgen.physics.heat.single_wire import crossing

# x^10 - 1 between 0 and 1.3 is the textbook case in which false position creeps (Chapra and Canale, Numerical Methods
# for Engineers, example 5.6, from memory); turned about, the other end stays.
CURVED: dict[str, tuple[Callable[[float], float], float]] = {
    "low end creeps": (lambda x: x**10 - 1.0, 1.0),
    "high end creeps": (lambda x: 1.0 - (1.3 - x) ** 10, 0.3),
}


@pytest.mark.parametrize("name", CURVED)
def test_a_strongly_curved_function_is_crossed_in_few_steps(name: str) -> None:
    """The root to 1e-12, with at most 40 values of the function; plain false position takes more than 100."""
    excess, root = CURVED[name]
    asked: list[float] = []

    def counted(x: float) -> float:
        asked.append(x)
        return excess(x)

    assert crossing(counted, 0.0, 1.3) == pytest.approx(root, abs=1e-12)
    assert len(asked) <= 40
    assert all(0.0 <= x <= 1.3 for x in asked)


def test_an_end_that_is_the_root_is_returned() -> None:
    """Nothing to search: the end itself."""
    assert crossing(lambda x: x, 0.0, 1.0) == 0.0
    assert crossing(lambda x: x - 1.0, 0.0, 1.0) == 1.0
