"""What a procedure cannot show: its faults in groups, each with the reason and with a sheet that does show it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from harnessgen.bench.fault import Exchanged, Fault, FaultKind, Gone, Meets, Series, Shorted, Stuck, Swapped, Thinner
from harnessgen.bench.lamp import lamp_of
from harnessgen.bench.proof import Proof, Proofs
from harnessgen.bench.step import Block, Missed, Phase, Step
from harnessgen.measures.designator import natural_key
from harnessgen.network.network import Network

_SMALL = frozenset({FaultKind.POOR_JOINT, FaultKind.SIZE_WRONG})
FOR_THE_EYE = "no reading shows it: it is for the eye, with the section laid out"
NOT_READ = "no step here reads or works its circuit"
NOT_BENT = "it shows only while the wire is bent with current in it, which no step here does"
TOO_SMALL = "it moves the readings here by less than the instrument and good parts may be off"
SAME_READING = "the readings here stay what they were: another path carries on, or both places read alike anyway"


def with_missed(proofs: Proofs) -> Proofs:
    """The same proofs, each procedure with what it does not show and where that is shown."""
    shown_on = _shown_on(proofs)
    told = tuple(
        replace(proof, procedure=replace(proof.procedure, missed=tuple(missed_of(proofs, proof, shown_on))))
        for proof in proofs.proofs
    )
    return replace(proofs, proofs=told)


def missed_of(proofs: Proofs, proof: Proof, shown_on: Mapping[Fault, Proof]) -> Iterator[Missed]:
    """The faults that a procedure was asked for and does not show, the gravest first, in groups."""
    network = proofs.network
    read = _nets_read(network, _own_blocks(proofs, proof))
    totals: dict[FaultKind, int] = {each.kind: each.count for each in proof.covered}
    groups: dict[tuple[FaultKind, str, str, str], list[Fault]] = {}
    for fault in proof.detection.undetected:
        other = sheet_name(network, shown_on[fault]) if fault in shown_on else ""
        why = _reason(network, fault, read) if proof.need.has_meter else _by_lamp(network, fault, read)
        groups.setdefault((fault.kind, fault.consequence.value, why, other), []).append(fault)
    grave = list(type(proof.detection.faults[0].consequence)) if proof.detection.faults else []
    for (kind, leads_to, why, other), faults in sorted(
        groups.items(), key=lambda item: -grave.index(item[1][0].consequence)
    ):
        subjects = tuple(sorted({fault.subject for fault in faults}, key=natural_key))
        yield Missed(kind.value, leads_to, len(faults), len(faults) == totals[kind], subjects, why, other)


def sheet_name(network: Network, proof: Proof) -> str:
    """How a sheet is called on another one: what it is for, and its section where there are several."""
    sections = {section.letter: section.number for section in network.sections.sections}
    number = f"{sections[proof.section]}, " if proof.section and len(sections) > 1 else ""
    return f"{number}{proof.need.value}"


def _shown_on(proofs: Proofs) -> dict[Fault, Proof]:
    """The first sheet that shows each fault."""
    found: dict[Fault, Proof] = {}
    for proof in proofs.proofs:
        for fault, steps in zip(proof.detection.faults, proof.detection.shown_by, strict=True):
            if steps:
                found.setdefault(fault, proof)
    return found


def _own_blocks(proofs: Proofs, proof: Proof) -> list[Block]:
    return list(proof.need.own(proofs.pool.blocks, proof.section))


def _reason(network: Network, fault: Fault, read: frozenset[str]) -> str:
    if fault.change is None:
        return FOR_THE_EYE
    if fault.kind is FaultKind.COMES_AND_GOES:
        return NOT_BENT
    touched = set(_things(network, fault))
    if touched and not touched & read:
        return NOT_READ
    return TOO_SMALL if fault.kind in _SMALL else SAME_READING


def _by_lamp(network: Network, fault: Fault, read: frozenset[str]) -> str:
    """The reason for a person with a lamp alone."""
    why = _reason(network, fault, read)
    if why != TOO_SMALL:
        return why
    lamp = lamp_of(network.design.limits)
    return f"a {lamp.words} still lights through {lamp.most_seen_through.result:.0f} ohm: it takes a meter"


def _things(network: Network, fault: Fault) -> Iterator[str]:
    """Nets, connectors and devices that a fault is at, under one kind of name each."""
    match fault.change:
        case Series(spot=spot):
            yield _net(network, spot.mark)
        case Thinner(mark=mark):
            yield _net(network, mark)
        case Meets(one=one, other=other) | Swapped(one=one, other=other):
            yield from (_net(network, spot.mark) for spot in (one, other) if spot.mark)
        case Exchanged(one=one, other=other):
            yield from (f"net {net}" for node, net in network.net_of.items() if node.partition("/")[0] in (one, other))
        case Gone(device=device) | Stuck(device=device) | Shorted(device=device):
            for element in network.electrical.elements:
                if element.device is not None and element.device.name == device:
                    yield from (f"net {network.net_of[node]}" for node in (element.a, element.b))
        case None:
            return


def _net(network: Network, mark: str) -> str:
    return f"net {network.net_of[network.wire_of[mark].a.node]}"


def _nets_read(network: Network, blocks: Sequence[Block]) -> frozenset[str]:
    """Nets that any step of these blocks reads, or works a load or an output of."""
    return frozenset(
        name
        for block in blocks
        if block.setup.phase is not Phase.LOOK
        for step in block.steps
        for name in _read_by(network, step)
    )


def _read_by(network: Network, step: Step) -> Iterator[str]:
    nodes = [place.node for place in (step.a, step.b) if place is not None]
    marks = [mark for place in (step.a, step.b) if place is not None for mark in place.wires]
    yield from (_net(network, mark) for mark in (*marks, *step.covers) if mark in network.wire_of)
    # A wire off its stud is named after the stud and itself.
    for node in (*nodes, *(point.partition(" ")[0] for point in step.joined)):
        if node in network.net_of:
            yield f"net {network.net_of[node]}"
    worked = set(step.on)
    if step.reactions is not None:
        worked |= {*step.reactions.work, *step.reactions.rest}
    for element in network.electrical.elements if worked else ():
        if element.device is not None and element.device.name in worked:
            yield from (f"net {network.net_of[node]}" for node in (element.a, element.b))
