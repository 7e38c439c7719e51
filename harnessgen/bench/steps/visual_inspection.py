"""The first phase: what the eye can tell, section by section, before any meter."""

from collections.abc import Iterator, Mapping

from harnessgen.bench.setup.connector_half import Half, halves, seal_in
from harnessgen.bench.setup.step import Expected, Phase, Setup, Step
from harnessgen.bench.steps.cautions import BATTERY_OFF
from harnessgen.measures.designator import natural_key
from harnessgen.network.network import HarnessSection, Network
from harnessgen.network.wires import EndKind


def look_setup(section: HarnessSection) -> Setup:
    """The section laid out in good light."""
    lines = (
        "The section laid out in good light, cut list, cavity chart and splice schedule beside it.",
        "Look at both ends of every wire: a contact that is pushed back or half latched can pass the meter today.",
    )
    return Setup(Phase.LOOK, section.letter, f"Look over {section.number}", lines, (BATTERY_OFF,))


def look_steps(network: Network, section: HarnessSection) -> Iterator[Step]:
    """Label, then each connector half, each splice, each landed terminal."""
    yield Step(
        "", f"section label reads {section.number}", Expected("label there and legible"), looks_at=section.number
    )
    held: Mapping[str, Half] = halves(network)
    for name, half in held.items():
        if half.section == section.letter:
            yield from _half_steps(network, name, half)
    for name in network.design.splices:
        wires = [wire for wire in network.wires_at.get(name, ()) if wire.section == section.letter]
        if wires:
            marks = ", ".join(wire.mark for wire in wires)
            yield Step(
                "",
                f"splice {name}: {marks}",
                Expected("barrel closed, no loose strand, sealed all along"),
                looks_at=name,
            )
    yield from _landing_steps(network, section)


def _half_steps(network: Network, name: str, half: Half) -> Iterator[Step]:
    wired: list[str] = []
    free: list[str] = []
    for cavity in half.part.cavities:
        wires = network.wires_at.get(f"{name}/{cavity}", [])
        if wires:
            wired.append(f"{cavity}: {' + '.join(f'{wire.mark} {wire.colour} {wire.size}' for wire in wires)}")
        elif f"{name}/{cavity}" not in network.occupied:
            free.append(cavity)
    sealed = seal_in(network, half, half.part.cavities[0]) is not None
    seals = ", seals in" if sealed else ""
    words = f"each colour and size in its cavity, contacts latched (a light pull holds){seals}"
    yield Step(
        "", f"{name}, {half.contacts}, cavity {'; '.join(wired) or 'without a wire'}", Expected(words), looks_at=name
    )
    if free and name not in network.design.vehicle.connectors:
        what = "cavity plugs in" if sealed else "empty"
        yield Step(
            "",
            f"{name}, {'cavity' if len(free) == 1 else 'cavities'} {runs_text(free)}",
            Expected(what),
            looks_at=f"{name} free",
        )


def runs_text(names: list[str]) -> str:
    """Names with runs of numbers drawn together: 3 to 13, 16, A."""
    runs: list[list[str]] = []
    for name in names:
        last = runs[-1][-1] if runs else ""
        if name.isdecimal() and last.isdecimal() and int(name) == int(last) + 1:
            runs[-1].append(name)
        else:
            runs.append([name])
    texts = (f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)
    return ", ".join(texts)


def _landing_steps(network: Network, section: HarnessSection) -> Iterator[Step]:
    landed: dict[tuple[str, str], list[str]] = {}
    fuses = network.design.fuses
    for wire in network.wires:
        if wire.section != section.letter:
            continue
        for end in wire.ends:
            contact = network.contact_at(end) if end.kind is EndKind.LANDING else None
            if contact is not None:
                said = f"{wire.mark} {wire.colour} {wire.size}"
                words = f"{end.terminal}: {said}" if end.terminal else said
                landed.setdefault((end.designator, contact.title), []).append(words)
    for (designator, title), wires in sorted(landed.items(), key=lambda item: natural_key(item[0][0])):
        is_ours = designator in fuses and designator not in network.design.vehicle.fuses
        rating = f"; fuse of {fuses[designator].rating_a.value:g} A beside it" if is_ours else ""
        expected = Expected(f"{title}: crimp whole, insulation held{rating}")
        yield Step("", f"{designator}, {'; '.join(wires)}", expected, looks_at=designator)
