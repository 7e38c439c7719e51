"""Findings for a person at a terminal: one paragraph each, and a line on what was and was not examined."""

import math
import textwrap
from collections.abc import Mapping, Sequence

from harnessgen.documents.text.excerpt import Excerpts, columns_of, safe, underlined
from harnessgen.evidence.finding import Finding, NotExamined, Number, Severity, counts_of
from harnessgen.evidence.listed import listed
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import quantised
from harnessgen.schedules.results.status import status_of
from harnessgen.source.kind import names_in
from harnessgen.source.place import Place

_WIDTH = 110
_FEW = 6
"""So many rules that were not examined, and findings that follow from one, are told one by one."""
_STYLES = {Severity.ERROR: "1;31", Severity.WARNING: "1;33", Severity.NOTE: "1;36"}


def render(
    findings: Sequence[Finding],
    texts: Mapping[str, str],
    not_examined: Sequence[NotExamined] = (),
    *,
    use_colour: bool = False,
    width: int = _WIDTH,
) -> str:
    """All findings, most serious first, and the summary.

    `texts` holds the text of each file by the name that places give it; `width` is that of the terminal in columns.
    `use_colour` adds colour to words and carets that say the same without it.
    """
    sheet = _Sheet(Excerpts(texts), max(width, 40), use_colour)
    shown, more = listed(findings)
    paragraphs = ["\n".join(sheet.finding(each)) for each in shown]
    paragraphs += ["\n".join(f"{each.words}, not listed one by one" for each in more)] if more else []
    return "\n\n".join([*paragraphs, "\n".join(sheet.summary(findings, not_examined))]) + "\n"


@frozen
class _Sheet:
    """How things are written: from which texts, how wide, and whether in colour."""

    excerpts: Excerpts
    width: int
    use_colour: bool

    def finding(self, finding: Finding) -> list[str]:
        place, style = finding.place, _STYLES[finding.severity]
        where = str(place) if place.file else safe(finding.subject)
        severity = finding.severity.value + (", accepted" if finding.accepted is not None else "")
        lines = [f"{self._styled(severity, style)}  {self._styled(safe(finding.rule), '1')}  {where}".rstrip()]
        lines += self._excerpt(place, style)
        if place.pattern:
            lines.append(f"  (pattern of {safe(place.pattern)})")
        lines += self._wrapped("  ", finding.message)
        lines += number_lines(finding.numbers)
        for second, words in finding.see:
            lines += self._second_place(second, words, place.file)
        if finding.mend:
            lines += self._labelled("mend", finding.mend)
        for remedy in finding.other_remedies:
            lines += self._labelled("or", remedy)
        others = [each for each in finding.subjects if each != finding.subject]
        if others:
            lines += self._labelled("also", ", ".join(others))
        for each in finding.consequences[:_FEW]:
            lines += self._labelled("then", f"{each.rule}: {each.message}")
        if rest := finding.consequences[_FEW:]:
            rules = dict.fromkeys(each.rule for each in rest)
            lines += self._labelled("then", f"{len(rest)} more: {', '.join(rules)}")
        if finding.accepted is not None:
            lines += self._labelled("accepted", finding.accepted_words or "(no reason given)")
        return lines

    def summary(self, findings: Sequence[Finding], not_examined: Sequence[NotExamined]) -> list[str]:
        counts = counts_of(findings)
        parts = [_counted(counts.errors, "error"), _counted(counts.warnings, "warning"), _counted(counts.notes, "note")]
        lines = [f"{', '.join(parts)}; {counts.accepted or 'none'} accepted"]
        rules_by_reason: dict[str, list[str]] = {}
        for each in not_examined:
            rules_by_reason.setdefault(each.reason, []).append(each.rule)
        for reason, skipped in rules_by_reason.items():
            lines += self._wrapped("", f"not examined ({reason}): {', '.join(skipped)}")
        status = status_of(findings, not_examined)
        lines.append(status.release_words)
        releases: dict[tuple[str, ...], list[str]] = {}
        for release in status.withheld:
            releases.setdefault(status.withholding(release), []).append(release.value)
        unexamined = {each.rule for each in not_examined}
        for rules, names in releases.items():
            found = [rule for rule in rules if rule not in unexamined or len(rules) <= _FEW]
            count = len(rules) - len(found)
            rest = [f"{count} rules that were not examined"] if count else []
            lines += self._wrapped("  ", f"{names_in(names)} withheld by {names_in([*found, *rest])}")
        return lines

    def _excerpt(self, place: Place, style: str = "") -> list[str]:
        line = self.excerpts.line(place)
        if line is None:
            return []
        margin = f"{place.line:>5} | "
        shown, carets = underlined(line, place, self.width - len(margin))
        under = " " * (len(margin) - 2) + "| " + carets.replace("^", "") + self._styled(carets.lstrip(), style)
        return [(margin + shown).rstrip(), under]

    def _second_place(self, place: Place, words: str, first_file: str) -> list[str]:
        where = f"line {place.line}" if place.file == first_file else str(place)
        return [*self._labelled("see", f"{where}: {words}"), *self._excerpt(place)[:1]]

    def _labelled(self, label: str, text: str) -> list[str]:
        lines = self._wrapped(f"  {label:<4}  ", text)
        return [lines[0].replace(label, self._styled(label, "1"), 1), *lines[1:]]

    def _wrapped(self, indent: str, text: str) -> list[str]:
        later = " " * len(indent)
        return textwrap.wrap(
            safe(text),
            self.width,
            initial_indent=indent,
            subsequent_indent=later,
            break_long_words=False,
            break_on_hyphens=False,
        ) or [indent.rstrip()]

    def _styled(self, text: str, style: str) -> str:
        return f"\x1b[{style}m{text}\x1b[0m" if self.use_colour and style and text else text


def _counted(count: int, noun: str) -> str:
    return f"{count or 'no'} {noun}{'' if count == 1 else 's'}"


def value_text(number: Number) -> str:
    """The value of a deciding number as printed, with its decimals."""
    if math.isinf(number.value):
        return "infinite" if number.value > 0 else "-infinite"
    return f"{quantised(number.value):.{number.decimals}f}"


def number_lines(numbers: Sequence[Number]) -> list[str]:
    """The deciding numbers under one another: name, value (points aligned), unit, and where it comes from."""
    values = [value_text(each).partition(".") for each in numbers]
    whole = max((len(each[0]) for each in values), default=0)
    shown = [f"{each[0]:>{whole}}{each[1]}{each[2]}" for each in values]
    units = ["" if each.unit == "1" else safe(each.unit) for each in numbers]
    columns = [[safe(each.name) for each in numbers], shown, units, [safe(each.source) for each in numbers]]
    for column, gap in zip(columns[:3], (3, 1, 4), strict=True):
        widest = max(map(columns_of, column), default=0)
        column[:] = [each + " " * (widest - columns_of(each) + gap) for each in column]
    return [("      " + "".join(row)).rstrip() for row in zip(*columns, strict=True)]
