"""Better places for programs: each key is always there."""

from typing import Any

from harnessgen.documents.data.json_text import json_text
from harnessgen.remedies.placing.place import Figures, Placing

FORMAT = 1


def render(placing: Placing, number: str) -> str:
    """The places for the harness with this number."""
    whole = {
        "format": FORMAT,
        "harness": number,
        "for": placing.aim.value,
        "is_best_proved": placing.is_proved,
        "moves": [{"name": each.name, "from": each.before, "to": each.after} for each in placing.moves],
        "before": _figures(placing.before),
        "after": _figures(placing.after),
        "method": list(placing.method),
        "remarks": list(placing.remarks),
    }
    return json_text(whole)


def _figures(figures: Figures) -> dict[str, Any]:
    return {
        "copper_g": round(figures.copper_g, 3),
        "thickest_bundle_mm": round(figures.thickest_mm, 3),
        "space_of_wires_cm3": round(figures.space_cm3, 3),
        "short_mm": round(figures.short_mm, 3),
    }
