"""What a procedure cannot show: its faults in groups, each with the reason and with a sheet that does show it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from harnessgen.bench.faults.affected_nets import Touched
from harnessgen.bench.faults.fault import Consequence, FaultKind, HarnessFault
from harnessgen.bench.proof import Proof, Proofs
from harnessgen.bench.setup.step import Missed
from harnessgen.bench.setup.test_lamp import lamp_of
from harnessgen.network.network import Network

_SMALL = frozenset({FaultKind.POOR_JOINT, FaultKind.SIZE_WRONG})
FOR_THE_EYE = "no reading shows it: it is for the eye, with the section laid out"
NOT_READ = "no step here reads or works its circuit"
NOT_BENT = "it shows only while the wire is bent with current in it, which no step here does"
TOO_SMALL = "it moves the readings here by less than the instrument and good parts may be off"
SAME_READING = "the readings here stay what they were: another path carries on, or both places read alike anyway"


def with_missed(proofs: Proofs) -> Proofs:
    """The same proofs, each procedure with what it does not show and where that is shown."""
    teller = _Teller(proofs)
    told = tuple(
        replace(proof, procedure=replace(proof.procedure, missed=tuple(teller.missed(proof))))
        for proof in proofs.proofs
    )
    return replace(proofs, proofs=told)


def sheet_name(network: Network, proof: Proof) -> str:
    """How a sheet is called on another one: what it is for, and its section where there are several."""
    sections = {section.letter: section.number for section in network.sections.sections}
    number = f"{sections[proof.section]}, " if proof.section and len(sections) > 1 else ""
    return f"{number}{proof.need.value}"


@dataclass(frozen=True)
class _Teller:
    """Tells why the procedures of a harness do not show what they do not show."""

    proofs: Proofs

    @cached_property
    def touched(self) -> Touched:
        return Touched(self.proofs.network)

    @cached_property
    def shown_on(self) -> Sequence[str]:
        """The first sheet that shows each fault, by the place of the fault; empty where none does."""
        found = [""] * len(self.proofs.detection.faults)
        for proof in self.proofs.proofs:
            name = sheet_name(self.proofs.network, proof)
            for place, mask in zip(proof.places, proof.detection.masks, strict=True):
                if mask and not found[place]:
                    found[place] = name
        return found

    def missed(self, proof: Proof) -> Iterator[Missed]:
        """The faults that a procedure was asked for and does not show, the gravest first, in groups."""
        # What the steps could have read, whether they were chosen or not.
        read = self.touched.read_by(proof.need.own(self.proofs.pool.blocks, proof.section))
        totals: dict[FaultKind, int] = {each.kind: each.count for each in proof.detection.covered}
        groups: dict[tuple[FaultKind, Consequence, str, str], dict[str, int]] = {}
        for at in proof.detection.alike.get(0, ()):
            place, fault = proof.places[at], proof.detection.faults[at]
            why = self._reason(place, fault, read, proof.need.has_meter)
            counts = groups.setdefault((fault.kind, fault.consequence, why, self.shown_on[place]), {})
            counts[fault.subject] = counts.get(fault.subject, 0) + 1
        grave = list(Consequence)
        for (kind, leads_to, why, other), counts in sorted(groups.items(), key=lambda item: -grave.index(item[0][1])):
            subjects, count = tuple(sorted(counts, key=self.proofs.detection.rank.__getitem__)), sum(counts.values())
            yield Missed(kind.value, leads_to.value, count, count == totals[kind], subjects, why, other)

    def _reason(self, place: int, fault: HarnessFault, read: frozenset[int], has_meter: bool) -> str:
        if fault.change is None:
            return FOR_THE_EYE
        if fault.kind is FaultKind.COMES_AND_GOES:
            return NOT_BENT
        touched = self._nets_at(place)
        if touched and not touched & read:
            return NOT_READ
        if fault.kind not in _SMALL:
            return SAME_READING
        return TOO_SMALL if has_meter else self._too_small_for_the_lamp

    def _nets_at(self, place: int) -> frozenset[int]:
        if place not in self._nets:
            change = self.proofs.detection.faults[place].change
            self._nets[place] = self.touched.nets_of(change) if change is not None else frozenset()
        return self._nets[place]

    @cached_property
    def _nets(self) -> dict[int, frozenset[int]]:
        return {}

    @cached_property
    def _too_small_for_the_lamp(self) -> str:
        lamp = lamp_of(self.proofs.network.design.limits)
        return f"a {lamp.words} still lights through {lamp.most_seen_through.result:.0f} ohm: it takes a meter"
