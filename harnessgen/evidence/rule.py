"""The record of a rule, which can be listed and explained without importing what it computes with."""

from collections.abc import Callable, Sequence
from enum import Enum
from importlib import import_module, resources
from typing import Any

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.evidence.publication import Publication
from harnessgen.measures.frozen import frozen


class Need(Enum):
    """What has to be there before a rule can be examined, from the file to the bench."""

    FILE = "the file"
    DESIGN = "a design without faults in the file"
    NETWORK = "the network"
    PHYSICS = "the solved network"
    BENCH = "the fault simulation"


@frozen
class Rule:
    """A rule: its name says the fault; `check` is `package.module:function`, and its page lies beside that module.

    Rules of the file are examined by the reader as it reads; they have a page and no check.
    """

    name: str
    severity: Severity
    need: Need
    summary: str
    page: str
    """`package:file.md`, the page that explains the rule."""
    sources: tuple[Publication, ...]
    check: str = ""

    def load_check(self) -> Callable[[Any], Sequence[Finding]]:
        """The check itself; only now is its module imported.

        Raises:
            LookupError: the rule is one of the reader's own and has no check.
        """
        module, _, function = self.check.partition(":")
        if not function:
            raise LookupError(f"{self.name} is examined while the file is read")
        check: Callable[[Any], Sequence[Finding]] = getattr(import_module(module), function)
        return check

    def page_text(self) -> str:
        """The text of the rule's page (Markdown)."""
        package, _, file = self.page.partition(":")
        return resources.files(package).joinpath(file).read_text(encoding="utf-8")
