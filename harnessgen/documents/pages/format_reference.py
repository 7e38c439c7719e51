"""The reference page of a file's format (Markdown), made from the declarations of its keys and nothing else."""

import inspect

from harnessgen.design.reading.read import MOST_BYTES, MOST_DEPTH, MOST_FILES
from harnessgen.documents.pages.parts_reference import markdown_table
from harnessgen.measures.colour_code import COLOURS
from harnessgen.measures.quantity import DIMENSIONS, Dimension, number_text
from harnessgen.source.container import anchor, heading, records_under
from harnessgen.source.key import Key, Record, keys_of
from harnessgen.source.kind import MOST_LETTERS, MOST_LETTERS_OF_A_NAME
from harnessgen.source.reader import MOST_VALUES

_VALUES = """\
## How values are written

A file is YAML in its plain form: mappings (`key: value`), lists (`[a, b]`), and single values.
Every value is taken as the text that was typed, and only its key says what it is: `on`, `no`, `010`, `1:30` and `1e3` \
are these letters wherever a name or a text is wanted.
Quotes are needed only where YAML itself would misread the text (`: `, ` #`, or a bracket at its beginning).
Not taken are anchors (`&`), aliases (`*`), tags (`!`) and merge keys (`<<`), a second document (`---`), and a key \
written twice in the same place: each value stands where it is used.
Where a key takes several values, one alone may stand without the brackets.
An empty value of a mapping or a list means an empty one; anywhere else it is a fault.

A file of a design is a regular file or a link to one, anywhere on the disk, of UTF-8 text.
A design has at most {megabytes} MiB in all its files together, {files} files, {depth} includes one within another, \
and {values:,} keys and values.
A text has at most {letters} letters, a name {name_letters}.
Characters that are not seen in print (controls, zero width, the ones that turn the direction of reading) are refused \
with their number, written as an escape too.
Of a file that has neither a `format` nor another key of a design but `include`, before its first break, no message \
shows a word.

### Quantities

A quantity is a number and a unit: `410 mm`, `14.5 in`, `250 degF`.
A quantity outside of what anything on a vehicle can have (`taken` below; a key may take less, and says so when it \
refuses) is refused.
A bare number takes the unit that the file declares for it, or the first unit in the table.
The number has a decimal point, never a comma, and may be a fraction: `1/2 in`, `14 1/2 in`, `14-1/2 in`.

{units}

### Tolerances

A tolerance stands behind the number or behind the unit: `410 +/- 8 mm`, `410 mm +/- 8`, `410 +10/-0 mm`, \
`410 -2/+3 mm`. `±` is the same as `+/-`.
It may be a share of the value: `12 ohm +/- 5 %`.
It is in the unit of the value; where the value is itself in per cent, so is its tolerance.

### Conductor sizes

A size is a cross-section (`0.75 mm2`) or a gauge (`18 AWG`, `2/0 AWG`, or `00 AWG` for the same).
A gauge is only the name of a size: how much copper it holds, the wire family says.

### Colours

Colours are the letter codes of IEC 60757: the base alone (`RD`), or base and stripe (`BU/WH`, blue with a \
white stripe).

{colours}

### Names and ends

A name (designator, circuit number, name of a point) has letters, digits and `_ . + -`, and begins with a letter, \
a digit or `_`.
An end of a wire is a designator, with a slash and its cavity or terminal where it has several: `C21/1`, `K1/87`, `S1`.
"""


def format_page(root: type[Record], whole_example: str = "") -> str:
    """The page of a file of `root`: how values are written, then every record with its keys, each linked and once.

    `whole_example` is a complete file that stands first.
    """
    records = records_under(root)
    values = _VALUES.format(
        units=_units_table(),
        colours=_colours_table(),
        megabytes=MOST_BYTES // 1024 // 1024,
        files=MOST_FILES,
        depth=MOST_DEPTH,
        values=MOST_VALUES,
        letters=MOST_LETTERS,
        name_letters=MOST_LETTERS_OF_A_NAME,
    )
    contents = "\n".join(f"- [{heading(record)}](#{anchor(record)})" for record in records)
    whole = [f"## A whole file\n\n```yaml\n{whole_example.rstrip()}\n```"] if whole_example else []
    head = f"# Format of {root.noun}\n\nMade from the declarations of the keys.\n\n{contents}"
    return "\n\n".join([head, *whole, values.rstrip(), *map(_record_section, records)]) + "\n"


def _units_table() -> str:
    rows = [(each.name, _units(each), f"`{each.example}`", _range(each)) for each in DIMENSIONS]
    return markdown_table(("quantity", "units", "example", "taken"), rows)


def _range(dimension: Dimension) -> str:
    """What is taken of a dimension, unless a key says otherwise: `0 to 1500 V, or 0.001 V and more`."""
    unit = "" if dimension.base == "1" else f" {dimension.base}"
    span = f"{number_text(dimension.lowest)} to {number_text(dimension.highest)}{unit}"
    return f"{span}, in parts of {number_text(dimension.finest)}{unit} or more" if dimension.finest else span


def _units(dimension: Dimension) -> str:
    units = [f"`{unit}`" if unit != "1" else "a bare number" for unit in dimension.units]
    return ", ".join(units)


def _colours_table() -> str:
    return markdown_table(("code", "colour"), [(f"`{code}`", words) for code, words in COLOURS.items()])


def _record_section(record: type[Record]) -> str:
    keys = [key for _, key in keys_of(record).values()]
    parts = [f"## {heading(record)}", inspect.cleandoc(record.__doc__ or "")]
    if record.shorthand:
        short = next(key for name, key in keys_of(record).values() if name == record.shorthand)
        parts.append(f"A single value in place of the mapping is its `{short.name}`.")
    if keys:
        parts.append(markdown_table(("key", "value", "without it", "meaning"), map(_key_row, keys)))
    else:
        parts.append("It has no keys.")
    if record.example:
        parts.append(f"```yaml\n{record.example.rstrip()}\n```")
    return "\n\n".join(parts)


def _key_row(key: Key) -> tuple[str, ...]:
    without = "**required**" if key.is_required else key.default_words or "none"
    return f"`{key.name}`", key.kind.words(), without, key.meaning
