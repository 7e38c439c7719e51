"""Faults that no meter shows and an eye does: latches, seals, plugs, splices, crimps and labels."""

from collections.abc import Iterator

from harnessgen.bench.faults.consequence import Consequences
from harnessgen.bench.faults.fault import Consequence, FaultKind, HarnessFault
from harnessgen.bench.setup.connector_half import seal_in
from harnessgen.bench.setup.installed import Fitted
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire


def seen_faults(fitted: Fitted, weigh: Consequences) -> Iterator[HarnessFault]:
    """Each wired cavity unlatched or without its seal, each free one without its plug, each splice, crimp and label."""
    network = fitted.network
    for section in network.sections.sections:
        if any(wire.section == section.letter for wire in network.wires):
            yield _seen(FaultKind.LABEL_WRONG, section.number, section.number, Consequence.LIMP, section.letter)
    for name, half in fitted.halves.items():
        for cavity in half.part.cavities:
            place = f"{name}/{cavity}"
            wires = network.wires_at.get(place, [])
            is_sealed = seal_in(network, half, cavity) is not None
            if not wires:
                if is_sealed and name not in network.design.vehicle.connectors:
                    yield _seen(FaultKind.PLUG_MISSING, place, f"{name} free", _WET, half.section)
                continue
            yield _seen(FaultKind.LATCH_OPEN, place, name, weigh.opened(wires[0]), half.section)
            if is_sealed:
                yield _seen(FaultKind.SEAL_MISSING, place, name, weigh.opened(wires[0]), half.section)
    for name, wire in _splices(network):
        yield _seen(FaultKind.SPLICE_UNSEALED, name, name, weigh.opened(wire), wire.section)
    for wire in network.wires:
        for end in wire.ends:
            if end.kind is EndKind.LANDING and network.contact_at(end) is not None:
                subject = f"{wire.mark} at {end}"
                yield _seen(FaultKind.CRIMP_LOOSE, subject, end.designator, weigh.opened(wire), wire.section)


_WET = Consequence.LIMP
"""Water in a connector eats contacts in months, and shows before it stops an engine."""


def _seen(kind: FaultKind, subject: str, looks: str, consequence: Consequence, section: str) -> HarnessFault:
    return HarnessFault(kind, f"{subject}: {kind.value}", subject, None, consequence, section, looks, is_seen=True)


def _splices(network: Network) -> Iterator[tuple[str, Wire]]:
    for name in network.design.splices:
        wires = network.wires_at.get(name, [])
        if wires:
            yield name, wires[0]
