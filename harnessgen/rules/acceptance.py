"""What the design accepts of the findings: this thing, in this state, at this wire, up to this figure, and no more."""

import math
import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace

from harnessgen.design.records.state import Acceptance
from harnessgen.evidence.finding import Deciding, Direction, Finding, Number, Severity, accept
from harnessgen.evidence.rule import Requirement, Rule
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import QuantityError, dimension_of, parse_quantity
from harnessgen.source.kind import names_in
from harnessgen.source.near import did_you_mean
from harnessgen.source.place import Place

UNNEEDED = "unneeded-acceptance"
ANY = "any"
"""What an acceptance says instead of a state or wire, to cover all of them."""
_INFINITE = "infinite"
_OF_THE_FILE = (Requirement.FILE, Requirement.DESIGN)
_LETTER = re.compile(r"[A-Za-zµΩ°%]")
_ROUNDING = 1e-9


def with_acceptances(
    findings: Sequence[Finding],
    acceptances: Sequence[Acceptance],
    rules: Sequence[Rule],
    skipped: Collection[str] = (),
) -> list[Finding]:
    """The findings with what is accepted of them, and a finding for each acceptance that is no use.

    What is accepted in one state lets the other states be told; what is accepted for one of several things lets the
    others stand. Nothing is said of acceptances of the rules that are `skipped`.
    """
    if not acceptances:
        return list(findings)
    faults_of_file = {rule.name for rule in rules if rule.need in _OF_THE_FILE}
    book = _Book([each for each in acceptances if each.rule not in faults_of_file])
    settled = [told for finding in findings for told in book.settled(finding)]
    known = {rule.name for rule in rules}
    for each in acceptances:
        if each.rule in faults_of_file:
            settled.append(_of_the_file(each))
        elif id(each) not in book.used and each.rule not in skipped:
            settled.append(_unneeded(each, known, findings))
        settled += book.unreadable.get(id(each), ())
    return settled


@frozen
class _Answer:
    """What an acceptance says of a finding: nothing in the way where it covers it, else why not, the nearest last."""

    why_not: str = ""
    nearness: int = 0
    place: Place | None = None


_COVERED = _Answer()


class _Book:
    """The acceptances by rule and subject, and which of them met a finding."""

    def __init__(self, acceptances: Sequence[Acceptance]) -> None:
        self.used: set[int] = set()
        self.unreadable: dict[int, list[Finding]] = {}
        self._by_thing: dict[tuple[str, str], list[Acceptance]] = {}
        for each in acceptances:
            self._by_thing.setdefault((each.rule, each.subject), []).append(each)

    def settled(self, finding: Finding) -> Iterator[Finding]:
        """The finding as it stands, what is accepted of it, or both."""
        if not any((finding.rule, name) in self._by_thing for name in _names(finding)):
            yield finding
            return
        accepted: dict[tuple[str, str, str, str], Finding] = {}
        is_told = False
        for each in (finding, *finding.elsewhere):
            by_words: dict[tuple[str, str], list[str]] = {}
            left: dict[str, _Answer] = {}
            for name in _names(each):
                covering, answer = self._judged(each, name)
                if covering is not None:
                    by_words.setdefault((covering.reason, _as_words(covering)), []).append(name)
                else:
                    left[name] = answer
            for (reason, words), names in by_words.items():
                # The worst comes first; less of the same is not listed again.
                one = accept(replace(_of(each, names), elsewhere=()), reason, words)
                accepted.setdefault((one.subject, one.state, one.wire, words), one)
            if left and not is_told:
                is_told = True
                said = " ".join(dict.fromkeys(answer.why_not for answer in left.values() if answer.why_not))
                places = dict.fromkeys(answer.place for answer in left.values() if answer.place is not None)
                yield replace(
                    _of(each, list(left)),
                    message=f"{each.message} {said}".rstrip(),
                    see=(*each.see, *((place, "accepted here") for place in places)),
                    elsewhere=(),
                )
        yield from accepted.values()

    def _judged(self, finding: Finding, name: str) -> tuple[Acceptance | None, _Answer]:
        """The acceptance that covers a finding for one of its things; else None, with what the nearest one says."""
        nearest, covering = _Answer(), None
        for acceptance in self._by_thing.get((finding.rule, name), ()):
            try:
                answer = _answer(acceptance, finding)
            except _Unreadable as error:
                self.used.add(id(acceptance))
                place = acceptance.where(error.field)
                told = Finding(UNNEEDED, Severity.WARNING, name, place, error.message, mend=error.mend)
                self.unreadable[id(acceptance)] = [told]
                continue
            if answer.nearness != _OTHER:
                self.used.add(id(acceptance))
            if answer is _COVERED:
                covering = covering or acceptance
            elif answer.nearness > nearest.nearness:
                nearest = replace(answer, place=acceptance.where("rule"))
        return covering, nearest


def _names(finding: Finding) -> tuple[str, ...]:
    return finding.subjects or (finding.subject,)


def _of(finding: Finding, names: list[str]) -> Finding:
    """The finding for some of its things."""
    if len(names) == len(_names(finding)):
        return finding
    subject = finding.subject if finding.subject in names else names[0]
    return replace(finding, subject=subject, subjects=tuple(names) if len(names) > 1 else ())


_OTHER, _SILENT, _WORSE = 1, 2, 3
"""How near an acceptance comes that does not cover: of another state or wire, says too little, is exceeded."""


def _answer(acceptance: Acceptance, finding: Finding) -> _Answer:
    missing: list[str] = []
    for noun, said, found in (("state", acceptance.state, finding.state), ("wire", acceptance.wire, finding.wire)):
        if said and said not in (found, ANY):
            why = f"for {noun} {said} alone" if found else f"for {noun} {said}, and no {noun} decides it"
            return _Answer(f"It is accepted {why}.", _OTHER)
        if found and not said:
            missing.append(f"{noun}: {found}")
    deciding = finding.deciding
    if deciding is None:
        if acceptance.up_to or acceptance.limit:
            return _Answer("It is accepted up to a figure, and no figure decides it: take that out.", _SILENT)
    else:
        figures = wanted_figures(deciding)
        is_share = "%" in acceptance.up_to and deciding.share is not None
        missing += [f"up-to: {figures['up-to']}"] if not acceptance.up_to else []
        needs_limit = "limit" in figures or (bool(acceptance.up_to) and not is_share and not deciding.is_set)
        if needs_limit and not acceptance.limit and not is_share:
            missing.append(f"limit: {number_words(deciding.limit)}")
    if missing:
        return _Answer(f"Its acceptance says too little to cover it: add {names_in(missing)}.", _SILENT)
    return _held_against(acceptance, deciding) if deciding is not None else _COVERED


def _held_against(acceptance: Acceptance, deciding: Deciding) -> _Answer:
    """Whether the figure is no worse, and its limit no stricter, than what is accepted."""
    figure = deciding.share if "%" in acceptance.up_to and deciding.share is not None else deciding.number
    up_to = _read(acceptance.up_to, figure, "up_to")
    sign = 1.0 if deciding.direction is Direction.AT_MOST else -1.0
    value = _printed(figure)
    if not sign * value <= sign * up_to + _ROUNDING:
        way, more = ("up to", "more") if sign > 0 else ("down to", "less")
        by = replace(figure, value=abs(value - up_to))
        excess = f", {number_words(by)} {more}" if math.isfinite(by.value) else ""
        words = f"It is accepted {way} {acceptance.up_to}, and it is {number_words(figure)}{excess}."
        return _Answer(words, _WORSE)
    if not acceptance.limit:
        return _COVERED
    limit = _read(acceptance.limit, deciding.limit, "limit")
    if not sign * _printed(deciding.limit) >= sign * limit - _ROUNDING:
        words = f"It is accepted against {acceptance.limit}, and the limit is {number_words(deciding.limit)} now."
        return _Answer(words, _WORSE)
    return _COVERED


def wanted_figures(deciding: Deciding) -> dict[str, str]:
    """What an acceptance of such a finding has to say of its figure: `up-to`, and `limit` where the design moves it."""
    if deciding.share is not None:
        return {"up-to": number_words(deciding.share)}
    figures = {"up-to": number_words(deciding.number)}
    return figures if deciding.is_set else figures | {"limit": number_words(deciding.limit)}


def completed(acceptance: Acceptance, findings: Iterable[Finding]) -> dict[str, str]:
    """What an acceptance has to say besides, to cover what is found today, by the names of its keys.

    Where several states or wires are found it has to be `any`, with the worst figure and the strictest limit.
    """
    met = [
        each
        for finding in findings
        if finding.rule == acceptance.rule and acceptance.subject in _names(finding)
        for each in (finding, *finding.elsewhere)
        if acceptance.state in ("", ANY, each.state) and acceptance.wire in ("", ANY, each.wire)
    ]
    wanted: dict[str, str] = {}
    for noun, said, names in (
        ("state", acceptance.state, dict.fromkeys(each.state for each in met if each.state)),
        ("wire", acceptance.wire, dict.fromkeys(each.wire for each in met if each.wire)),
    ):
        if names and not said:
            wanted[noun] = next(iter(names)) if len(names) == 1 else ANY
    decided = [each.deciding for each in met if each.deciding is not None]
    alike = [each for each in decided if each.number.unit == decided[0].number.unit]
    if not alike:
        return wanted
    is_at_most = alike[0].direction is Direction.AT_MOST
    worst, least = (max, min) if is_at_most else (min, max)
    if acceptance.up_to:
        is_share = "%" in acceptance.up_to and alike[0].share is not None
        has_limit = is_share or alike[0].is_set
    else:
        figures = [each.share or each.number for each in alike]
        wanted["up-to"] = number_words(worst(figures, key=lambda each: each.value))
        has_limit = "limit" not in wanted_figures(alike[0])
    if not has_limit and not acceptance.limit:
        wanted["limit"] = number_words(least((each.limit for each in alike), key=lambda each: each.value))
    return wanted


def _printed(number: Number) -> float:
    """The value as it is printed, which is what the builder could write down."""
    return round(number.value, number.decimals) if math.isfinite(number.value) else number.value


def number_words(number: Number) -> str:
    """A number as an acceptance writes it: `7.4 %`, `11.20 A`, `infinite`."""
    if not math.isfinite(number.value):
        return _INFINITE
    return f"{number.value:.{number.decimals}f} {number.unit if number.unit != '1' else ''}".rstrip()


class _Unreadable(ValueError):
    """A figure of an acceptance that is no quantity of the kind that decides."""

    def __init__(self, field: str, message: str, mend: str) -> None:
        super().__init__(message)
        self.field, self.message, self.mend = field, message, mend


def _read(text: str, like: Number, field: str) -> float:
    """The value of a quantity, in the unit of the number that it is held against.

    Raises:
        _Unreadable: it is no quantity of that kind, or lacks its unit.
    """
    if text == _INFINITE:
        return math.inf
    dimension, example = dimension_of(like.unit), number_words(like)
    if dimension is None:
        raise _Unreadable(field, f"{like.name} cannot be accepted up to a figure.", "take it out")
    if like.unit != "1" and (_is_bare(text) or not _LETTER.search(text)):
        raise _Unreadable(field, f"{text} has no unit.", f"write it as {example} is written")
    try:
        value = parse_quantity(text, dimension).value
    except QuantityError as error:
        raise _Unreadable(field, f"{error.problem}.", error.remedy or f"write it as {example} is written") from error
    return value / float(dimension.units.get(like.unit, 1))


def _is_bare(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def _as_words(acceptance: Acceptance) -> str:
    """How far something is accepted, for the documents: `in state boost, up to 7.4 %`."""
    state = "every state" if acceptance.state == ANY else f"state {acceptance.state}"
    wire = "every wire" if acceptance.wire == ANY else f"wire {acceptance.wire}"
    parts = [f"in {state}"] if acceptance.state else []
    parts += [f"at {wire}"] if acceptance.wire else []
    parts += [f"up to {acceptance.up_to}"] if acceptance.up_to else []
    parts += [f"against {acceptance.limit}"] if acceptance.limit else []
    return ", ".join(parts)


def _of_the_file(acceptance: Acceptance) -> Finding:
    message = f"{acceptance.rule} is accepted here, and a fault of the file cannot be accepted."
    mend = "mend the fault, and take the acceptance out"
    return Finding(UNNEEDED, Severity.WARNING, acceptance.subject, acceptance.where("rule"), message, mend=mend)


def _unneeded(acceptance: Acceptance, known: set[str], findings: Sequence[Finding]) -> Finding:
    if acceptance.rule not in known:
        message = f"{acceptance.rule} is accepted here, and no rule has that name."
        mend = did_you_mean(acceptance.rule, sorted(known))
        place = acceptance.where("rule")
    else:
        said = _as_words(acceptance)
        where = f" {said}" if said and (acceptance.state or acceptance.wire) else ""
        message = f"{acceptance.rule} is accepted for {acceptance.subject}{where}, and finds nothing there."
        found = {name for each in findings if each.rule == acceptance.rule for name in _names(each) if name}
        near = did_you_mean(acceptance.subject, sorted(found)) if found - {acceptance.subject} else ""
        mend = "take the acceptance out" if acceptance.subject in found or not found else near
        place = acceptance.where("subject")
    return Finding(UNNEEDED, Severity.WARNING, acceptance.subject, place, message, mend=mend)
