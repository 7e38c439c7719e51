"""The steady current of an element over the states, leaving out shorts and moments."""

from collections.abc import Iterator

from harnessgen.network.electrical import Element
from harnessgen.physics.physics import Physics

OURS_A = 1e-4
"""Below this no current of ours flows in what is the vehicle's: only what leaks."""


def steady(physics: Physics, element: Element) -> Iterator[tuple[float, str]]:
    """Current of `element` in each lasting state, in A, and the state.

    What it carries already to what is the vehicle's alone is added where any of ours flows; `in_state` says so.
    """
    beside_a = physics.carried.get(element.name) or 0.0
    for state, point in physics.lasting.items():
        ours_a = abs(point.amperes[element.name])
        yield (ours_a + beside_a if ours_a > OURS_A else ours_a), state


def highest_steady(physics: Physics, element: Element) -> tuple[float, str]:
    """Highest current of `element` in a lasting state, in A, and the first such state; (0, '') where none flows."""
    return max(steady(physics, element), key=lambda each: each[0], default=(0.0, ""))


def in_state(physics: Physics, name: str, state: str) -> str:
    """When the element `name` carries its steady current, and how much of it is the vehicle's own."""
    beside_a = physics.carried.get(name)
    return f"in state {state}" + (f", {beside_a:g} A of it to what the vehicle has already" if beside_a else "")
