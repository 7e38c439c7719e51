"""Sizes of wires for programs, in a form that stays as it is: each key is always there, if only with null."""

from typing import Any

from harnessgen.documents.data.findings_json import finding_object
from harnessgen.documents.data.json_text import json_text
from harnessgen.evidence.finding import Finding
from harnessgen.remedies.sizing.size import SizedWire, Sizing, margin_of
from harnessgen.schedules.results.status import Status

FORMAT = 1


def render(sizing: Sizing, number: str, status: Status) -> str:
    """The sizes for the harness with this number; `status` is that of the design with them."""
    whole = {
        "format": FORMAT,
        "harness": number,
        "for_build": not status.open_errors,
        "released": status.released_object,
        "is_least_proved": sizing.is_least,
        "copper_g": round(sizing.mass_g, 3),
        "copper_before_g": round(sizing.mass_before_g, 3),
        "copper_bound_g": round(sizing.bound_g, 3),
        "trials": sizing.trials,
        "wires": [_wire(each) for each in sizing.wires],
        "standing": [finding_object(each) for each in status.standing],
    }
    return json_text(whole)


def _wire(each: SizedWire) -> dict[str, Any]:
    wire = each.wire
    return {
        "wire": wire.mark,
        "circuit": wire.circuit,
        "section": wire.section,
        "family": wire.family.name,
        "size_before": str(wire.size),
        "size": str(each.size),
        "copper_g": round(each.copper.result, 3),
        "copper_before_g": round(each.copper_before.result, 3),
        "is_kept": each.is_kept,
        "one_size_down": str(each.below) if each.below is not None else None,
        "bound_by_itself": each.is_alone,
        "bound_by": [{**finding_object(found), "margin": _margin(found)} for found in each.bound_by],
    }


def _margin(finding: Finding) -> float | None:
    margin = margin_of(finding)
    return round(margin.result, 6) if margin is not None else None
