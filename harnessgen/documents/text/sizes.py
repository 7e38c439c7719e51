"""Sizes of wires for a person at a terminal: one line each, with the rule that forbids the next size down."""

import math
import textwrap
from collections.abc import Iterator, Sequence

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.measures.quantity import plain_number
from harnessgen.remedies.sizing.size import SizedWire, Sizing, margin_of
from harnessgen.schedules.results.status import Status

_WIDTH = 110
_HEADINGS = ("wire", "written", "smallest", "copper", "next size down", "is forbidden by")


def render(sizing: Sizing, number: str, status: Status, width: int = _WIDTH) -> str:
    """The sizes for the harness with this number; `status` is that of the design with them."""
    rows = [_HEADINGS, *(_row(each) for each in sizing.wires)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(_HEADINGS) - 1)]
    lines = [f"Smallest wires for {number}"]
    if status.banner:
        lines += textwrap.wrap(f"{status.banner} with these sizes either: {status.words}.", width)
    lines.append("")
    for row in rows:
        cells = [cell.ljust(own) for cell, own in zip(row[:-1], widths, strict=True)]
        lines.append("  ".join((*cells, row[-1])).rstrip())
    lines.append("")
    for paragraph in (*_standing(status), *_proof(sizing)):
        lines += textwrap.wrap(paragraph, width)
    return "\n".join(lines) + "\n"


def _row(each: SizedWire) -> tuple[str, ...]:
    size = str(each.size) if each.size != each.wire.size else f"{each.size} (as written)"
    below = str(each.below) if each.below is not None else "none"
    bound = ", ".join(_bounds(each.bound_by))
    if each.is_kept:
        below, bound = "", "not asked: the wire is there already"
    elif each.bound_by and not each.is_alone:
        bound += " (with others)"
    return (each.wire.mark, str(each.wire.size), size, f"{each.copper.result:.2f} g", below, bound)


def _bounds(findings: Sequence[Finding]) -> Iterator[str]:
    """Each rule once, where the miss is largest, with how many more things it tells of."""
    by_rule: dict[str, list[Finding]] = {}
    for finding in findings:
        by_rule.setdefault(finding.rule, []).append(finding)
    for group in by_rule.values():
        worst = min(group, key=_miss)
        more = f" and {len(group) - 1} more" if len(group) > 1 else ""
        yield f"{_bound(worst)}{more}"


def _miss(finding: Finding) -> float:
    margin = margin_of(finding)
    return margin.result if margin is not None else -math.inf


def _bound(finding: Finding) -> str:
    about = "" if finding.subject == "" else f" of {finding.subject}"
    margin = margin_of(finding)
    missed = f" by {-100.0 * margin.result:.1f} %" if margin is not None else ""
    return f"{finding.rule}{about}{missed if missed != ' by 0.0 %' else ' by less than 0.1 %'}"


def _standing(status: Status) -> Iterator[str]:
    beyond_notes = (each for each in status.standing if each.severity is not Severity.NOTE)
    for finding in beyond_notes:
        yield f"Stands with these sizes too: {finding.severity.value}, {finding.rule}: {finding.message}"


def _proof(sizing: Sizing) -> Iterator[str]:
    mass, bound = plain_number(sizing.mass_g, 1), plain_number(sizing.bound_g, 1)
    yield f"Copper: {mass} g, as written {plain_number(sizing.mass_before_g, 1)} g."
    if sizing.is_least:
        yield "Least copper: proved. No sizes of these families with less copper meet every rule in every state."
    else:
        yield (
            "Least copper: not proved. No single wire can go down a size; what was proved is that no sizes have less"
            f" than {bound} g."
        )
    yield "The per cent say by how much the next size down misses its bound."
    if any(each.bound_by and not each.is_alone for each in sizing.wires):
        yield (
            "With others: where other wires are thicker than here, the next size down may pass, for more copper."
            if sizing.is_least
            else "With others: where other wires are thicker than here, the next size down may pass. Whether these"
            " wires could share that out better was not proved."
        )
    if sizing.is_least or sizing.bound_g > 0.0:
        yield (
            "A proof takes it that a rule which fails with the other wires at their thinnest and at their thickest"
            " fails with all sizes between."
        )
    yield (
        "These are the least sizes that the rules of this program ask for. Local codes and licensed practice may ask"
        " for more: the larger size holds."
    )
