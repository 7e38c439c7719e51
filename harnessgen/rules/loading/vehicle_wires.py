"""What the vehicle's own wires carry with the harness on them, and where nobody says what they carry without it."""

from collections.abc import Iterator

from harnessgen.design.limits.table import limit
from harnessgen.design.records.vehicle import VehicleFuse
from harnessgen.evidence.finding import Finding, NotExamined, Number, Severity
from harnessgen.measures.quantity import plain_number
from harnessgen.network.vehicle_wires import VehicleWire
from harnessgen.physics.electrical.element_resistance import given_degc
from harnessgen.physics.heat.ampacity import allowed_given_a
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading.steady import OURS_A, highest_steady
from harnessgen.source.kind import names_in

UNSAID = "nobody says what the vehicle's {} already: write carries: there"


def given_overloads(physics: Physics, rule: str) -> Iterator[Finding]:
    """One finding for each circuit of the vehicle that the harness brings beyond its share of what it may carry.

    What lies beside it nobody says: it is held to what it may carry alone in the still air of its zone.
    """
    told: set[str] = set()
    for element in physics.network.electrical.elements:
        wire = element.given
        if wire is None or wire.circuit.name in told or _ours_a(physics, wire) <= OURS_A:
            continue
        carries_a, state = highest_steady(physics, element)
        share = limit("wire-load", physics.network.design.limits)
        allowed_a = allowed_given_a(physics.network, wire) * share.value.value
        if carries_a > allowed_a:
            told.add(wire.circuit.name)
            yield _finding(physics, rule, wire, Number("carries", carries_a, "A", f"in state {state}"), allowed_a)


def _finding(physics: Physics, rule: str, wire: VehicleWire, carries: Number, allowed_a: float) -> Finding:
    degc = plain_number(given_degc(physics.network, wire), 1)
    size = wire.circuit.size
    return Finding(
        rule,
        Severity.ERROR,
        wire.circuit.name,
        wire.circuit.where("size"),
        f"Wire {wire.mark} of the vehicle is too thin for what it carries with the harness on it.",
        (
            carries,
            Number("allowed", allowed_a, "A", f"{size} of {wire.family.name} alone in air of {degc} degC, at most"),
        ),
        mend="feed the harness from another circuit of the vehicle, or from the battery through a fuse of its own",
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
