"""An explanation for programs: facts, and each number with its formula, its inputs and where they come from."""

from collections.abc import Sequence
from typing import Any

from harnessgen.documents.data.findings_json import finding_object
from harnessgen.documents.data.json_text import json_text
from harnessgen.evidence.derivation import Balance, Derivation, Evaluated, Input
from harnessgen.explain.thing import Thing

FORMAT = 1


def render(things: Sequence[Thing]) -> str:
    """All things of one name."""
    whole = {"format": FORMAT, "things": [_thing(each) for each in things]}
    return json_text(whole)


def _thing(thing: Thing) -> dict[str, Any]:
    return {
        "name": thing.name,
        "kind": thing.noun,
        "title": thing.title,
        "place": str(thing.place) if thing.place.file else None,
        "facts": [{"what": each.what, "value": each.value, "source": each.source or None} for each in thing.facts],
        "derivations": [derivation_object(each) for each in thing.derivations],
        "findings": [finding_object(each) for each in thing.findings],
    }


def derivation_object(derivation: Derivation) -> dict[str, Any]:
    """A number and where it comes from: `formula` with `inputs`, or `equations` with the balances that they meet."""
    head = {"title": derivation.title, "result": derivation.result, "unit": derivation.unit}
    sources = [str(each) for each in derivation.sources]
    if isinstance(derivation, Evaluated):
        return {
            **head,
            "formula": derivation.formula,
            "inputs": [_input(each) for each in derivation.inputs],
            "sources": sources,
        }
    return {
        **head,
        "equations": derivation.equations,
        "balances": [_balance(each) for each in derivation.balances],
        "sources": sources,
    }


def _input(given: Input) -> dict[str, Any]:
    return {
        "symbol": given.symbol,
        "meaning": given.meaning,
        "value": given.value,
        "unit": given.unit,
        "source": str(given.source) if given.source is not None else None,
    }


def _balance(balance: Balance) -> dict[str, Any]:
    terms = [{"what": what, "value": value} for what, value in balance.terms]
    return {"meaning": balance.meaning, "unit": balance.unit, "terms": terms, "residual": balance.residual}
