"""The records of an explanation: facts as they stand, and numbers with their derivations."""

from harnessgen.evidence.derivation import Derivation
from harnessgen.evidence.finding import Finding
from harnessgen.measures.frozen import frozen
from harnessgen.source.place import NOWHERE, Place


@frozen
class Fact:
    """Something that is so: what it is, in words, and where it comes from (a place of a file, or a publication)."""

    what: str
    value: str
    source: str = ""


@frozen
class Thing:
    """One thing of a design: its name, what it is, where the file names it, and what is known of it."""

    name: str
    noun: str
    title: str = ""
    place: Place = NOWHERE
    facts: tuple[Fact, ...] = ()
    derivations: tuple[Derivation, ...] = ()
    findings: tuple[Finding, ...] = ()


def stated(what: str, value: str, place: Place) -> Fact:
    """A fact that a file states at `place`."""
    return Fact(what, value, str(place) if place.file else "")
