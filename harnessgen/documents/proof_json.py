"""The fault simulation for programs: every fault with its consequence and the steps that show it, by procedure."""

import json
from typing import Any

from harnessgen.bench.proof import Proof, Proofs, weighted

FORMAT = 1


def render(proofs: Proofs) -> str:
    """All faults, each with the steps of each procedure that show it; and each procedure's effort in seconds."""
    whole = {
        "format": FORMAT,
        "faults": [
            {
                "class": fault.kind.value,
                "name": fault.name,
                "subject": fault.subject,
                "section": fault.section,
                "consequence": fault.consequence.value,
                "is_shown": bool(steps),
            }
            for fault, steps in zip(proofs.detection.faults, proofs.detection.shown_by, strict=True)
        ],
        "shown_by_weight": weighted(proofs.detection),
        "left_out": list(proofs.universe.left_out),
        "procedures": [_proof(each) for each in proofs.proofs],
    }
    return json.dumps(whole, indent=2, allow_nan=False) + "\n"


def _proof(proof: Proof) -> dict[str, Any]:
    pairs = zip(proof.detection.faults, proof.detection.shown_by, strict=True)
    return {
        "need": proof.need.value,
        "section": proof.section,
        "seconds": proof.chosen.seconds,
        "least_seconds": proof.chosen.bound_seconds,
        "steps": [step.number for step in proof.procedure.steps],
        "shows": {fault.name: sorted(steps) for fault, steps in pairs},
    }
