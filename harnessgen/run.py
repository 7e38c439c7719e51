"""The one orchestrator: it calls the stages in their order, and touches neither terminal nor disk.

The command line and the Python interface share it, so that both see the same findings and write the same documents.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from harnessgen.catalogue import RULES, rule_named
from harnessgen.design.reading.read import TextOf, UnreadableFile, read_files
from harnessgen.design.understand import Understood, understand
from harnessgen.evidence.finding import Finding, from_fault
from harnessgen.evidence.rule import Requirement
from harnessgen.measures.work import Work, one_by_one
from harnessgen.remedies.fixes import runs_for, with_mends
from harnessgen.rules.examine import Examination, examine, examine_bench
from harnessgen.source.near import bounded_search

if TYPE_CHECKING:
    from harnessgen.bench.proof import Proofs
    from harnessgen.network.network import Network
    from harnessgen.physics.physics import Physics
    from harnessgen.remedies.placing.place import Placing
    from harnessgen.remedies.sizing.size import Sizing

_FILE_FAULTY = "the file has faults"
_UNROUTED = "some circuits could not be laid along the route"


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

    Fixes are those that were tried and pass the rules. `quick` leaves the fault simulation out; the rules on it are
    then not examined. Many faults are shared out by `work`.

    Raises:
        UnreadableFile: the main file cannot be had.
        RuleCrash: a check failed by itself.
    """
    checked = mended(examined(main, text_of), text_of)
    return checked if quick else prove(checked, work)


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
    bench = {rule.name for rule in RULES if rule.need is Requirement.BENCH}
    found = checked.examination
    return Examination(
        tuple(each for each in found.findings if each.rule not in bench),
        tuple(each for each in found.not_examined if each.rule not in bench),
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
    from harnessgen.remedies.changes import Change, changed_texts

    texts = read_files(main, text_of).texts
    changes = [Change(place, new) for name, text in texts.items() for place, new in upgrades(name, text)]
    changed = changed_texts(texts, changes)
    return Upgraded({**texts, **changed}, tuple(changed))


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
