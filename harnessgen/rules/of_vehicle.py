"""What the vehicle has is given: no proposal changes it."""

from collections.abc import Iterable
from dataclasses import replace

from harnessgen.design.records.design import Design
from harnessgen.evidence.finding import Finding, Later, Proposal
from harnessgen.source.place import Place


def without_changes_to_vehicle(findings: Iterable[Finding], design: Design) -> list[Finding]:
    """The findings without proposals that would change what stands under `vehicle`."""
    given = [
        each.place
        for things in (design.vehicle.fuses, design.vehicle.relays, design.vehicle.circuits, design.vehicle.connectors)
        for each in things.values()
    ]
    if not given:
        return list(findings)
    block = design.where("vehicle")
    return [replace(each, proposals=_left(each, block)) for each in findings]


def _left(finding: Finding, block: Place) -> Later[Proposal]:
    return Later(lambda: tuple(each for each in finding.proposals if not _is_in(each, block)))


def _is_in(proposal: Proposal, block: Place) -> bool:
    return proposal.place.file == block.file and block.start <= proposal.place.start < block.end
