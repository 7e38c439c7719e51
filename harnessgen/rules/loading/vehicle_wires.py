"""What the vehicle's own wires carry with the harness on them, and where nobody says what they carry without it."""

from collections.abc import Iterator

from harnessgen.design.limits.table import limit
from harnessgen.design.records.vehicle import VehicleFuse
from harnessgen.evidence.finding import Finding, NotExamined, Number, Severity, at_most, worst_first
from harnessgen.measures.quantity import plain_number
from harnessgen.network.vehicle_wires import VehicleWire
from harnessgen.physics.electrical.element_resistance import given_degc
from harnessgen.physics.heat.ampacity import allowed_given_a
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading.steady import OURS_A, in_state, steady
from harnessgen.source.kind import names_in

UNSAID = "nobody says what the vehicle's {} already: write carries: there"


def given_overloads(physics: Physics, rule: str) -> list[Finding]:
    """One finding for each circuit of the vehicle that the harness brings beyond its share of what it may carry.

    What lies beside it nobody says: it is held to what it may carry alone in the still air of its zone.
    """
    return worst_first(
        (carries_a, _finding(physics, rule, wire, carries_a, state, allowed_a))
        for wire, carries_a, state, allowed_a in _loaded(physics)
        if carries_a > allowed_a
    )


def _loaded(physics: Physics) -> Iterator[tuple[VehicleWire, float, str, float]]:
    """Pieces of the vehicle's wires with what they carry in each state, in A, and may carry."""
    share = limit("wire-load", physics.network.design.limits).value.value
    for element in physics.network.electrical.elements:
        wire = element.given
        if wire is not None and _ours_a(physics, wire) > OURS_A:
            allowed_a = allowed_given_a(physics.network, wire) * share
            yield from ((wire, carries_a, state, allowed_a) for carries_a, state in steady(physics, element))


def _finding(physics: Physics, rule: str, wire: VehicleWire, carries_a: float, state: str, allowed_a: float) -> Finding:
    degc = plain_number(given_degc(physics.network, wire), 1)
    size = wire.circuit.size
    numbers = (
        Number("carries", carries_a, "A", in_state(physics, wire.mark, state)),
        Number("allowed", allowed_a, "A", f"{size} of {wire.family.name} alone in air of {degc} degC, at most"),
    )
    return Finding(
        rule,
        Severity.ERROR,
        wire.circuit.name,
        wire.circuit.where("size"),
        f"Wire {wire.mark} of the vehicle is too thin for what it carries with the harness on it.",
        numbers,
        mend="feed the harness from another circuit of the vehicle, or from the battery through a fuse of its own",
        state=state,
        deciding=at_most(*numbers),
    )


def wire_gaps(physics: Physics) -> Iterator[NotExamined]:
    """Circuits of the vehicle that current of ours flows in, and of which nobody says what they carry already."""
    for name in dict.fromkeys(
        wire.circuit.name
        for wire in physics.network.given
        if wire.carries_a is None and _ours_a(physics, wire) > OURS_A
    ):
        yield NotExamined("wire-overload", UNSAID.format(f"circuit {name} carries"), name)


def fuse_gaps(physics: Physics) -> Iterator[NotExamined]:
    """Fuses of the vehicle that current of ours flows through, and of which nobody says what they carry already."""
    for element in physics.network.electrical.elements:
        is_unsaid = isinstance(element.device, VehicleFuse) and physics.carried.get(element.name, 0.0) is None
        if is_unsaid and any(abs(point.amperes[element.name]) > OURS_A for point in physics.lasting.values()):
            yield NotExamined("fuse-too-small", UNSAID.format(f"fuse {element.name} carries"), element.name)


def drop_gaps(physics: Physics) -> Iterator[NotExamined]:
    """Loads that are fed or return through wires of the vehicle of which nobody says what they carry already."""
    unsaid = {name for name, ampere in physics.carried.items() if ampere is None}
    through: dict[str, dict[str, None]] = {}
    for state in physics.lasting if unsaid else ():
        for drop in physics.drops_in(state):
            if drop.load in physics.network.design.loads:
                parts = (part.element for part in (*drop.feed, *drop.return_) if part.element in unsaid)
                through.setdefault(drop.load, {}).update(dict.fromkeys(parts))
    for load, names in through.items():
        if names:
            verb = "carries" if len(names) == 1 else "carry"
            yield NotExamined("excess-drop", UNSAID.format(f"{names_in(names)} {verb}"), load)


def _ours_a(physics: Physics, wire: VehicleWire) -> float:
    return max((abs(point.amperes[wire.mark]) for point in physics.lasting.values()), default=0.0)
