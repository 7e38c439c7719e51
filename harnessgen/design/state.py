"""Operating states, and findings that the builder accepts."""

from dataclasses import dataclass

from harnessgen.source.container import ListOf
from harnessgen.source.key import Record, key
from harnessgen.source.kind import Name, Ref, Text


@dataclass(frozen=True, slots=True, kw_only=True)
class State(Record):
    """What is on in one way of running the vehicle. Relays follow from what their coils get."""

    on: tuple[str, ...] = key("on", ListOf(Ref("switch or driver")), "Switches and drivers that are on.", default=())
    off: tuple[str, ...] = key("off", ListOf(Ref("load")), "Loads that have to be without current.", default=())
    title: str = key("title", Text(), "What happens in it, in words.", default="")

    noun = "a state"
    shorthand = "on"
    example = """\
states:
  key-on: {on: [SW1], off: [INJ1, INJ2]}
  boost: {on: [SW1, Q1, Q2], title: full boost}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Acceptance(Record):
    """A finding that the builder knows of and accepts; the reason is printed in the documents."""

    rule: str = key("rule", Name("rule"), "Rule of the finding.")
    subject: str = key("subject", Text(), "What the finding is about, as it names it (21C, C10/2, F1).")
    reason: str = key("reason", Text(), "Why it is right as it is.")

    noun = "an acceptance"
    example = """\
accept:
  - {rule: orphan-cavity, subject: C10/4, reason: spare wire for a later sensor}
"""
