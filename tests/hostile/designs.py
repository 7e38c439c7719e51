"""Hostile files of a design, made by code: each is one way to fill memory, time or a page."""

from collections.abc import Callable

TITLED = "format: 2\nharness: {title: t, number: n, revision: A}\n"
ROUTED = TITLED + "route: {a: {b: 1 m}}\n"


def _lines(count: int, line: Callable[[int], str]) -> str:
    return "".join(line(number) for number in range(count))


MADE: dict[str, Callable[[int], str]] = {
    "unknown keys": lambda n: ROUTED + _lines(n, lambda i: f"unknown-{i}: {i}\n"),
    "unknown keys in one record": lambda n: "format: 2\nharness:\n" + _lines(n, lambda i: f"  titel-{i}: x\n"),
    "one key again and again": lambda n: ROUTED + "a: 1\n" * n,
    "lengths beyond all bounds": lambda n: TITLED + "route:\n  a:\n" + _lines(n, lambda i: f"    p{i}: 1e99 mm\n"),
    "zones that are not there": lambda n: (
        TITLED + "route:\n  a:\n" + _lines(n, lambda i: f"    p{i}: {{length: 1 m, zone: z{i}}}\n")
        + "zones:\n" + _lines(n, lambda i: f"  zone{i}: 40\n")
    ),
    "connectors at no point": lambda n: (
        TITLED + "route:\n  a:\n" + _lines(n, lambda i: f"    p{i}: 1 m\n")
        + "connectors:\n" + _lines(n, lambda i: f"  C{i}: {{part: nopart{i}, at: q{i}}}\n")
    ),
    "splices toward nothing": lambda n: (
        TITLED + "route:\n" + _lines(n, lambda i: f"  p{i}: {{p{i + 1}: 1 m}}\n")
        + "splices:\n" + _lines(n, lambda i: f"  S{i}: {{at: p{i}, offset: 10, toward: q{i}}}\n")
    ),
    "wires between nothing": lambda n: ROUTED + "circuits:\n" + _lines(
        n, lambda i: f"  {i}: {{from: X{i}/1, to: Y{i}/2, size: 1 mm2, color: RD}}\n"
    ),
    "loads at no connector": lambda n: ROUTED + "loads:\n" + _lines(
        n, lambda i: f"  L{i}: {{kind: lamp, power: 21 W, at-voltage: 12 V, connector: C{i}}}\n"
    ),
    "broken banks": lambda n: ROUTED + "banks:\n" + _lines(
        n, lambda i: f"  B{i}: {{circuit: {i}, trunk-size: 1, loads: {{I{i}: b}}}}\n"
    ),
    "acceptances of nothing": lambda n: ROUTED + "accept:\n" + _lines(
        n, lambda i: f"  - {{rule: leg-too-shor{i}, subject: X{i}, reason: r}}\n"
    ),
    "a route from point to point": lambda n: TITLED + "route:\n" + _lines(n, lambda i: f"  p{i}: {{p{i + 1}: 1 mm}}\n"),
    "a route to all sides": lambda n: TITLED + "route:\n  a:\n" + _lines(n, lambda i: f"    p{i}: 100 mm\n"),
    "a route in rings": lambda n: TITLED + "route:\n" + _lines(n, lambda i: f"  p{i}: {{p{(i * 7 + 1) % n}: 1 mm}}\n"),
    "aliases": lambda n: "format: 2\na: &a [x, x]\n" + _lines(n, lambda i: f"b{i}: *a\n"),
    "aliases of aliases": lambda n: "format: 2\na0: &a0 [x]\n" + _lines(
        n, lambda i: f"a{i + 1}: &a{i + 1} [*a{i}, *a{i}, *a{i}, *a{i}]\n"
    ),
    "brackets in brackets": lambda n: "format: 2\nroute: " + "[" * n + "]" * n + "\n",
    "mappings in mappings": lambda n: "format: 2\n" + _lines(min(n, 3000), lambda i: " " * i + "a:\n"),
    "questions in questions": lambda n: "format: 2\n" + "? " * n + "a\n",
    "blank lines": lambda n: "\n" * 20 * n + ROUTED,
    "remarks": lambda n: ROUTED + "# a remark of some length\n" * 20 * n,
    "a title of many letters": lambda n: TITLED.replace("title: t", "title: " + "x" * n) + "route: {a: {b: 1 m}}\n",
    "a key of many letters": lambda n: ROUTED + f'? "{"x" * 20 * n}"\n: b\n',
    "a word of many letters": lambda n: ROUTED + "x" * 200 * n + ": b\n",
    "a line of many values": lambda n: ROUTED + "include: [" + "a, " * n + "]\n",
    "a line of many keys": lambda n: ROUTED + "x: {" + ", ".join(f"a{i}: b" for i in range(n)) + "}\n",
    "quotes that never end": lambda n: ROUTED + "a: " + "'x" * (2 * n + 1) + "\n",
    "unseen characters": lambda n: ROUTED + "# " + "\u202e\u200b" * n + "\n",
    "escapes of unseen characters": lambda n: ROUTED + _lines(n, lambda i: f'"k{i}\\u202e": "\\e[31m"\n'),
    "many documents": lambda n: ROUTED + "---\na: b\n" * n,
    "tags": lambda n: ROUTED + _lines(n, lambda i: f"k{i}: !!python/object:os.system x\n"),
    "states": lambda n: ROUTED + "states:\n" + _lines(n, lambda i: f"  s{i}: {{on: [Q{i}]}}\n"),
    "stock": lambda n: ROUTED + "stock:\n" + _lines(
        n, lambda i: f"  r{i}: {{size: {i}.5 mm2, color: RE, length: 1 m}}\n"
    ),
}  # fmt: skip
"""By what they do, each for a number of repetitions."""
