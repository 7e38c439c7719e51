"""The line from text to findings, for tests: read, understand, network, physics, rules; no mends are tried."""

from collections.abc import Iterable, Mapping
from pathlib import Path

from harnessgen.catalogue import RULES, rule_named
from harnessgen.design.reading.read import TextOf, UnreadableFile, read_files
from harnessgen.design.understand import understand
from harnessgen.evidence.finding import Finding, Severity, from_fault
from harnessgen.evidence.rule import Requirement
from harnessgen.network.network import build_network
from harnessgen.physics.physics import Physics
from harnessgen.rules.examine import Examination, examine

MAIN = "design.yaml"
FLAT_SIX = (Path(__file__).parents[1] / "designs" / "flat-six.yaml").read_text(encoding="utf-8")


def physics_of(text: str) -> Physics:
    """The physics of a design without faults."""
    understood = understand(read_files(MAIN, text_of({MAIN: text})))
    assert understood.faults == ()
    assert understood.expanded is not None
    network = build_network(understood.expanded, understood.parts)
    assert network.faults == ()
    return Physics(network)


def text_of(texts: Mapping[str, str]) -> TextOf:
    """Gives the text of a file, as the reader wants it."""

    def one(name: str) -> str:
        if name not in texts:
            raise UnreadableFile("no such file")
        return texts[name]

    return one


def examine_text(text: str | Mapping[str, str]) -> Examination:
    """What the rules find in a design of one text, or of several files of which `design.yaml` is the first.

    The rules on the fault simulation are no matter of it.
    """
    found = _examined(text)
    bench = {rule.name for rule in RULES if rule.need is Requirement.BENCH}
    return Examination(found.findings, tuple(each for each in found.not_examined if each.rule not in bench))


def _examined(text: str | Mapping[str, str]) -> Examination:
    texts = {MAIN: text} if isinstance(text, str) else text
    understood = understand(read_files(MAIN, text_of(texts)))
    found = [from_fault(fault, rule_named(fault.rule).severity) for fault in understood.faults]
    accepted = understood.written.accept if understood.written is not None else ()
    if understood.expanded is None:
        return examine(RULES, found, None, None, accepted, "the file has faults")
    network = build_network(understood.expanded, understood.parts)
    if network.faults:
        found += [from_fault(fault) for fault in network.faults]
        return examine(RULES, found, None, None, accepted, "some circuits could not be laid along the route")
    return examine(RULES, found, network, Physics(network), accepted, "")


def told(text: str | Mapping[str, str]) -> list[tuple[str, int, str]]:
    """Rule, line and subject of each error and warning, in the order of the report."""
    return [(each.rule, each.place.line, each.subject) for each in beyond_notes(examine_text(text).findings)]


def beyond_notes(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings without the notes, which a sound design may have."""
    return tuple(each for each in findings if each.severity is not Severity.NOTE)


def only(text: str) -> Finding:
    """The one finding of a design, notes left aside."""
    (finding,) = beyond_notes(examine_text(text).findings)
    return finding


def on_studs(text: str) -> str:
    """The design with rings on its fuses and relays, so that a second wire has room there."""
    return text.replace("terminal: tab-6.3", "terminal: ring-m5")


def edited(*changes: tuple[str, str], text: str = FLAT_SIX) -> str:
    """A design with pieces of its text replaced, each of which stands there once."""
    for old, new in changes:
        assert text.count(old) == 1, f"{text.count(old)} times {old!r}"
        text = text.replace(old, new)
    return text


def line_of(text: str, piece: str) -> int:
    """Line in which a piece of a text begins that stands there once."""
    assert text.count(piece) == 1, f"{text.count(piece)} times {piece!r}"
    return text[: text.index(piece)].count("\n") + 1


def underlined(text: str, finding: Finding) -> str:
    """The piece of the text that a finding points at."""
    return text[finding.place.start : finding.place.end]


def circuits(*lines: str) -> tuple[str, str]:
    """The change that adds circuits to the flat six."""
    added = "".join(f"  {line}\n" for line in lines)
    return "  90: {from: C1/1, to: G1", f"{added}  90: {{from: C1/1, to: G1"
