"""What the rules on fuses cannot judge for want of a figure: each thing with the reason, so that it has not passed."""

from collections.abc import Iterator

from harnessgen.evidence.finding import NotExamined
from harnessgen.network.electrical import Element
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection.fuse_curve import fuse_curve
from harnessgen.rules.protection.fused import Protected, protected


def ideal_supplies(physics: Physics, fuse: Element) -> list[str]:
    """Supplies that can feed a fuse and state no inner resistance: nothing bounds what they give into a short."""
    ways = physics.network.ways
    grounds = frozenset(ways.grounds)
    feeding = dict.fromkeys(name for node in (fuse.a, fuse.b) for name in ways.poles(node, grounds)[0])
    ideal = {each.name for each in physics.network.design.supplies.values() if each.resistance_ohm.value == 0.0}
    return [name for name in feeding if name in ideal]


def unbroken(physics: Physics) -> Iterator[NotExamined]:
    """Supplies without inner resistance, and fuses whose form states no breaking capacity."""
    told: dict[str, str] = {}
    for each in _fuses(physics):
        form = physics.network.parts.fuses[each.fuse.form]
        for supply in ideal_supplies(physics, each.element):
            told[supply] = f"{supply} states no inner resistance, so that nothing bounds a short"
        if form.breaking is None:
            told[each.fuse.name] = f"{each.fuse.name}: the form {form.name} states no breaking capacity"
    return (NotExamined("breaking-capacity", reason, subject) for subject, reason in told.items())


def untimed_slow(physics: Physics) -> Iterator[NotExamined]:
    """Fuses of which nobody knows how late they open."""
    return _untimed(physics, "fuse-too-slow", "longest")


def untimed_nuisance(physics: Physics) -> Iterator[NotExamined]:
    """Fuses of which nobody knows how early they open."""
    return _untimed(physics, "fuse-nuisance", "shortest")


def _untimed(physics: Physics, rule: str, which: str) -> Iterator[NotExamined]:
    for each in _fuses(physics):
        form = physics.network.parts.fuses[each.fuse.form]
        curve = fuse_curve(each.fuse, form)
        if curve is None:
            yield NotExamined(
                rule, f"{each.fuse.name}: the form {form.name} has no published opening times", each.fuse.name
            )
        elif which == "shortest" and not curve.shortest:
            yield NotExamined(
                rule, f"{each.fuse.name}: the form {form.name} has no shortest opening times", each.fuse.name
            )


def _fuses(physics: Physics) -> list[Protected]:
    """Each fuse that has a wire behind it, once."""
    return list({each.fuse.name: each for each in protected(physics) if each.held}.values())
