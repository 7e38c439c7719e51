"""Names of the things of a harness (C21, S1, G1) and the letters of a circuit's wires (21A, 21B ... 21Z, 21AA)."""

import re
from string import ascii_uppercase


def natural_key(name: str) -> tuple[tuple[int, int, str], ...]:
    """Sort key that puts C9 before C21: runs of digits compare as numbers."""
    return tuple((0, int(run), run) if run.isdecimal() else (1, 0, run) for run in re.findall(r"\d+|\D+", name))


def segment_letters(index: int) -> str:
    """Letters of the wire at `index` (from 0) of its circuit: A ... Z, AA, AB ...

    Raises:
        ValueError: the index is negative.
    """
    if index < 0:
        raise ValueError(f"no wire has the index {index}")
    letters = ""
    index += 1
    while index:
        index, remainder = divmod(index - 1, 26)
        letters = ascii_uppercase[remainder] + letters
    return letters


def numbered_from(first: str, count: int) -> list[str]:
    """`count` designators counted up from `first`: C21, C22, C23.

    Raises:
        ValueError: `first` does not end in a number.
    """
    match = re.fullmatch(r"(.*?)(\d+)", first)
    if match is None:
        raise ValueError(f"{first!r} does not end in a number")
    stem, digits = match[1], match[2]
    return [f"{stem}{int(digits) + step:0{len(digits)}d}" for step in range(count)]
