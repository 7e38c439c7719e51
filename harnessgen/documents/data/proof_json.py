"""The fault simulation for programs: every fault with its consequence, and by procedure the steps that show it.

A fault stands on a line of its own, once, and is named by its place in the list, from 0: several faults can have the
same name. Faults that the same steps show stand together with these steps.
"""

import json
from collections.abc import Iterable, Iterator
from typing import Any

from harnessgen.bench.faults.fault import HarnessFault
from harnessgen.bench.proof import Proof, Proofs, weighted
from harnessgen.measures.quantised import quantised_tree

FORMAT = 2


def render(proofs: Proofs) -> str:
    """All faults, and for each procedure its effort in seconds and groups of faults with the steps that show them."""
    return "".join(_pieces(proofs))


def _pieces(proofs: Proofs) -> Iterator[str]:
    detection = proofs.detection
    yield f'{{\n"format": {FORMAT},\n"faults": '
    yield from _lines(_fault(fault, mask) for fault, mask in zip(detection.faults, detection.masks, strict=True))
    yield f',\n"shown_by_weight": {_text(weighted(detection))}'
    yield f',\n"left_out": {_text(list(proofs.universe.left_out))}'
    yield ',\n"alike": '
    yield from _lines(list(places) for mask, places in detection.alike.items() if mask and len(places) > 1)
    yield ',\n"procedures": ['
    for number, proof in enumerate(proofs.proofs):
        yield from (",\n" if number else "\n", *_procedure(proof))
    yield "\n]\n}\n"


def _fault(fault: HarnessFault, mask: int) -> dict[str, Any]:
    return {
        "class": fault.kind.value,
        "name": fault.name,
        "subject": fault.subject,
        "section": fault.section,
        "consequence": fault.consequence.value,
        "is_shown": bool(mask),
    }


def _procedure(proof: Proof) -> Iterator[str]:
    head = {
        "need": proof.need.value,
        "section": proof.section,
        "seconds": proof.chosen.seconds,
        "least_seconds": proof.chosen.bound_seconds,
        "steps": list(proof.detection.numbers),
    }
    yield f'{_text(head)[:-1]}, "shows": '
    # What no step shows comes first, where there is any.
    groups = sorted(proof.detection.alike.items(), key=lambda item: item[0] != 0)
    yield from _lines(
        {"steps": list(proof.detection.steps_of(mask)), "faults": [proof.places[at] for at in places]}
        for mask, places in groups
    )
    yield "}"


def _lines(items: Iterable[Any]) -> Iterator[str]:
    """A list with one item on a line."""
    separator = "[\n"
    for item in items:
        yield separator + _text(item)
        separator = ",\n"
    yield "\n]" if separator == ",\n" else "[]"


def _text(value: Any) -> str:
    return _encode(quantised_tree(value))


# The function of the library makes an encoder for each of its calls.
_encode = json.JSONEncoder(allow_nan=False).encode
