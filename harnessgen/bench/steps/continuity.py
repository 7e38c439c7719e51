"""First two phases with meter: that what belongs together is joined, and that nothing else is."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from harnessgen.bench.setup.connector_half import halves
from harnessgen.bench.setup.instruments import OHM_METER, OPEN_OHM
from harnessgen.bench.setup.path_resistance import ohm_between, way
from harnessgen.bench.setup.section_nets import SectionNet
from harnessgen.bench.setup.step import Expected, Phase, Setup, Step, TouchPlace
from harnessgen.bench.simulation.unpowered import METAL_POINT
from harnessgen.bench.steps.cautions import BATTERY_OFF, LOCAL_RULES, MATING_CONTACT, NO_ELECTRONICS
from harnessgen.network.network import HarnessSection, Network

BY_ITSELF = "The section by itself: on the bench, or in its place with its disconnects and connectors apart."
ALL_OFF = "Every terminal off its stud, device and holder; fuses, relays, loads and controller unplugged."
MOST_PAIRS = 600
"""Above this many pairs in a section they are not offered one by one."""


def continuity_setup(network: Network, section: HarnessSection) -> Setup:
    """How a section lies for continuity and isolation: by itself, everything off it."""
    return Setup(
        Phase.CONTINUITY,
        section.letter,
        f"Continuity of {section.number}",
        (
            BY_ITSELF,
            ALL_OFF,
            "Meter on ohms. Zero the leads: touch the tips together and take that reading off every later one.",
            "This tells open from closed and right from wrong place. A 0.1 ohm meter does not prove a joint: that takes"
            " a drop test under load.",
        ),
        (BATTERY_OFF, MATING_CONTACT, LOCAL_RULES),
        apart=_connectors(network, section.letter),
    )


def isolation_setup(network: Network, section: HarnessSection) -> Setup:
    """The same setup for isolation, with what it leans on said again."""
    return Setup(
        Phase.ISOLATION,
        section.letter,
        f"Isolation of {section.number}",
        (
            BY_ITSELF,
            ALL_OFF,
            "Meter on its highest ohms range, hands off the tips. Each pair shares a connector or a stretch of the"
            " route, and has to read open.",
            "The steps to metal are for the fitted section: the second tip on clean bare metal of block or body.",
        ),
        (BATTERY_OFF, NO_ELECTRONICS, MATING_CONTACT),
        apart=_connectors(network, section.letter),
    )


def _connectors(network: Network, section: str) -> tuple[str, ...]:
    return tuple(name for name, half in halves(network).items() if half.section == section)


def continuity_steps(net: SectionNet) -> Iterator[Step]:
    """From the handiest place of a net to each other place of it."""
    for place in net.places[1:]:
        first = net.places[0]
        ohm = ohm_between(net.beside, first.node, place.node)
        words = f"closed; {ohm:.3f} ohm by calculation at 20 degC"
        expected = Expected(words, ohm, "ohm", 0.0, ohm + OHM_METER.allowance(ohm))
        passed = tuple(edge.name for edge in way(net.beside, first.node, place.node))
        yield Step("", f"circuit {net.circuits}", expected, OHM_METER, first, place, passed)


def joined_setup(network: Network, section: HarnessSection) -> Setup:
    """The setup in which each circuit is tried against all others at once."""
    plain = isolation_setup(network, section)
    lines = (
        *plain.lines[:3],
        "Clip all circuits of the section together, and to clean bare metal of block or body. Take one contact after"
        " another out of the clip and read from it to the clip: open each time. A contact that was read stays out.",
    )
    return replace(plain, title=f"Isolation of {section.number}, the others clipped together", lines=lines)


def isolation_steps(nets: Sequence[SectionNet], metal: TouchPlace) -> Iterator[Step]:
    """Every pair of nets that share a connector or a part of the route, then every net to bare metal.

    Nothing where the pairs are too many to try one by one: then `joined_steps` serve.
    """
    touched = [net for net in nets if net.places]
    for one, other in sharing_pairs(touched) or ():
        action = f"circuit {one.circuits} to {other.circuits}"
        yield _apart(*_pair_places(one, other), action)
    for net in touched:
        yield _apart(net.places[0], metal, f"circuit {net.circuits} to metal")


def joined_steps(nets: Sequence[SectionNet], metal: TouchPlace) -> Iterator[Step]:
    """Each net in turn against all nets after it and bare metal, clipped together."""
    touched = [net for net in nets if net.places]
    # A choice may leave steps out, so that the clip holds what has not been read, and no number of it is promised.
    clip = TouchPlace("", "the clip", "", "", f"the clip lead, on every circuit not read yet and on {metal.name}")
    clipped = (*(net.places[0].node for net in touched), METAL_POINT)
    for index, net in enumerate(touched, start=1):
        rest = clip if index < len(touched) else TouchPlace("", metal.name, "", "", metal.reach)
        step = _apart(net.places[0], rest, f"circuit {net.circuits}, out of the clip")
        yield replace(step, joined=clipped[index:])


def sharing_pairs(nets: Sequence[SectionNet]) -> list[tuple[SectionNet, SectionNet]] | None:
    """Pairs of nets that share something, in the order of the nets; None where they are too many to try one by one."""
    users: dict[str, list[int]] = {}
    found: set[tuple[int, int]] = set()
    for index, net in enumerate(nets):
        for shared in net.shares:
            found.update((earlier, index) for earlier in users.setdefault(shared, []))
            users[shared].append(index)
        if len(found) > MOST_PAIRS:
            return None
    return [(nets[one], nets[other]) for one, other in sorted(found)]


def _pair_places(one: SectionNet, other: SectionNet) -> tuple[TouchPlace, TouchPlace]:
    """Where two nets are tried: in a connector that both have, if there is one."""
    for place in one.places:
        beside = other.place_in(place.designator)
        if beside is not None:
            return place, beside
    return one.places[0], other.places[0]


def _apart(a: TouchPlace, b: TouchPlace, action: str) -> Step:
    return Step("", action, Expected("open (OL)", None, "ohm", OPEN_OHM, None), OHM_METER, a, b)
