"""Sections: the harness on one side of its disconnects, built, tested and labelled by itself."""

from collections.abc import Mapping

from harnessgen.design.records.design import Design
from harnessgen.measures.designator import segment_letters
from harnessgen.measures.frozen import frozen
from harnessgen.network.joined import part_numbers
from harnessgen.network.route import Leg, Route


@frozen
class HarnessSection:
    """One tree of the route's forest. `number` is the label of the section (`FS-210-A`)."""

    letter: str
    number: str
    title: str
    legs: tuple[Leg, ...]


@frozen
class Sections:
    """All sections in order, and the letter of the section that each node of the route lies in."""

    sections: tuple[HarnessSection, ...]
    letter_of: Mapping[str, str]


def divide(design: Design, route: Route) -> Sections:
    """Sections of the route: named by the design, else lettered in the order in which the route reaches them."""
    component = part_numbers(route.graph)
    named: dict[int, str] = {}
    for letter, section in design.sections.items():
        node = route.node_of(section.holds)
        if node in component:
            named.setdefault(component[node], letter)
    letters: dict[int, str] = {}
    free = (name for name in (segment_letters(index) for index in range(len(route.points) + len(named))))
    taken = set(named.values())
    for number in component.values():
        if number not in letters:
            letters[number] = named.get(number) or next(name for name in free if name not in taken)
    letter_of = {node: letters[number] for node, number in component.items()}
    rank = {letter: index for index, letter in enumerate(design.sections)}
    order = sorted(letters.values(), key=lambda letter: rank.get(letter, len(rank)))
    harness = design.harness.number if design.harness is not None else ""
    sections = tuple(
        HarnessSection(
            letter,
            f"{harness}-{letter}" if len(order) > 1 else harness,
            design.sections[letter].title if letter in design.sections else "",
            tuple(leg for leg in route.legs if letter_of[leg.start] == letter),
        )
        for letter in order
    )
    return Sections(sections, letter_of)
