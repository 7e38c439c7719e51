"""Words for verdicts that rest on figures from memory: which figures of which family, part or supply."""

from collections.abc import Iterable

from harnessgen.design.records.state import State
from harnessgen.evidence.publication import Publication, Standing
from harnessgen.network.wires import Wire
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.conditions import supply_range
from harnessgen.source.kind import names_in


def is_recalled(*sources: Publication) -> bool:
    """True where any of the sources is from memory."""
    return any(each.standing is Standing.FROM_MEMORY for each in sources)


def recalled_wires(wires: Iterable[Wire]) -> str:
    """`; figures of thin-wall-175 from memory` for the families of some wires of which that is so, else nothing.

    What the insulation stands, for ever or once, is the family's; copper, resistance and diameter are the size's.
    """
    families = dict.fromkeys(
        wire.family.name for wire in wires if is_recalled(wire.family.origin(wire.figures), wire.family.publication)
    )
    return f"; figures of {names_in(families)} from memory" if families else ""


def recalled_supply(physics: Physics, supply: str, state: str) -> str:
    """`; range of BAT by ISO ... (from memory)` where a supply's range in a state is from memory, else nothing."""
    design = physics.network.design
    declared: State | None = design.states.get(state)
    source = supply_range(design, design.supplies[supply], declared).source
    return f"; range of {supply} by {source}" if is_recalled(source) else ""
