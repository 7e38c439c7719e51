"""A grommet explained: where it sits, what goes through it, and what it has to be on before."""

from collections.abc import Iterator, Mapping

from harnessgen.evidence.derivation import Derivation
from harnessgen.explain.thing import Fact, Thing
from harnessgen.explain.written import written_facts
from harnessgen.lengths.bundles.grommets import Passage, hole_sides, passages
from harnessgen.lengths.bundles.slide_order import SlideOn, slide_over
from harnessgen.measures.quantity import plain_number, tolerance_text
from harnessgen.network.fixings import fixings_on, stretches_of
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics


def grommet_names(network: Network) -> tuple[str, ...]:
    """The grommets of a design, in the order of the route."""
    return tuple(name for legs in stretches_of(network) for name in legs[0].stretch.grommets)


def grommet_thing(physics: Physics, name: str, texts: Mapping[str, str]) -> Thing:
    """A grommet by its name."""
    network = physics.network
    leg = next(legs[0] for legs in stretches_of(network) if name in legs[0].stretch.grommets)
    fixing = next(each for each in fixings_on(network, leg) if each.name == name)
    grommet = leg.stretch.grommets[name]
    assert fixing.place is not None
    shown = f"{plain_number(fixing.place.value, 1)} {tolerance_text(fixing.place)}".strip()
    facts = [*written_facts(grommet, texts), Fact("on", f"{leg.name}, {shown} mm from {fixing.datum}")]
    numbers: list[Derivation] = []
    passage = next((each for each in passages(network) if each.grommet is grommet), None)
    if passage is not None:
        facts += _passing(network, passage)
        numbers.append(passage.bundle.diameter.derivation)
    return Thing(name, "grommet", grommet.title, grommet.place, tuple(facts), tuple(numbers))


def _passing(network: Network, passage: Passage) -> Iterator[Fact]:
    bundle, grommet = passage.bundle, passage.grommet
    yield Fact("wires through it", ", ".join(wire.mark for wire in bundle.wires))
    over = f" over {bundle.covering.name}" if bundle.covering is not None else ""
    yield Fact("bundle in it", f"{plain_number(passage.needed_mm, 1)} mm{over}")
    slide = slide_over(network, [passage.leg], grommet.name, grommet.bore_mm.value, covers_splices=False)
    if slide is not None:
        yield Fact("goes on", "at any time: it is slit" if grommet.split == "yes" else _before(slide))
    if grommet.hole_mm is not None:
        for side in hole_sides(network, passage):
            named = ", ".join(f"{each.node} ({plain_number(each.needed_mm, 1)} mm)" for each in side.barred)
            yield Fact(f"through its hole towards {side.point}", f"not {named}" if named else "all that is finished")


def _before(slide: SlideOn) -> str:
    nodes = ", ".join(dict.fromkeys(each.node for each in slide.blocked))
    if not nodes:
        return f"from {slide.side}, at any time: it passes all that is finished there"
    return f"from {slide.side}, before {nodes} {'is' if ', ' not in nodes else 'are'} finished"
