"""Random damage to the text of a design: keys, values, lines, indentation, characters."""

import random
import re

_ODD_VALUES = (
    "", "''", '""', "0", "-1", "-0", "1e99", "1e-99", "nan", "inf", "-inf", "1/0", "1 000", "1,5", "9" * 70, "0x10",
    "on", "~", "null", "[]", "{}", "[[]]", "{a: b}", "- a", "?", "*a", "&a b", "!!int 1", "<<", "|", ">", "%", "@",
    "`", "'", '"', "[", "{", "]", "}", ": ", " #", "\t", "1 mm2", "1 mm", "1 A", "0 V", "1 ohm +/- 200 %", "-5 degC",
    "2000 degC", "1e30 mm", "C1/1", "C10", "C10s/1", "a/b/c", "/", "S1", "G1", "BAT", "=cmd", "%%d", "{\\P}", "é",
    "\u200b", "\u202e", "\x00", "\x1b[31m", "\U0001f600", "x" * 3000, "1 mm +/- 1e99", "5 mm (k=0)", "0 s", "1e-6 s",
    "0.001 mm", "100000 mm", "1000 mm2", "1500 V", "1e9 ohm", "1e-6 ohm", "100000 A", "100 %", "1000", "0.000001",
)  # fmt: skip
_SCALAR = re.compile(r"(?<=[:,\[] )[^\s,\]\}\{#][^,\]\}\n#]*")
_KEY = re.compile(r"[\w.+-]+(?=:(?:\s|$))", re.MULTILINE)


def damaged(text: str, chance: random.Random) -> str:
    """`text` with one to four kinds of damage."""
    for _ in range(chance.randint(1, 4)):
        text = chance.choice(_KINDS)(text, chance)
    return text


def _value(text: str, chance: random.Random) -> str:
    return _replaced(text, _SCALAR, chance.choice(_ODD_VALUES), chance)


def _value_of_another(text: str, chance: random.Random) -> str:
    found = _SCALAR.findall(text)
    return _replaced(text, _SCALAR, chance.choice(found), chance) if found else text


def _key(text: str, chance: random.Random) -> str:
    found = _KEY.findall(text)
    new = chance.choice([*found, *_ODD_VALUES]) if found else ""
    return _replaced(text, _KEY, new, chance)


def _replaced(text: str, pattern: re.Pattern[str], new: str, chance: random.Random) -> str:
    found = list(pattern.finditer(text))
    if not found:
        return text
    match = chance.choice(found)
    return text[: match.start()] + new + text[match.end() :]


def _line(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    at, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    match chance.randrange(5):
        case 0:
            del lines[at]
        case 1:
            lines.insert(other, lines[at])
        case 2:
            lines[at], lines[other] = lines[other], lines[at]
        case 3:
            lines[at] = " " * chance.randint(1, 4) + lines[at]
        case _:
            lines[at] = lines[at].removeprefix("  ")
    return "\n".join(lines)


def _character(text: str, chance: random.Random) -> str:
    at = chance.randrange(len(text) + 1)
    new = chance.choice(["", chr(chance.randrange(0x250)), chr(chance.randrange(0x10FFFF)), *"{}[]:,#'\"-&*!|>%@`\t\r"])
    return text[:at] + new + text[at + chance.randint(0, 2) :]


def _cut(text: str, chance: random.Random) -> str:
    return text[: chance.randrange(len(text) + 1)]


def _number(text: str, chance: random.Random) -> str:
    """Another size of a number, so that what can be read is tried up to the ends of its range."""
    new = f"{10 ** chance.uniform(-6, 6):.6g}"
    return _replaced(text, re.compile(r"\d+(?:\.\d+)?"), new, chance)


_KINDS = (_value, _value, _value, _value_of_another, _value_of_another, _key, _key, _line, _line, _character, _number,
          _number, _number, _cut)  # fmt: skip
