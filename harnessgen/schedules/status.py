"""Whether a harness is for build: what stands, what was accepted, and what was not examined."""

from collections.abc import Sequence

from harnessgen.evidence.finding import Finding, NotExamined, in_order
from harnessgen.measures.frozen import frozen

NOT_FOR_BUILD = "NOT FOR BUILD"
"""What every document says while errors stand."""


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

    @property
    def is_for_build(self) -> bool:
        """True when no error stands; a rule that was not examined has not passed, and is told apart."""
        return not self.open_errors

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
