"""An explanation for a person at a terminal: what it is, each number with its formula, its inputs and its source."""

import textwrap
from collections.abc import Iterator, Sequence

from harnessgen.documents.text.excerpt import safe
from harnessgen.evidence.derivation import Derivation, Evaluated, Solved
from harnessgen.explain.thing import Fact, Thing
from harnessgen.measures.quantised import TOLD_DECIMALS, quantised

_WIDTH = 110
_MOST_TERMS = 60


def render(things: Sequence[Thing], width: int = _WIDTH) -> str:
    """All things of one name, one below the other."""
    return "\n\n".join("\n".join(_thing(each, width)) for each in things) + "\n"


def _thing(thing: Thing, width: int) -> Iterator[str]:
    head = f"{thing.noun} {thing.name}" + (f": {safe(thing.title)}" if thing.title else "")
    yield f"{head}   {thing.place}" if thing.place.file else head
    for fact in thing.facts:
        yield from _fact(fact, width)
    for derivation in thing.derivations:
        yield ""
        yield from _derivation(derivation, width)
    yield ""
    if not thing.findings:
        yield f"No finding is about {thing.name}."
    for finding in thing.findings:
        yield from _wrapped(f"{finding.severity.value}, {finding.rule}: {finding.message}", width, "  ", "    ")


def _fact(fact: Fact, width: int) -> list[str]:
    source = f"   ({fact.source})" if fact.source else ""
    return _wrapped(f"{fact.what}: {safe(fact.value)}{source}", width, "  ", "    ")


def _derivation(derivation: Derivation, width: int) -> Iterator[str]:
    yield from _wrapped(
        f"{derivation.title} = {_number(derivation.result)} {_unit(derivation.unit)}", width, "", "    "
    )
    yield from _evaluated(derivation, width) if isinstance(derivation, Evaluated) else _solved(derivation, width)
    for source in derivation.sources:
        yield from _wrapped(f"source: {source}", width, "    ", "      ")


def _evaluated(derivation: Evaluated, width: int) -> Iterator[str]:
    yield from _wrapped(f"= {derivation.formula}", width, "    ", "      ")
    told = ""
    for each in derivation.inputs:
        # A source that several inputs share one after the other is told with the first.
        source = f"   ({each.source})" if each.source is not None and str(each.source) != told else ""
        told = str(each.source)
        said = f"{each.symbol} = {_number(each.value)} {_unit(each.unit)}  {each.meaning}{source}"
        yield from _wrapped(said, width, "      ", "          ")


def _solved(derivation: Solved, width: int) -> Iterator[str]:
    yield from _wrapped(f"from {derivation.equations}", width, "    ", "      ")
    for balance in derivation.balances:
        terms = [f"{what} {_number(value)}" for what, value in balance.terms]
        # Through a ground point everything flows: the rest of a long list is in the JSON form.
        shown = terms[:_MOST_TERMS] + ([f"and {len(terms) - _MOST_TERMS} more"] if len(terms) > _MOST_TERMS else [])
        rest = f"left over {quantised(balance.residual, TOLD_DECIMALS):.1e} {_unit(balance.unit)}"
        said = f"{balance.meaning} ({_unit(balance.unit)}): {', '.join(shown)}; {rest}"
        yield from _wrapped(said, width, "      ", "          ")


def _number(value: float) -> str:
    """Six digits: enough to find the number again in any document, where it is rounded further."""
    return f"{quantised(value):.6g}"


def _unit(unit: str) -> str:
    return "" if unit == "1" else unit


def _wrapped(text: str, width: int, first: str, rest: str) -> list[str]:
    return [line.rstrip() for line in textwrap.wrap(text, width, initial_indent=first, subsequent_indent=rest)]
