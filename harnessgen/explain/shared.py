"""Feeds and returns that banks share explained."""

from collections.abc import Mapping

from harnessgen.design.records.shared import SharedFeed
from harnessgen.explain.thing import Fact, Thing
from harnessgen.explain.written import written_facts
from harnessgen.lengths.wire_length import cut_length_derivation
from harnessgen.measures.quantity import plain_number
from harnessgen.network.wires import Wire
from harnessgen.physics.physics import Physics
from harnessgen.source.kind import names_in


def shared_thing(physics: Physics, name: str, texts: Mapping[str, str]) -> Thing:
    """A shared feed or return: its trunk, the links between its splices, and its legs splice by splice."""
    network = physics.network
    shared = next(each for each in network.design.shared if each.name == name)
    is_feed = isinstance(shared, SharedFeed)
    wires = [wire for wire in network.wires if wire.run.shared == name and wire.circuit == shared.circuit]
    legs = [wire for wire in wires if wire.run.load]
    banks = dict.fromkeys(wire.bank for wire in legs)
    facts = [
        *written_facts(shared, texts),
        Fact("banks that share it", names_in(banks)),
        *(
            Fact(f"trunk {wire.mark}", _words(physics, wire))
            for wire in wires
            if not wire.run.load and not wire.run.link
        ),
        *(Fact(f"link {wire.mark}", _words(physics, wire)) for wire in wires if wire.run.link),
    ]
    for splice in shared.splices:
        own = [wire for wire in legs if splice in (wire.run.from_.designator, wire.run.to.designator)]
        by_bank = (
            f"{bank}: {', '.join(f'{wire.mark} to {wire.run.load}' for wire in own if wire.bank == bank)}"
            for bank in dict.fromkeys(wire.bank for wire in own)
        )
        facts.append(Fact(f"legs at {splice}", "; ".join(by_bank) or "none"))
    numbers = tuple(cut_length_derivation(physics.lengths[wire.mark]) for wire in wires)
    return Thing(name, "shared feed" if is_feed else "shared return", "", shared.place, tuple(facts), numbers)


def _words(physics: Physics, wire: Wire) -> str:
    return f"{wire.a} to {wire.b}, {wire.size}, {plain_number(physics.lengths[wire.mark].cut_mm, 1)} mm"
