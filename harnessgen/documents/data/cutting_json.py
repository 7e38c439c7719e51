"""The cutting plan for programs, in a form that stays as it is: every key is always there; lengths in mm.

What is not known or does not apply is null, an infinite share too.
"""

import math
from typing import Any

from harnessgen.cutting.plan import Cut, CutPlan, KindPlan, Spool
from harnessgen.documents.data.json_text import json_text
from harnessgen.schedules.results.status import Status
from harnessgen.schedules.wires.cutting_plan import scaled, what_counts

FORMAT = 1


def render(plan: CutPlan, number: str, status: Status) -> str:
    """The plan of the harness with this number; `for_build` is false while errors stand."""
    whole = {
        "format": FORMAT,
        "harness": number,
        "for_build": not status.open_errors,
        "released": status.released_object,
        "copies": plan.copies,
        "usable_tail_mm": plan.tail.value.value,
        "in_hand": list(plan.in_hand),
        "wires": [_kind(plan, kind) for kind in plan.kinds],
    }
    return json_text(whole)


def _kind(plan: CutPlan, kind: KindPlan) -> dict[str, Any]:
    return {
        "family": kind.kind.family,
        "size": kind.kind.size,
        "color": kind.kind.colour,
        "cuts": kind.count,
        "length_mm": round(kind.needed_mm, 3),
        "scrap_mm": round(kind.scrap_mm(plan.tail.value.value), 3),
        "spools": [_spool(spool) for spool in kind.spools],
        "by_the_metre": [_cut(cut) for cut in kind.loose],
        "longer_than_any_stock": [_cut(cut) for cut in kind.too_long],
        "buy": {
            "spools": [
                {"as": each.label, "count": each.count, "length_mm": each.length_mm, "cost": round(each.cost, 6)}
                for each in kind.purchases
            ],
            "metres_mm": round(kind.metres_mm, 3),
        },
        "proof": _proof(kind),
    }


def _proof(kind: KindPlan) -> dict[str, Any]:
    solved = kind.solved
    share = solved.gap_share
    return {
        "counts": what_counts(kind),
        "plan": scaled(kind, solved.packing.value),
        "bound_by_material": scaled(kind, solved.bounds.material),
        "bound_by_sharing": scaled(kind, solved.bounds.shared),
        "bound_by_columns": scaled(kind, solved.columns) if solved.columns is not None else None,
        "bound": scaled(kind, solved.bound),
        "gap": scaled(kind, solved.gap),
        "gap_share": None if math.isinf(share) else share,
    }


def _spool(spool: Spool) -> dict[str, Any]:
    return {
        "label": spool.label,
        "new": spool.is_new,
        "length_mm": spool.length_mm,
        "cuts": [_cut(cut) for cut in spool.cuts],
        "left_mm": spool.left_mm,
    }


def _cut(cut: Cut) -> dict[str, Any]:
    return {"wire": cut.mark, "copy": cut.copy, "length_mm": cut.length_mm}
