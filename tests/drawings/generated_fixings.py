"""Random clips, tape and grommets for the stretches of generated designs."""

from random import Random
from typing import Any

_TAPES = ("pvc-19", "cloth-19")
_TOLERANCES = ("", "+/- 5", "+10/-0", "+/- 2.5")
_BELOW_MM = {"+/- 5": 5.0, "+/- 2.5": 2.5}


def fix(rng: Random, route: dict[str, dict[str, Any]]) -> None:
    """Put clips, tape and grommets on about half of the stretches of `route`, whose values are texts or mappings."""
    count = 0
    for start, stretches in route.items():
        for end, written in stretches.items():
            stretch = written if isinstance(written, dict) else {"length": written}
            keys = _keys(rng, start, end, float(str(stretch["length"]).split()[0]), count)
            count += len(keys.get("grommets", ()))
            if keys:
                stretches[end] = stretch | keys


def _keys(rng: Random, start: str, end: str, length_mm: float, count: int) -> dict[str, Any]:
    keys: dict[str, Any] = {}
    if rng.random() < 0.1:
        keys["clips"] = f"{rng.randint(100, 500)} mm"
    elif rng.random() < 0.3:
        keys["clips"] = {"at": _clips(rng, end, length_mm)}
    if rng.random() < 0.3:
        keys["tape"] = _tapes(rng, start, end, length_mm)
    if rng.random() < 0.15:
        at_mm = rng.randint(1, int(length_mm) - 1)
        place = {"at": _about(rng, at_mm), "from": rng.choice((start, end))}
        keys["grommets"] = {f"GR{count + 1}": place | {"bore": "90 mm"}}
    return keys


def _about(rng: Random, mm: float) -> str:
    """A length with a tolerance that does not reach below zero."""
    tolerance = rng.choice(_TOLERANCES)
    return f"{mm:g} mm" if mm <= _BELOW_MM.get(tolerance, 0.0) else f"{mm:g} {tolerance} mm"


def _clips(rng: Random, end: str, length_mm: float) -> list[Any]:
    most = min(rng.choice((1, 2, 4, 9)), int(length_mm) - 1)
    places = sorted(rng.sample(range(1, int(length_mm)), most))
    cut = rng.randint(0, len(places))
    back = sorted(length_mm - mm for mm in places[cut:])
    return [
        *(_about(rng, mm) for mm in places[:cut]),
        *({"at": _about(rng, mm), "from": end} for mm in back),
    ]


def _tapes(rng: Random, start: str, end: str, length_mm: float) -> list[dict[str, str]]:
    part = rng.choice(_TAPES)
    if rng.random() < 0.25:
        return [{"part": part}]
    made = []
    half_mm = int(length_mm / 2)
    for datum in rng.sample((start, end), rng.randint(1, 2)):
        long_mm = rng.randint(5, half_mm)
        tape = {"part": part, "from": datum, "length": f"{long_mm} mm"}
        if rng.random() < 0.5:
            tape["at"] = f"{rng.randint(long_mm // 2 + 1, int(half_mm - long_mm / 2) + 1)} mm"
            if float(tape["at"].split()[0]) + long_mm / 2 > half_mm:
                del tape["at"]
        made.append(tape)
    return made
