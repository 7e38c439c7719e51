"""The packaged parts and the default limits as tables (Markdown), so that a design can name them."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from harnessgen.design.limits.declaration import DefaultLimit
from harnessgen.design.limits.table import DEFAULT_LIMITS
from harnessgen.measures.quantity import Quantity, plain_number, tolerance_text
from harnessgen.parts.fuse import FuseForm
from harnessgen.parts.library import Parts
from harnessgen.parts.part import Part
from harnessgen.parts.wire import WireFamily
from harnessgen.source.container import heading
from harnessgen.source.key import Key, keys_of
from harnessgen.source.measure_kind import Measure

_MEANING = """\
## What becomes of a design

- A bank is written out: each load gets a connector, counted up from the first, a leg of the feed and a leg of \
the return.
- A run of wire follows the route from end to end. Where it passes a disconnect it is cut in two, and each piece \
ends in a half (`C10s`, `C10p`); the cavity is the one named under `through`.
- The pieces of a circuit are marked in order with its number and a letter: 21A, 21B. In a bank the trunk comes \
first, from its outer end to the splice, then the legs.
- A wire needs its way along the route, plus what its ends add (`wire-end` of the connector or device, `overlap` \
of the splice), plus slack. It is cut longer by the expanded uncertainty of the measured lengths and by the \
cutting tolerance, rounded up to the cutting step.
- Two things at one point of the route have no way between them: a wire there needs only what its ends add. Give them \
points of their own, or `wire-end` or `slack`, for the distance inside a box.
- The expanded uncertainty of a way is k times the root of the sum of squares of its stretches, each its bound divided \
by the root of 3 (k: limit `coverage-factor`).
- A state with `stalled` or `cold`, or that `lasts` less than a minute, counts for no steady load: wires, contacts and \
fuses are judged by the other states.
- A suppression resistor is no element of the network: its own current is not counted.
- In each state the network is solved by nodal analysis. What conducts: wires, mated contacts, fuses, loads, the \
switches and drivers that the state lists as on, and relay contacts as their coils leave them.
- A wire's resistance is that of its size at 20 degC times its needed length, each part at the ambient of its \
zone, by (234.5 + T) / 254.5, plus the terminal at an end that lands on a device and the crimp at an end in a \
splice. A cavity counts once, as the mated contact of its family. A fuse has its cold resistance; switches, \
drivers, relay contacts, coils and loads have what the design or their family says.
- A supply is its voltage behind its resistance; a ground point leads to 0 V through its resistance."""

_TOLD_ELSEWHERE = ("title", "source", "standing")


def shelf_page(parts: Parts) -> str:
    """Every family of `parts` by kind, with its figures and where they come from, and every default limit."""
    sections = [
        _MEANING,
        "## Parts that come with the program",
        "A design names them, or lays its own over them under `parts:`.",
    ]
    for field_name, _ in keys_of(Parts).values():
        families: Mapping[str, Part] = getattr(parts, field_name)
        if families:
            first = next(iter(families.values()))
            rows = [(f"`{name}`", *_row(family)) for name, family in families.items()]
            sections += [
                f"### {heading(type(first))}",
                markdown_table(("name", "what it is", "figures", "source"), rows),
            ]
            if isinstance(first, WireFamily):
                sections += [_sizes_table(parts.wires)]
            if isinstance(first, FuseForm):
                sections += [_fuses_table(parts.fuses)]
    sections += ["## Limits that hold unless the design sets others", _limits_table()]
    return "\n\n".join(sections) + "\n"


def _sizes_table(families: Mapping[str, WireFamily]) -> str:
    rows = [
        (
            f"`{name}`",
            f"{label} {family.system}",
            plain_number(size.area_mm2.value),
            plain_number(size.resistance_ohm_per_m.value * 1000),
            plain_number(size.diameter_mm.value),
        )
        for name, family in families.items()
        for label, size in family.sizes.items()
    ]
    heads = ("family", "size", "copper, mm2", "at most, mohm/m at 20 degC", "over insulation, mm")
    return markdown_table(heads, rows)


def _fuses_table(forms: Mapping[str, FuseForm]) -> str:
    rows = [
        (f"`{name}`", f"{label} A", plain_number(rating.resistance_ohm.value * 1000))
        for name, form in forms.items()
        for label, rating in form.ratings.items()
    ]
    return markdown_table(("form", "rating", "cold, mohm"), rows)


def _row(family: Part) -> tuple[str, str, str]:
    title = str(getattr(family, "title", ""))
    return title, "; ".join(_figures(family)), str(family.publication)


def _figures(family: Part) -> Iterator[str]:
    for field_name, key in keys_of(type(family)).values():
        value = getattr(family, field_name)
        if key.name in _TOLD_ELSEWHERE or value in (None, "", ()) or value == {}:
            continue
        yield f"{key.name} {_value(value, key)}"


def _value(value: Any, key: Key) -> str:
    if isinstance(value, Quantity):
        unit = key.kind.dimension.base if isinstance(key.kind, Measure) else ""
        words = (plain_number(value.value, 6), tolerance_text(value, 4), "" if unit == "1" else unit)
        return " ".join(word for word in words if word)
    if isinstance(value, Mapping):
        # What a name stands for is told where it is a name itself, as the contact on a relay's tab.
        return ", ".join(f"{name}: {each}" if isinstance(each, str) else name for name, each in value.items())
    return ", ".join(map(str, value)) if isinstance(value, tuple) else str(value)


def _limits_table() -> str:
    rows = [(f"`{name}`", _limit_value(each), str(each.source)) for name, each in DEFAULT_LIMITS.items()]
    return markdown_table(("limit", "value", "source"), rows)


def _limit_value(each: DefaultLimit) -> str:
    unit = "" if each.unit == "1" else each.unit
    value = plain_number(each.value.value) if each.value.value or not tolerance_text(each.value) else ""
    return " ".join(word for word in (value, tolerance_text(each.value, 4), unit) if word)


def markdown_table(titles: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    """A table in Markdown; a bar inside a cell is written so that it does not part it."""
    lines = [list(titles), *map(list, rows)]
    lines.insert(1, ["---"] * len(lines[0]))
    return "\n".join("| " + " | ".join(cell.replace("|", "\\|") for cell in line) + " |" for line in lines)
