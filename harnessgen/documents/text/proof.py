"""The fault simulation as text: what each procedure takes and finds, and what nothing shows."""

from collections.abc import Iterator

from harnessgen.bench.pointers import unseen_lines
from harnessgen.bench.proof import Proof, Proofs, weighted

_WIDE = 40


def render(proofs: Proofs) -> str:
    """Coverage by class, then each procedure with its effort, then what no step shows and what is left out."""
    return "\n".join(_lines(proofs)) + "\n"


def _lines(proofs: Proofs) -> Iterator[str]:
    faults, untested = proofs.detection.faults, proofs.untested
    yield f"{len(faults)} faults under {sum(1 for _ in proofs.pool.steps)} steps."
    yield f"{len(faults) - len(untested)} are shown by some step, {weighted(proofs.detection):.1%} by weight."
    shown, severe = proofs.detection.severe
    yield f"{severe} lead to engine damage or fire; {shown} of these are shown."
    yield ""
    for each in proofs.detection.covered:
        yield f"  {each.kind.value:{_WIDE}} {each.shown:5} of {each.count}"
    for proof in proofs.proofs:
        yield ""
        yield from _proof_lines(proofs, proof)
    if untested:
        yield ""
        yield "Shown by no step:"
        yield from (f"  {line}" for line in unseen_lines(untested))
    yield ""
    yield "Left out:"
    yield from (f"  {line}" for line in proofs.universe.left_out)


def _proof_lines(proofs: Proofs, proof: Proof) -> Iterator[str]:
    numbers = {section.letter: section.number for section in proofs.network.sections.sections}
    of = f"{numbers[proof.section]}: " if proof.section else ""
    count = sum(1 for _ in proof.procedure.steps)
    yield f"{of}{proof.need.value}: {count} steps."
    yield from (f"  {line}" for line in proof.procedure.finds)
