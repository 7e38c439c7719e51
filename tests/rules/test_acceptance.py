"""What an acceptance covers: one thing, in one state, at one wire, up to one figure; and never anything else."""

from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.catalogue import RULES
from harnessgen.design.records.state import Acceptance
from harnessgen.evidence.finding import Finding, Number, Severity, at_least, at_most
from harnessgen.evidence.rule import Requirement, Rule
from harnessgen.rules.acceptance import completed, with_acceptances
from harnessgen.rules.examine import unsettled
from harnessgen.source.place import Place
from tests.line import examine_text, physics_of
from tests.mutators import Good
from tests.samples import examples, some
from tests.test_mutators import DESIGNS, MUTATORS, good

PLACE = Place("a.yaml", 10, 14, 2, 1, 2, 5)
RULE = (
    Rule("hot", Severity.ERROR, Requirement.NETWORK, "", "", ()),
    Rule("unknown-key", Severity.ERROR, Requirement.FILE, "", "", ()),
)


def accepts(**said: str) -> Acceptance:
    return Acceptance(place=PLACE, **({"rule": "hot", "subject": "21A", "reason": "known"} | said))


def hot(carries: float = 9.0, allowed: float = 7.0, **said: Any) -> Finding:
    numbers = Number("carries", carries, "A"), Number("allowed", allowed, "A")
    given = {"state": "boost", "deciding": at_most(*numbers)} | said
    return Finding("hot", Severity.ERROR, "21A", PLACE, "Wire 21A is hot.", numbers, **given)


def settled(finding: Finding, *acceptances: Acceptance) -> list[tuple[str, str, str | None]]:
    """Subject, state and reason of what is told."""
    return [(each.subject, each.state, each.accepted) for each in with_acceptances([finding], acceptances, RULE)]


FULL = {"state": "boost", "up_to": "9 A", "limit": "7 A"}
STANDS = ("21A", "boost", None)


def test_it_covers_what_it_names_to_the_last_digit() -> None:
    """The printed figure is covered by itself; documents are told state, figure and limit with the reason."""
    (told,) = with_acceptances([hot()], [accepts(**FULL)], RULE)
    assert (told.accepted, told.accepted_as) == ("known", "in state boost, up to 9 A, against 7 A")
    assert settled(hot(9.004), accepts(**FULL)) == [("21A", "boost", "known")]


@pytest.mark.parametrize(
    ("finding", "said", "words"),
    [
        (hot(9.01), {}, "It is accepted up to 9 A, and it is 9.01 A, 0.01 A more."),
        (hot(9.0, 6.99), {}, "It is accepted against 7 A, and the limit is 6.99 A now."),
        (hot(state="idle"), {}, "It is accepted for state boost alone."),
        (hot(state=""), {}, "It is accepted for state boost, and no state decides it."),
        (hot(wire="21C"), {}, "Its acceptance says too little to cover it: add wire: 21C."),
        (hot(wire="21C"), {"wire": "21T"}, "It is accepted for wire 21T alone."),
        (hot(), {"state": ""}, "Its acceptance says too little to cover it: add state: boost."),
        (hot(), {"up_to": ""}, "Its acceptance says too little to cover it: add up-to: 9.00 A."),
        (hot(), {"limit": ""}, "Its acceptance says too little to cover it: add limit: 7.00 A."),
        (hot(deciding=None), {}, "It is accepted up to a figure, and no figure decides it: take that out."),
    ],
)
def test_what_is_else_or_worse_stands_and_names_the_acceptance(finding: Finding, said: Any, words: str) -> None:
    """Worse by a hundredth, against a stricter limit, in another state, at another wire, or with less said."""
    told = with_acceptances([finding], [accepts(**(FULL | said))], RULE)
    (standing,) = (each for each in told if each.rule == "hot")
    assert standing.accepted is None
    assert standing.message == f"Wire 21A is hot. {words}"
    assert [each for _, each in standing.see] == ["accepted here"]


@pytest.mark.parametrize(
    ("text", "said"), [("9", "9 has no unit."), ("9 mm", ""), ("much", ""), ("1e9", "1e9 has no unit.")]
)
def test_a_figure_that_cannot_be_read_covers_nothing_and_is_told(text: str, said: str) -> None:
    """Without a unit, of another kind, no number at all."""
    told = with_acceptances([hot()], [accepts(**(FULL | {"up_to": text}))], RULE)
    assert [(each.rule, each.accepted) for each in told] == [("hot", None), ("unneeded-acceptance", None)]
    assert said in told[1].message


def test_any_state_is_said_and_still_ends_at_the_figure() -> None:
    """`any` covers every state and wire, up to the figure alone."""
    every = accepts(state="any", wire="any", up_to="9 A", limit="7 A")
    assert settled(hot(state="idle", wire="21C"), every) == [("21A", "idle", "known")]
    assert settled(hot(9.01, state="idle", wire="21C"), every) == [("21A", "idle", None)]


def test_what_is_accepted_in_one_state_lets_the_next_be_told() -> None:
    """The lesser finding of another state is told once the worst is accepted; accepted too, nothing stands."""
    found = hot(elsewhere=(hot(8.0, state="idle"), hot(7.5, state="cruise")))
    boost, idle = accepts(**FULL), accepts(state="idle", up_to="8 A", limit="7 A")
    assert settled(found) == [STANDS]
    assert settled(found, boost) == [("21A", "idle", None), ("21A", "boost", "known")]
    assert settled(found, boost, idle)[0] == ("21A", "cruise", None)
    assert settled(found, idle)[0] == STANDS


def test_one_of_several_things_leaves_the_others_standing() -> None:
    """A finding that lists a leg and a trunk: the leg is accepted, the trunk stands, and the other way round."""
    found = hot(subjects=("21A", "21T"))
    for mine, other in (("21A", "21T"), ("21T", "21A")):
        told = settled(found, accepts(subject=mine, **FULL))
        assert told == [(other, "boost", None), (mine, "boost", "known")]


def test_a_fault_of_the_file_cannot_be_accepted() -> None:
    """It stands, and its acceptance is reported."""
    fault = Finding("unknown-key", Severity.ERROR, "colr", PLACE, "No such key.")
    told = with_acceptances([fault], [accepts(rule="unknown-key", subject="colr")], RULE)
    assert [(each.rule, each.accepted) for each in told] == [("unknown-key", None), ("unneeded-acceptance", None)]
    assert "cannot be accepted" in told[1].message


def test_an_acceptance_in_a_state_without_the_finding_is_unneeded() -> None:
    """It names a state in which nothing is found: the finding stands, and the acceptance is told as well."""
    told = with_acceptances([hot()], [accepts(**(FULL | {"state": "idle"}))], RULE)
    assert [each.rule for each in told] == ["hot", "unneeded-acceptance"]
    assert "in state idle" in told[1].message


def test_a_share_of_the_supply_needs_no_limit() -> None:
    """A drop is accepted in per cent of the supply, as its limit is given; in volts with the limit beside it."""
    numbers = Number("loses", 1.0, "V"), Number("at most", 0.5, "V")
    drop = hot(deciding=at_most(*numbers, whole=Number("supply", 13.5, "V")))
    assert settled(drop, accepts(state="boost", up_to="7.4 %")) == [("21A", "boost", "known")]
    assert settled(drop, accepts(state="boost", up_to="7.3 %")) == [STANDS]
    assert settled(drop, accepts(state="boost", up_to="1.0 V")) == [STANDS]
    assert settled(drop, accepts(state="boost", up_to="1000 mV", limit="0.5 V")) == [("21A", "boost", "known")]


@settings(max_examples=examples(200), deadline=None)
@given(
    st.floats(0.1, 100), st.floats(0.1, 100), st.floats(0.1, 100), st.floats(0.1, 100), st.booleans(),
    st.sampled_from(["boost", "idle", ""]), st.sampled_from(["boost", "idle", "any", ""]),
)  # fmt: skip
def test_it_never_covers_what_is_worse(
    figure: float, limit: float, up_to: float, against: float, is_most: bool, state: str, said: str
) -> None:
    """Covered exactly where state, figure and limit all are what the acceptance says, or better."""
    numbers = Number("carries", figure, "A"), Number("allowed", limit, "A")
    finding = hot(state=state, deciding=(at_most if is_most else at_least)(*numbers))
    acceptance = accepts(state=said, up_to=f"{up_to:.2f} A", limit=f"{against:.2f} A")
    figure, limit, up_to, against = (round(each, 2) for each in (figure, limit, up_to, against))
    is_no_worse = figure <= up_to and limit >= against if is_most else figure >= up_to and limit <= against
    is_of_state = said == state or said == "any"
    told = [each.accepted for each in with_acceptances([finding], [acceptance], RULE) if each.rule == "hot"]
    assert told == (["known"] if is_no_worse and is_of_state else [None])


PAIRS = [
    ("wire-overload", "contact-overload"), ("wire-overload", "leg-too-short"),
    ("wire-overload", "covering-too-small"), ("wire-overload", "orphan-cavity"), ("wire-overload", "seal-misfit"),
    ("contact-overload", "wire-too-small"), ("contact-overload", "fuse-too-large"),
    ("contact-overload", "leg-too-short"), ("contact-overload", "excess-drop"),
    ("contact-overload", "bend-too-tight"), ("fuse-too-large", "orphan-cavity"),
    ("fuse-too-large", "leg-too-short"), ("fuse-too-large", "bend-too-tight"), ("fuse-too-small", "orphan-cavity"),
    ("fuse-too-small", "leg-too-short"), ("excess-drop", "orphan-cavity"), ("excess-drop", "leg-too-short"),
    ("over-temperature", "leg-too-short"), ("wire-too-small", "orphan-cavity"), ("unfused-feed", "leg-too-short"),
    ("wire-overload", "clips-too-far-apart"),
    ("sneak-path", "leg-too-short"), ("clips-too-far-apart", "leg-too-short"), ("driver-overload", "orphan-cavity"),
]  # fmt: skip


@cache
def both(pair: tuple[str, str]) -> str:
    """A shipped design with both faults; the first for which both can be made."""
    for path in DESIGNS:
        for one, other in (pair, pair[::-1]):
            first = MUTATORS[one][0](good(path))
            if first is None:
                continue
            second = MUTATORS[other][0](Good(first.text, physics_of(first.text)))
            # Two changes can write the same key twice, which is a fault of the file and no design.
            found = examine_text(second.text).findings if second is not None else ()
            if second is not None and set(pair) <= {each.rule for each in found}:
                return second.text
    raise LookupError(f"no shipped design can have {pair}")


def found_in(text: str) -> list[Finding]:
    physics = physics_of(text)
    return unsettled(RULES, (), physics.network, physics)[0]


def accepting(text: str, rule: str) -> str:
    """The text with everything accepted that a rule finds in it, as far as it goes."""
    lines: dict[str, None] = {}
    found = [each for each in found_in(text) if each.rule == rule]
    for name in dict.fromkeys(name for each in found for name in each.subjects or (each.subject,)):
        said = {"rule": rule, "subject": name} | completed(accepts(rule=rule, subject=name), found)
        keys = ", ".join(f"{key}: {value}" for key, value in said.items())
        lines[f"  - {{{keys}, reason: known}}\n"] = None
    return text.rstrip("\n") + "\naccept:\n" + "".join(lines)


def standing(text: str, rule: str) -> set[tuple[str, str]]:
    """Subjects of what stands of a rule, each with the message."""
    told = (each for each in examine_text(text).findings if each.rule == rule and each.accepted is None)
    return {(name, each.message) for each in told for name in each.subjects or (each.subject,)}


def test_there_are_twenty_four_pairs() -> None:
    """Twenty-four different pairs."""
    assert len(set(PAIRS)) == 24


@pytest.mark.parametrize(("one", "two"), some(PAIRS, 3))
def test_of_two_faults_the_one_that_is_not_accepted_is_still_told(one: str, two: str) -> None:
    """Each of the two is accepted in turn: it no longer stands, and the other stands as before, word for word."""
    text = both((one, two))
    for accepted, other in ((one, two), (two, one)):
        before = standing(text, other)
        assert before != set()
        after = accepting(text, accepted)
        assert standing(after, accepted) == set()
        assert standing(after, other) == before
        assert "unneeded-acceptance" not in {each.rule for each in examine_text(after).findings}
