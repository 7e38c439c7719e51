"""The highest steady current of an element over the states, leaving out what a short would draw."""

from harnessgen.network.electrical import Element
from harnessgen.physics.physics import Physics
from harnessgen.rules.continuity.conduction import is_shorted


def highest_steady(physics: Physics, element: Element) -> tuple[float, str]:
    """Highest current of `element`, in A, and the first state in which it flows; (0, '') where none does."""
    elements = physics.network.electrical.elements
    sound = (each for each in physics.points.items() if not is_shorted(elements, each[1]))
    currents = ((abs(point.amperes[element.name]), state) for state, point in sound)
    return max(currents, key=lambda each: each[0], default=(0.0, ""))
