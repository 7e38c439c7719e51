"""The record of a rule, which can be listed and explained without importing what it computes with."""

from collections.abc import Callable, Iterable, Sequence
from enum import Enum
from importlib import import_module, resources
from typing import Any

from harnessgen.evidence.finding import Finding, NotExamined, Severity
from harnessgen.evidence.publication import Publication
from harnessgen.measures.frozen import frozen


class Requirement(Enum):
    """What has to be there before a rule can be examined, from the file to the bench."""

    FILE = "the file"
    DESIGN = "a design without faults in the file"
    NETWORK = "the network"
    PHYSICS = "the solved network"
    BENCH = "the fault simulation"


class Release(Enum):
    """What a design is released for, step by step; an open error withholds the steps that its rule names."""

    CUTTING = "cutting"
    """Buying and cutting wire, crimping, building."""
    POWER = "power"
    """Putting it on a supply."""
    RUNNING = "running"
    """Running the vehicle with it."""


@frozen
class Rule:
    """A rule: its name says the fault; `check` is `package.module:function`, and its page lies beside that module.

    Rules of the file are examined by the reader as it reads; they have a page and no check.
    """

    name: str
    severity: Severity
    need: Requirement
    summary: str
    page: str
    """`package:file.md`, the page that explains the rule."""
    sources: tuple[Publication, ...]
    check: str = ""
    gaps: str = ""
    """`package.module:function` that tells for which things the rule cannot be examined though its needs are met."""
    is_by_state: bool = False
    """Whether it looks at what flows in each state: then it cannot look at one that is a short."""
    withholds: tuple[Release, ...] = tuple(Release)
    """What an open error of this rule keeps the design from being released for; what withholds power, running too."""

    def load_check(self) -> Callable[[Any], Sequence[Finding]]:
        """The check itself; only now is its module imported.

        Raises:
            LookupError: the rule is one of the reader's own and has no check.
        """
        if not self.check:
            raise LookupError(f"{self.name} is examined while the file is read")
        check: Callable[[Any], Sequence[Finding]] = _named(self.check)
        return check

    def load_gaps(self) -> Callable[[Any], Iterable[NotExamined]] | None:
        """What tells for which things it cannot be examined; None where its needs are all that it needs."""
        gaps: Callable[[Any], Iterable[NotExamined]] | None = _named(self.gaps) if self.gaps else None
        return gaps

    def page_text(self) -> str:
        """The text of the rule's page (Markdown)."""
        package, _, file = self.page.partition(":")
        return resources.files(package).joinpath(file).read_text(encoding="utf-8")


def _named(dotted: str) -> Any:
    """What stands under `package.module:function`; only now is the module imported."""
    module, _, function = dotted.partition(":")
    return getattr(import_module(module), function)
