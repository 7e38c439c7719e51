"""What every document of a design says of its findings: which stand, which were accepted, what it is released for."""

from collections.abc import Sequence

from harnessgen.catalogue import withheld_by, withheld_unexamined
from harnessgen.evidence.finding import Finding, NotExamined, in_order, with_consequences
from harnessgen.evidence.rule import Release
from harnessgen.measures.frozen import frozen
from harnessgen.source.kind import names_in


@frozen
class Status:
    """Findings that stand, those that the design accepts with a reason, and rules that could not be examined."""

    standing: tuple[Finding, ...] = ()
    accepted: tuple[Finding, ...] = ()
    not_examined: tuple[NotExamined, ...] = ()

    @property
    def open_errors(self) -> tuple[Finding, ...]:
        """Errors that nobody accepted."""
        return tuple(each for each in self.standing if each.is_open_error)

    def withholding(self, release: Release) -> tuple[str, ...]:
        """Rules that keep the design from a release: those of open errors, and those of errors not examined."""
        errors = (each for each in with_consequences(self.open_errors) if each.is_open_error)
        found = [each.rule for each in errors if release in withheld_by(each.rule)]
        found += [each.rule for each in self.not_examined if release in withheld_unexamined(each.rule)]
        return tuple(dict.fromkeys(found))

    def is_released(self, release: Release) -> bool:
        """True when nothing keeps the design from this release."""
        return not self.withholding(release)

    @property
    def withheld(self) -> tuple[Release, ...]:
        """Releases that are withheld, in their order."""
        return tuple(each for each in Release if not self.is_released(each))

    @property
    def banner(self) -> str:
        """What is stamped on every paper while a release is withheld; empty when none is."""
        return f"NOT RELEASED FOR {names_in(each.value for each in self.withheld).upper()}" if self.withheld else ""

    @property
    def release_words(self) -> str:
        """What the design is released for and what not, in one line."""
        given = [each.value for each in Release if each not in self.withheld]
        parts = [f"released for {names_in(given)}"] if given else []
        parts += [f"not released for {names_in(each.value for each in self.withheld)}"] if self.withheld else []
        return "; ".join(parts)

    @property
    def released_object(self) -> dict[str, bool]:
        """Whether each release is given, for programs."""
        return {each.value: self.is_released(each) for each in Release}

    @property
    def words(self) -> str:
        """One line under the banner: what stands and what was not examined."""
        errors, rest = len(self.open_errors), len(self.standing) - len(self.open_errors)
        parts = [_counted(errors, "error stands", "errors stand")] if errors else []
        parts += [_counted(rest, "other finding stands", "other findings stand")] if rest else []
        parts += [_counted(len(self.accepted), "finding accepted", "findings accepted")] if self.accepted else []
        whole = {each.rule for each in self.not_examined if not each.subject}
        partly = {each.rule for each in self.not_examined} - whole
        parts += [_counted(len(whole), "rule not examined", "rules not examined")] if whole else []
        parts += [_counted(len(partly), "rule not examined for all", "rules not examined for all")] if partly else []
        return ", ".join(parts) or "no finding stands"


def status_of(findings: Sequence[Finding], not_examined: Sequence[NotExamined] = ()) -> Status:
    """The status that follows from an examination."""
    ordered = in_order(findings)
    return Status(
        tuple(each for each in ordered if each.accepted is None),
        tuple(each for each in ordered if each.accepted is not None),
        tuple(not_examined),
    )


def _counted(count: int, one: str, several: str) -> str:
    return f"{count} {one if count == 1 else several}"
