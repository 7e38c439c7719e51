"""What `prove` prints, for programs and for people, against the matrix that it is made from."""

import json
from collections import Counter
from dataclasses import replace
from typing import Any

import pytest

from harnessgen.bench.detection.detection import Detection
from harnessgen.bench.faults.fault import Consequence, FaultKind, HarnessFault
from harnessgen.bench.proof import Proofs
from harnessgen.documents.data import proof_json
from harnessgen.documents.text import proof as proof_text
from harnessgen.schedules.results.coverage import alike_table, coverage_table, untested_table
from tests.bench.proving import SOME, proofs_of, shown_by, text_of
from tests.schedules.reading import keyed


def told(proofs: Proofs) -> Any:
    """The form for programs, read again."""
    return json.loads(proof_json.render(proofs))


@pytest.mark.parametrize("name", SOME)
def test_the_form_for_programs_says_the_matrix(name: str) -> None:
    """Every fault stands once; a procedure has each that it is asked for once, with all of its steps that show it."""
    proofs = proofs_of(text_of(name))
    whole = told(proofs)
    assert whole["format"] == 2
    faults = proofs.detection.faults
    assert [(each["name"], each["class"]) for each in whole["faults"]] == [
        (each.name, each.kind.value) for each in faults
    ]
    assert [each["is_shown"] for each in whole["faults"]] == [bool(steps) for steps in shown_by(proofs.detection)]
    assert len(whole["procedures"]) == len(proofs.proofs)
    for proof, each in zip(proofs.proofs, whole["procedures"], strict=True):
        assert each["steps"] == [step.number for step in proof.procedure.steps]
        pairs = [(place, frozenset(group["steps"])) for group in each["shows"] for place in group["faults"]]
        assert len(pairs) == len(dict(pairs)) == len(proof.detection.faults)
        matrix = zip(proof.detection.faults, shown_by(proof.detection), strict=True)
        assert [(faults[place], steps) for place, steps in sorted(pairs)] == list(matrix)


@pytest.mark.parametrize("name", SOME)
def test_faults_that_read_alike_are_all_there(name: str) -> None:
    """Every pair of faults that all steps of the pool show alike, and no other, stands in one group."""
    proofs = proofs_of(text_of(name))
    steps = shown_by(proofs.detection)
    groups = told(proofs)["alike"]
    assert all(len({steps[place] for place in group}) == 1 and steps[group[0]] for group in groups)
    counts = Counter(each for each in steps if each)
    assert sum(map(len, groups)) == sum(count for count in counts.values() if count > 1)
    assert len(groups) == sum(count > 1 for count in counts.values())


def test_two_faults_of_one_name_stay_two() -> None:
    """The same wire meets the same other at two places of the route: one name, and one step shows but one of them."""
    proofs = proofs_of(text_of("flat-six"))
    twins = [HarnessFault(FaultKind.NETS_BRIDGED, "21A meets 31A", "21A and 31A", None, Consequence.LIMP)] * 2
    held = Detection(tuple(twins), (0b1, 0b0), ("1.1",))
    proof = replace(proofs.proofs[0], detection=held, places=(0, 1))
    whole = told(replace(proofs, detection=held, proofs=(proof,)))
    (procedure,) = whole["procedures"]
    assert procedure["shows"] == [{"steps": [], "faults": [1]}, {"steps": ["1.1"], "faults": [0]}]
    assert [each["is_shown"] for each in whole["faults"]] == [True, False]


@pytest.mark.parametrize("name", ["flat-six", "twin-fans"])
def test_people_read_the_same_counts(name: str) -> None:
    """Counted anew: a line of each class in the text, a row of each in the table."""
    proofs = proofs_of(text_of(name))
    text = proof_text.render(proofs)
    rows = {row["fault"]: row for row in keyed(coverage_table(proofs))}
    shown = Counter(
        fault.kind.value
        for fault, steps in zip(proofs.detection.faults, shown_by(proofs.detection), strict=True)
        if steps
    )
    for kind, count in Counter(fault.kind.value for fault in proofs.detection.faults).items():
        assert f"  {kind:40} {shown[kind]:5} of {count}\n" in text
        assert (rows[kind]["faults"], rows[kind]["shown"]) == (count, shown[kind])
    assert f"{len(proofs.detection.faults)} faults under" in text


def test_long_lists_end_with_how_many_more_there_are() -> None:
    """500 faults that nothing shows, the grave ones last, and 50 groups of which the largest has 90."""
    proofs = proofs_of(text_of("flat-six"))
    kinds = [Consequence.HARMLESS] * 300 + [Consequence.FIRE] * 200
    hidden = [HarnessFault(FaultKind.WIRE_OPEN, f"fault {at}", "21A", None, kind) for at, kind in enumerate(kinds)]
    groups = [group for group in range(50) for _ in range(90 if group == 7 else 2)]
    found = [
        HarnessFault(FaultKind.WIRE_OPEN, f"found {at}", "21A", None, Consequence.LIMP) for at in range(len(groups))
    ]
    masks = (0,) * 500 + tuple(1 << group for group in groups)
    made = replace(proofs, detection=Detection((*hidden, *found), masks, tuple(map(str, range(50)))))
    untested = untested_table(made)
    assert len(untested.rows) == 400
    assert [cells["consequence"] for cells in keyed(untested)[:200]] == ["fire"] * 200
    assert untested.notes[0].startswith("And 100 more, no graver")
    alike = alike_table(made)
    assert len(alike.rows) == 40
    assert alike.notes[0].startswith("The largest 40 groups of 50")
    names = keyed(alike)[0]["names"]
    assert keyed(alike)[0]["count"] == 90
    assert str(names).endswith("; and 30 more")
    assert str(names).count("found") == 60
