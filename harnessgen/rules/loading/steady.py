"""The highest steady current of an element over the states, leaving out shorts and moments."""

from collections.abc import Iterator

from harnessgen.network.electrical import Element
from harnessgen.physics.physics import Physics


def steady(physics: Physics, element: Element) -> Iterator[tuple[float, str]]:
    """Current of `element` in each lasting state, in A, and the state."""
    return ((abs(point.amperes[element.name]), state) for state, point in physics.lasting.items())


def highest_steady(physics: Physics, element: Element) -> tuple[float, str]:
    """Highest current of `element` in a lasting state, in A, and the first such state; (0, '') where none flows."""
    return max(steady(physics, element), key=lambda each: each[0], default=(0.0, ""))
