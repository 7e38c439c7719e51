"""Findings that one value of the file has in common: the ambient of a zone, or the wire family of the whole design."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain

from harnessgen.evidence.finding import Finding, Later, Number, Proposal, Severity, at_most
from harnessgen.measures.designator import natural_key
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network
from harnessgen.rules.loading.hotter_families import families_for_all
from harnessgen.source.kind import names_in
from harnessgen.source.place import Place

_SNEAK_PATH = "sneak-path"
_OVER_TEMPERATURE = "over-temperature"
_OF_A_FAMILY = ("wire-overload", "fuse-too-large")
_LEAST_KINDS = 2
_LEAST_WIRES = 3
_COOLER_BY_K = (0, 15, 30, 45)
_WORKSHOP_DEGC = 25


def with_common_causes(findings: Sequence[Finding], network: Network) -> list[Finding]:
    """The findings, with what a hot zone does to things of several kinds told as one at the zone's ambient.

    A load that carries current in several states that list it as off is told once.

    Where several wires are too thin, each of these findings has other families for the whole design as proposals too.
    """
    zones: dict[Place, list[Finding]] = {}
    findings = _states_together(findings)
    for finding in findings:
        if (place := _zone_place(finding)) is not None:
            zones.setdefault(place, []).append(finding)
    by_zone = {place: group for place, group in zones.items() if len({_part(each) for each in group}) >= _LEAST_KINDS}
    gone = {id(each) for group in by_zone.values() for each in group}
    left = [each for each in findings if id(each) not in gone]
    return _with_families([*left, *(_of_zone(network, place, group) for place, group in by_zone.items())], network)


def _states_together(findings: Sequence[Finding]) -> list[Finding]:
    """The findings, with what carries current in several states that list it as off told once, for all of them."""
    told: list[Finding] = []
    by_loads: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        if finding.rule == _SNEAK_PATH and finding.accepted is None and finding.numbers:
            by_loads.setdefault(finding.subjects or (finding.subject,), []).append(finding)
        else:
            told.append(finding)
    for group in by_loads.values():
        worst = max(group, key=lambda each: each.numbers[0].value)
        states = [each.numbers[0].source.removeprefix("in state ") for each in group]
        if len(group) > 1:
            message = f"{worst.subject} carries current in states {names_in(states)}, which list it as off."
            pairs = zip(group, states, strict=True)
            others = tuple((each.place, f"{state} lists it as off") for each, state in pairs if each is not worst)
            worst = replace(worst, message=message, see=(*worst.see, *others))
        told.append(worst)
    return told


def _zone_place(finding: Finding) -> Place | None:
    """Where the file gives the ambient by which an open finding stands; None where no zone alone is too hot."""
    is_by_zone = finding.rule == _OVER_TEMPERATURE and finding.accepted is None and finding.see
    if not is_by_zone or not finding.numbers or finding.numbers[0].name != "ambient":
        return None
    place, words = finding.see[0]
    return place if words.startswith("zone ") else None


def _part(finding: Finding) -> str:
    """The family or part that does not stand its zone."""
    return finding.numbers[1].source.partition(",")[0]


def _of_zone(network: Network, place: Place, group: list[Finding]) -> Finding:
    """One finding for a zone, with what stands least; its mends: a cooler zone, or all the parts changed at once."""
    zone = next(name for name, each in network.design.zones.items() if each.where("ambient_degc") == place)
    ambient, least = group[0].numbers[0], min((each.numbers[1] for each in group), key=lambda each: each.value)
    names = sorted({name for each in group for name in each.subjects or (each.subject,)}, key=natural_key)
    worst = min(group, key=lambda each: each.numbers[1].value)
    stands = replace(least, source=f"{worst.subject}: {least.source}")
    parts = dict.fromkeys(_part(each) for each in group)
    message = f"Zone {zone} is hotter than {names_in(parts)} stand, which lie in it."
    cooler = (
        Proposal(place, f"{degc} degC", f"{degc} degC for zone {zone}, if a measurement bears it out")
        for degc in (plain_number(least.value - step, 1) for step in _COOLER_BY_K)
    )
    # What a zone at the temperature of a workshop would not have follows from its heat.
    workshop = Proposal(place, f"{_WORKSHOP_DEGC} degC", "", is_probe=True)
    numbers = (Number("ambient", ambient.value, "degC", f"zone {zone}", 0), stands)
    return replace(
        worst,
        place=place,
        message=message,
        numbers=numbers,
        deciding=at_most(*numbers),
        subjects=tuple(names),
        see=(),
        proposals=(*cooler, *_all_changed(group), workshop),
    )


def _all_changed(group: list[Finding]) -> Iterator[Proposal]:
    """Every part of a zone in one that stands it, if each has such a one."""
    changes: dict[Place, Proposal] = {}
    words: dict[str, None] = {}
    for finding in group:
        changes_it = [each for each in finding.proposals if not each.is_advice]
        either = [each for each in changes_it if each.is_other_way] or changes_it
        if not either:
            return
        changes[either[0].place._replace(pattern="")] = either[0]
        is_bare = either[0].words == either[0].text
        words[f"{either[0].words} from {finding.subject}" if is_bare else either[0].words] = None
    one, *others = changes.values()
    besides = (*one.besides, *chain.from_iterable(((each.place, each.text), *each.besides) for each in others))
    yield Proposal(one.place, one.text, names_in(words), besides, is_other_way=True)


def _with_families(findings: list[Finding], network: Network) -> list[Finding]:
    thin = [each for each in findings if each.rule in _OF_A_FAMILY and each.severity is Severity.ERROR]
    if sum(each.accepted is None for each in thin) < _LEAST_WIRES:
        return findings
    known = {id(each) for each in thin}
    return [_with_family(each, network) if id(each) in known else each for each in findings]


def _with_family(finding: Finding, network: Network) -> Finding:
    own = finding.proposals
    return replace(finding, proposals=Later(lambda: (*own, *families_for_all(network))))
