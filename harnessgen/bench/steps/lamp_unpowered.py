"""Without the vehicle's power: a battery and the lamp in one lead tell what is joined in a section, and what is not."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from harnessgen.bench.setup.instruments import LAMP
from harnessgen.bench.setup.section_nets import SectionNet
from harnessgen.bench.setup.step import Expected, Phase, Setup, Step, TouchPlace
from harnessgen.bench.setup.test_lamp import LOW_SHARE, Lamp, Light
from harnessgen.bench.steps.cautions import (
    BATTERY_OFF,
    LAMP_IN_LEAD,
    LOCAL_RULES,
    MATING_CONTACT,
    NO_ELECTRONICS,
    NO_LED,
    SPARKS,
)
from harnessgen.bench.steps.continuity import continuity_setup, continuity_steps, joined_setup, joined_steps
from harnessgen.network.network import HarnessSection, Network


def lamp_continuity_setup(network: Network, section: HarnessSection, lamp: Lamp) -> Setup:
    """A section by itself, a battery of its own beside it."""
    plain = continuity_setup(network, section)
    lines = (
        *plain.lines[:2],
        _bench_battery(lamp),
        f"It still lights through {lamp.most_seen_through.result:.0f} ohm: it tells closed from open and right from"
        " wrong place, and shows no poor joint and no wire that is too thin.",
        "Bend each end of the path while it burns: a flicker is a contact that comes and goes.",
    )
    cautions = (BATTERY_OFF, LAMP_IN_LEAD, NO_LED, SPARKS, NO_ELECTRONICS, MATING_CONTACT, LOCAL_RULES)
    return replace(
        plain, phase=Phase.LAMP_JOINED, title=f"Joined, by lamp, {section.number}", lines=lines, cautions=cautions
    )


def _bench_battery(lamp: Lamp) -> str:
    return (
        f"A {lamp.volts:g} V battery or bench supply that is no part of the vehicle. One lead from its plus through the"
        f" lamp ({lamp.words}) to the first tip, one from its minus to the second. Tips together: the lamp lights. Try"
        " that first, and again at the end."
    )


def lamp_continuity_steps(net: SectionNet, lamp: Lamp) -> Iterator[Step]:
    """The ways of the continuity test, each with the lamp."""
    for step in continuity_steps(net):
        if lamp.is_seen(LOW_SHARE * lamp.volts, step.expected.value or 0.0):
            yield replace(step, expected=expected(Light.LIT), instrument=LAMP)


def lamp_isolation_setup(network: Network, section: HarnessSection, lamp: Lamp) -> Setup:
    """Each circuit against all others at once."""
    plain = joined_setup(network, section)
    lines = (
        *plain.lines[:2],
        _bench_battery(lamp),
        "Clip all circuits of the section together, with the second tip and, in the fitted section, clean bare"
        " metal of block or body. Take one contact after another out of the clip and bring the lamp to it: dark"
        " each time. A contact that was tried stays out.",
        f"A leak of more than {lamp.most_seen_through.result:.0f} ohm may hide from the lamp.",
    )
    cautions = (BATTERY_OFF, LAMP_IN_LEAD, NO_LED, SPARKS, NO_ELECTRONICS, MATING_CONTACT)
    return replace(
        plain, phase=Phase.LAMP_APART, title=f"Apart, by lamp, {section.number}", lines=lines, cautions=cautions
    )


def lamp_isolation_steps(nets: Sequence[SectionNet], metal: TouchPlace) -> Iterator[Step]:
    """Each circuit out of the clip, with the lamp."""
    for step in joined_steps(nets, metal):
        yield replace(step, expected=expected(Light.DARK), instrument=LAMP)


def expected(light: Light) -> Expected:
    """What a step with the lamp should show."""
    return Expected(light.value, light=light)
