"""The one orchestrator: it calls the stages in their order, and touches neither terminal nor disk.

The command line and the Python interface share it, so that both see the same findings and write the same documents.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from harnessgen.catalogue import RULES, rule_named
from harnessgen.design.reading.read import TextOf, UnreadableFile, read_files
from harnessgen.design.understand import Understood, understand
from harnessgen.evidence.finding import Finding, from_fault
from harnessgen.evidence.rule import Requirement
from harnessgen.measures.work import Work, one_by_one
from harnessgen.remedies.changes import Change, OverlappingChanges, changed_texts
from harnessgen.remedies.fixes import runs_for, with_mends
from harnessgen.rules.examine import Examination, examine, examine_bench, unsettled
from harnessgen.source.near import bounded_search
from harnessgen.source.place import Place

if TYPE_CHECKING:
    from harnessgen.bench.proof import Proofs
    from harnessgen.network.network import Network
    from harnessgen.physics.physics import Physics
    from harnessgen.remedies.placing.place import Placing
    from harnessgen.remedies.sizing.size import Sizing

_FILE_FAULTY = "the file has faults"
_UNROUTED = "some circuits could not be laid along the route"
_BENCH_RULES = frozenset(rule.name for rule in RULES if rule.need is Requirement.BENCH)
_MOST_PROOFS = 4
"""Proofs of single fixes that one check may spend, where the chosen ones do not pass together."""


@dataclass(frozen=True)
class Checked:
    """A design after its check. `network` and `physics` are None where the faults of the file leave no conclusions.

    `proofs` is the fault simulation of its test procedures; None too where it was left out.
    """

    main: str
    understood: Understood
    network: "Network | None"
    physics: "Physics | None"
    examination: Examination
    proofs: "Proofs | None" = None

    @property
    def exit_status(self) -> int:
        """2 when no design results, 1 when an error stands that nobody accepted, else 0."""
        if self.understood.written is None:
            return 2
        return 0 if self.examination.is_for_build else 1


def read(main: str, text_of: TextOf) -> Understood:
    """The design in the file named `main`; `text_of` gives the text of a file by its name.

    Raises:
        UnreadableFile: the main file cannot be had.
    """
    with bounded_search():
        return understand(read_files(main, text_of))


def check(main: str, text_of: TextOf, *, quick: bool = False, work: Work = one_by_one) -> Checked:
    """Read the design, build its network, solve it, prove its test procedures, and run every rule.

    Fixes are those that were tried and pass the rules; the chosen ones are proved too. `quick` leaves the fault
    simulation out; the rules on it are then not examined. Many faults are shared out by `work`.

    Raises:
        UnreadableFile: the main file cannot be had.
        RuleCrash: a check failed by itself.
    """
    checked = mended(examined(main, text_of), text_of)
    return checked if quick else with_proved_fixes(prove(checked, work), text_of, work)


def with_proved_fixes(checked: Checked, text_of: TextOf, work: Work = one_by_one) -> Checked:
    """A proved check without those fixes by which faults would go untested that do not as the design stands.

    All chosen fixes are proved once in one text. Only where that brings a fault about, or where it is to be told which
    of them lets the tests show more, are they proved one by one, as far as `_MOST_PROOFS` goes. What goes untested for
    want of a fix alone is folded beneath the finding of that fix.

    Raises:
        RuleCrash: a check failed by itself.
    """
    findings = list(checked.examination.findings)
    chosen = [each for each in findings if each.chosen is not None]
    if checked.proofs is None or not chosen:
        return checked
    known = _untested(checked)

    def left(causes: Sequence[Finding]) -> set[str] | None:
        """What goes untested with these fixes; None where they bring a fault about or cannot be proved."""
        changes = [
            Change(place, new) for each in causes if each.chosen is not None for place, new in each.chosen.changes
        ]
        try:
            changed = changed_texts(checked.understood.texts, changes)
        except OverlappingChanges:
            return None
        after = prove(examined(checked.main, lambda name: changed[name] if name in changed else text_of(name)), work)
        untested = _untested(after)
        return untested if after.proofs is not None and untested <= known else None

    together = left(chosen)
    if together == known:
        return checked
    alone = {id(chosen[0]): together}
    if len(chosen) > 1:
        alone = {id(each): left([each]) for each in chosen[:_MOST_PROOFS]}
    for each in chosen:
        untested = alone.get(id(each))
        if untested is None and together is None:
            findings[findings.index(each)] = replace(each, mend="", chosen=None)
        elif untested is not None:
            findings = _with_untested(findings, each, untested)
    return replace(checked, examination=replace(checked.examination, findings=tuple(findings)))


def _with_untested(findings: list[Finding], cause: Finding, left: set[str]) -> list[Finding]:
    """The findings, with what goes untested for want of a fix alone beneath the finding of that fix."""
    gone = [each for each in findings if _is_untested(each) and left.isdisjoint(each.subjects or (each.subject,))]
    beneath = tuple(replace(each, caused_by=cause.id) for each in gone)
    told = replace(cause, consequences=(*cause.consequences, *beneath))
    return [told if each is cause else each for each in findings if each not in gone]


def _is_untested(finding: Finding) -> bool:
    return finding.rule in _BENCH_RULES and finding.is_open_error


def _untested(checked: Checked) -> set[str]:
    """What errors of the rules on the fault simulation are about."""
    errors = filter(_is_untested, checked.examination.findings)
    return {name for each in errors for name in each.subjects or (each.subject,)}


def examined(main: str, text_of: TextOf) -> Checked:
    """As `check`, but no fix is tried and the test procedures are not proved.

    Raises:
        UnreadableFile: the main file cannot be had.
        RuleCrash: a check failed by itself.
    """
    with bounded_search():
        return _examined(main, text_of)


def _examined(main: str, text_of: TextOf) -> Checked:
    understood = read(main, text_of)
    found = [from_fault(fault, rule_named(fault.rule).severity) for fault in understood.faults]
    network: Network | None = None
    physics: Physics | None = None
    why_not = _FILE_FAULTY
    if understood.expanded is not None:
        network, physics, faults = _network(understood)
        found += faults
        why_not = _UNROUTED
    accepted = understood.written.accept if understood.written is not None else ()
    examination = examine(RULES, found, network, physics, accepted, why_not)
    return Checked(main, understood, network, physics, examination)


def mended(checked: Checked, text_of: TextOf) -> Checked:
    """The same check, its findings with the mends that were tried and pass.

    Raises:
        RuleCrash: a check failed by itself.
    """
    main, texts = checked.main, checked.understood.texts

    def again(changed: Mapping[str, str]) -> Examination:
        return _rules_alone(examined(main, lambda name: changed[name] if name in changed else text_of(name)))

    wires = len(checked.network.wires) if checked.network is not None else 0
    errors = sum(finding.is_open_error for finding in checked.examination.findings)
    found = checked.examination.findings
    suspects: Iterable[Finding] = ()
    if checked.network is not None:
        from harnessgen.rules.suspected_zones import suspected_zones

        suspects = suspected_zones(found, checked.network)
    findings = with_mends(found, texts, again, runs_for(wires, errors), suspects)
    return replace(checked, examination=Examination(tuple(findings), checked.examination.not_examined))


def _rules_alone(checked: Checked) -> Examination:
    """The examination without the rules on the fault simulation, to hold a changed design against."""
    found = checked.examination
    return Examination(
        tuple(each for each in found.findings if each.rule not in _BENCH_RULES),
        tuple(each for each in found.not_examined if each.rule not in _BENCH_RULES),
    )


def better_places(checked: Checked, text_of: TextOf, aim: str) -> "Placing | None":
    """Better places of splices and breakouts of a checked design; None where its faults leave no network.

    `aim` is `copper`, `diameter` or `reach`.

    Raises:
        RuleCrash: a check failed by itself.
    """
    # Only this command needs the solver of mixed-integer programs.
    from harnessgen.remedies.placing.model import Aim
    from harnessgen.remedies.placing.place import place

    if checked.physics is None:
        return None

    def again(changed: Mapping[str, str]) -> "tuple[Examination, Physics | None]":
        made = examined(checked.main, lambda name: changed[name] if name in changed else text_of(name))
        return _rules_alone(made), made.physics

    return place(checked.physics, _rules_alone(checked), checked.understood.texts, again, Aim(aim))


def prove(checked: Checked, work: Work = one_by_one) -> Checked:
    """Simulate every fault under every step of the test procedures, and examine the rules on what they detect.

    Many faults are shared out by `work`. Nothing is done where it was done before, or where there is no network.

    Raises:
        RuleCrash: a check failed by itself.
    """
    if checked.network is None or checked.physics is None or checked.proofs is not None:
        return checked
    from harnessgen.bench.proof import proofs_of
    from harnessgen.bench.undetected import with_missed

    proofs = with_missed(proofs_of(checked.network, checked.physics, work))
    accepted = checked.understood.written.accept if checked.understood.written is not None else ()
    examination = examine_bench(RULES, checked.examination, proofs, accepted)
    return replace(checked, examination=examination, proofs=proofs)


@dataclass(frozen=True)
class Sized:
    """A design with the smallest sizes of its wires: as it stands, the sizes, and the design with them.

    `sizing` and `after` are None where the faults of the file leave nothing to size. `texts` are all files of the sized
    design, by name; `before` and `after` hold findings without tried mends.
    """

    before: Checked
    sizing: "Sizing | None"
    texts: Mapping[str, str]
    after: Checked | None


def size(main: str, text_of: TextOf) -> Sized:
    """The smallest sizes that a design can use, written into its text, and the whole line run on that text again.

    Raises:
        UnreadableFile: the main file cannot be had.
        RuleCrash: a check failed by itself.
        RuntimeError: the changed text does not say what was found, which is a fault of the program.
    """
    before = examined(main, text_of)
    texts = before.understood.texts
    if before.network is None or before.understood.written is None:
        return Sized(before, None, texts, None)
    from harnessgen.remedies.sizing.size import smallest_sizes
    from harnessgen.remedies.sizing.text import sized_texts

    sizing = smallest_sizes(before.network, before.understood.written.accept)
    wanted = {each.wire.mark: each.size for each in sizing.wires}
    changed = {**texts, **sized_texts(before.network, main, texts, wanted)}
    after = prove(examined(main, lambda name: changed[name] if name in changed else text_of(name)))
    if after.network is None or {wire.mark: wire.size for wire in after.network.wires} != wanted:
        raise RuntimeError("the sizes could not be written into the text of the design")
    return Sized(before, sizing, changed, after)


@dataclass(frozen=True)
class Upgraded:
    """A design written in the present format: all its files by name, and those among them that changed."""

    texts: Mapping[str, str]
    changed: tuple[str, ...]


def upgrade(main: str, text_of: TextOf) -> Upgraded:
    """The files of a design in the present format, edited at the places that differ; remarks and order stay.

    Raises:
        UnreadableFile: the main file cannot be had.
    """
    from harnessgen.design.reading.upgrade import upgrades

    texts = read_files(main, text_of).texts
    changes = [Change(place, new) for name, text in texts.items() for place, new in upgrades(name, text)]
    present = {**texts, **changed_texts(texts, changes)}
    added = [Change(place, new) for place, new in _said_of_acceptances(main, present)]
    present |= changed_texts(present, added)
    return Upgraded(present, tuple(name for name, text in present.items() if text != texts[name]))


def _said_of_acceptances(main: str, texts: Mapping[str, str]) -> Iterator[tuple[Place, str]]:
    """What the acceptances of a design lack to cover what it finds today; nothing where the design has no network."""
    from harnessgen.design.reading.upgrade import with_keys
    from harnessgen.rules.acceptance import completed

    understood = read(main, lambda name: texts[name])
    if understood.written is None or understood.expanded is None or not understood.written.accept:
        return
    network, physics, faults = _network(understood)
    found, _ = unsettled(RULES, faults, network, physics)
    for each in understood.written.accept:
        yield from with_keys(texts[each.place.file], each.where("reason"), "reason", completed(each, found))


def _network(understood: Understood) -> "tuple[Network | None, Physics | None, list[Finding]]":
    # Imported here so that a file with faults is told of them before numpy is loaded.
    from harnessgen.network.network import build_network
    from harnessgen.physics.physics import Physics

    assert understood.expanded is not None
    network = build_network(understood.expanded, understood.parts)
    if network.faults:
        return None, None, [from_fault(fault) for fault in network.faults]
    return network, Physics(network), []


def examine_text(text: str, name: str = "design.yaml", *, quick: bool = True) -> Checked:
    """Check a design in one text, by default without the fault simulation.

    Raises:
        RuleCrash: a check failed by itself.
    """

    def text_of(wanted: str) -> str:
        if wanted != name:
            raise UnreadableFile("a design in one text has no other files")
        return text

    return check(name, text_of, quick=quick)
