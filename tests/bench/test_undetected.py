"""What a sheet cannot show: every fault that it misses stands in a group, and the sheet that is named shows it."""

import pytest

from harnessgen.bench.undetected import FOR_THE_EYE, NOT_READ, TOO_SMALL, sheet_name
from harnessgen.schedules.results.undetected import every_missed_table, missed_table
from tests.bench.proving import proofs_of, shown_by, text_of

PROVED = ["flat-six", "twin-fans"]


@pytest.mark.parametrize("name", PROVED)
def test_every_missed_fault_is_listed_and_nothing_else(name: str) -> None:
    """Counted anew from the detection matrix of each sheet."""
    for proof in proofs_of(text_of(name)).proofs:
        assert sum(each.count for each in proof.procedure.missed) == len(proof.detection.undetected)
        for group in proof.procedure.missed:
            missed = [each for each in proof.detection.undetected if each.kind.value == group.kind]
            assert set(group.subjects) <= {each.subject for each in missed}


@pytest.mark.parametrize("name", PROVED)
def test_the_sheet_that_is_named_shows_them(name: str) -> None:
    """Each fault of a group has a step on the sheet that the group names; where none is named, no sheet has one."""
    proofs = proofs_of(text_of(name))
    shows = {
        sheet_name(proofs.network, proof): {
            fault for fault, steps in zip(proof.detection.faults, shown_by(proof.detection), strict=True) if steps
        }
        for proof in proofs.proofs
    }
    anywhere = set().union(*shows.values())
    for proof in proofs.proofs:
        for group in proof.procedure.missed:
            own = [
                fault
                for fault in proof.detection.undetected
                if fault.kind.value == group.kind and fault.subject in group.subjects
            ]
            held = [
                fault for fault in own if (fault in shows[group.shown_on] if group.shown_on else fault not in anywhere)
            ]
            assert len(held) >= group.count, (sheet_name(proofs.network, proof), group)


def test_reasons_by_hand() -> None:
    """The flat six under power: half a volt of sag hides a joint of a leg; the bar behind the relay has no contact that
    can be touched; a latch is for the eye."""
    (powered,) = [proof for proof in proofs_of(text_of("flat-six")).proofs if proof.need.name == "POWERED"]
    reasons = {(each.kind, subject): each.reason for each in powered.procedure.missed for subject in each.subjects}
    assert reasons["poor joint", "21C"] == TOO_SMALL
    assert reasons["poor joint", "11A"] == NOT_READ
    assert reasons["contact not latched", "C21/1"] == FOR_THE_EYE


def test_the_table_names_each_subject() -> None:
    """The file of all sheets names everything; a sheet alone may end a long list with how many more there are."""
    proofs = proofs_of(text_of("flat-six"))
    whole = every_missed_table(proofs)
    assert len(whole.rows) == sum(len(proof.procedure.missed) for proof in proofs.proofs)
    table = missed_table(proofs.proofs[2].procedure)
    assert table.notes
    assert len(table.rows) == len(proofs.proofs[2].procedure.missed)
