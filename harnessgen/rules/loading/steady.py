"""The highest steady current of an element over the states, leaving out what a short would draw."""

from harnessgen.network.electrical import Element
from harnessgen.physics.physics import Physics


def highest_steady(physics: Physics, element: Element) -> tuple[float, str]:
    """Highest current of `element`, in A, and the first state in which it flows; (0, '') where none does."""
    sound = ((name, point) for name, point in physics.points.items() if name not in physics.shorted)
    currents = ((abs(point.amperes[element.name]), state) for state, point in sound)
    return max(currents, key=lambda each: each[0], default=(0.0, ""))
