"""The highest steady current of an element over the states, leaving out shorts and moments."""

from collections.abc import Iterator

from harnessgen.network.electrical import Element
from harnessgen.physics.physics import Physics

OURS_A = 1e-4
"""Below this no current of ours flows in what is the vehicle's: only what leaks."""


def steady(physics: Physics, element: Element) -> Iterator[tuple[float, str]]:
    """Current of `element` in each lasting state, in A, and the state."""
    return ((abs(point.amperes[element.name]), state) for state, point in physics.lasting.items())


def highest_steady(physics: Physics, element: Element) -> tuple[float, str]:
    """Highest current of `element` in a lasting state, in A, and the first such state; (0, '') where none flows.

    What it carries already to what is the vehicle's alone is added where any of ours flows, and said with the state.
    """
    own_a, state = max(steady(physics, element), key=lambda each: each[0], default=(0.0, ""))
    beside_a = physics.carried.get(element.name)
    if not beside_a or own_a <= OURS_A:
        return own_a, state
    return own_a + beside_a, f"{state}, {beside_a:g} A of it to what the vehicle has already"
