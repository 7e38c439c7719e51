"""What CSV, page and paper print of a schedule, read back by the text of the headings, held against expected facts.

Headings and decimals stand here a second time on purpose: a heading over another column's cells has to be found.
"""

import csv
import io
from collections.abc import Mapping, Sequence
from html.parser import HTMLParser
from typing import Any

from harnessgen.documents.data.csv_tables import table_csv
from harnessgen.documents.pages.page import PageTitle
from harnessgen.documents.pages.tables import tables_page
from harnessgen.documents.paper.tables import paper_table
from harnessgen.measures.quantity import plain_number
from harnessgen.schedules.results.status import Status
from harnessgen.schedules.tables.table import Cell, Medium, Table

Facts = Mapping[str, Cell]
"""Expected cells of a row by the keys of their columns."""

_WIDE_MM = 1e6
"""Paper so wide that no text is broken into lines."""

# Key: heading on the page with its unit, and decimals of numbers. A key that is no heading on the page has "".
HEADINGS: dict[str, dict[str, tuple[str, int]]] = {
    "cut-list": {
        "section": ("", 0), "mark": ("wire", 0), "circuit": ("circuit", 0), "colour": ("colour", 0),
        "colour_words": ("colour in words", 0), "size": ("size", 0), "family": ("wire family", 0),
        "cut_mm": ("cut (mm)", 1), "cut_in": ("cut (in)", 0),
        "needed_mm": ("needed (mm)", 1), "pull_n": ("pull (N)", 1), "pull_by": ("", 0),
        "end_1": ("end 1", 0), "terminal_1": ("terminal 1", 0), "strip_1_mm": ("strip 1 (mm)", 1),
        "seal_1": ("seal 1", 0), "slide_on_1": ("slide on first 1", 0), "label_1": ("label 1", 0),
        "end_2": ("end 2", 0), "terminal_2": ("terminal 2", 0), "strip_2_mm": ("strip 2 (mm)", 1),
        "seal_2": ("seal 2", 0), "slide_on_2": ("slide on first 2", 0), "label_2": ("label 2", 0),
    },
    "cut-sheet": {
        "mark": ("wire", 0), "circuit": ("circuit", 0), "colour": ("colour", 0), "size": ("size", 0),
        "family": ("family", 0), "cut_mm": ("cut (mm)", 1), "cut_in": ("cut (in)", 0), "end": ("end", 0),
        "terminal": ("terminal", 0),
        "strip_mm": ("strip (mm)", 1), "pull_n": ("pull (N)", 1), "seal": ("seal", 0),
        "slide_on": ("slide on first", 0), "label": ("label", 0),
    },
    "splice-schedule": {
        "section": ("", 0), "splice": ("splice", 0), "place": ("place on the route", 0), "part": ("splice family", 0),
        "mark": ("wire", 0), "circuit": ("circuit", 0), "colour": ("colour", 0), "size": ("size", 0),
        "strip_mm": ("strip (mm)", 1), "leaves_towards": ("leaves towards", 0), "other_end": ("other end", 0),
    },
    "cavity-chart": {
        "section": ("", 0), "connector": ("connector", 0), "contacts": ("contacts", 0), "cavity": ("cavity", 0),
        "mark": ("wire", 0), "circuit": ("circuit", 0), "colour": ("colour", 0), "size": ("size", 0),
        "terminal": ("terminal", 0), "fill": ("seal or plug", 0), "other_end": ("other end", 0),
    },
    "covering-list": {
        "section": ("", 0), "stretch": ("stretch", 0), "covering": ("covering", 0), "title": ("what it is", 0),
        "covers_mm": ("finished (mm)", 1), "covers_in": ("finished (in)", 0),
        "loses": ("lost in length", 0), "cut_mm": ("cut (mm)", 1),
        "cut_in": ("cut (in)", 0),
        "goes_on": ("slide on", 0),
    },
    "fixing-list": {
        "section": ("", 0), "kind": ("put on", 0), "name": ("name", 0), "what": ("what it is", 0),
        "stretch": ("stretch", 0), "place": ("place (mm)", 0), "datum": ("from", 0), "count": ("pieces", 0),
        "around_mm": ("around (mm)", 1), "covers_mm": ("covers (mm)", 1), "cut_mm": ("tape (mm)", 1),
        "cut_in": ("tape (in)", 0), "goes_on": ("slide on", 0),
    },
    "bundles": {
        "section": ("", 0), "stretch": ("stretch", 0), "wires": ("wires", 0), "diameter_mm": ("bundle (mm)", 1),
        "method": ("found by", 0), "covering": ("covering", 0), "fill": ("fill (%)", 0),
        "outside_mm": ("outside (mm)", 1), "bend_mm": ("least bend radius (mm)", 0), "bend_by": ("", 0),
        "clips": ("clips", 0), "ties": ("ties", 0), "fixed": ("tape, grommets", 0), "lay": ("lay-up", 0),
        "copper_g": ("copper (g)", 1), "insulation_g": ("insulation (g)", 1), "covering_g": ("covering (g)", 1),
        "mass_g": ("mass (g)", 1), "marks": ("", 0),
    },
    "assembly-order": {
        "section": ("", 0), "thing": ("goes on", 0), "place": ("over", 0), "side": ("from the side of", 0),
        "before": ("before", 0), "largest": ("largest to pass", 0), "needed_mm": ("needs inside (mm)", 1),
        "inside_mm": ("has inside (mm)", 1), "nodes": ("", 0),
    },
    "mass": {
        "section": ("section", 0), "copper_g": ("copper (g)", 1), "insulation_g": ("insulation (g)", 1),
        "covering_g": ("coverings (g)", 1), "mass_g": ("together (g)", 1),
    },
    "sample-crimps": {
        "terminal": ("terminal", 0), "size": ("size", 0), "family": ("wire family", 0),
        "crimps": ("crimps in the harness", 1), "samples": ("samples", 1), "pull_n": ("pull (N)", 1),
        "pull_by": ("pull by", 0),
    },
    "parts-to-buy": {
        "kind": ("kind", 0), "part": ("part", 0), "what": ("what it is", 0), "needed": ("in the harness", 2),
        "extra": ("on top", 2), "buy": ("buy", 1), "unit": ("unit", 0), "why": ("of that on top", 0),
    },
    "recut-list": {
        "mark": ("wire", 0), "short_mm": ("short by (mm)", 1), "has_mm": ("has (mm)", 1),
        "recut_mm": ("cut anew to (mm)", 1), "remedy": ("what would do", 0), "how": ("how", 0),
        "wins_mm": ("wins (mm)", 1), "others": ("what it does to others", 0),
    },
    "volts": {
        "state": ("state", 0), "case": ("case", 0), "load": ("load", 0), "title": ("what it is", 0),
        "ampere": ("current (A)", 3), "supply_volt": ("supply (V)", 2), "feed_volt": ("feed takes (V)", 3),
        "across_volt": ("load gets (V)", 2), "return_volt": ("return takes (V)", 3),
        "high_volt": ("fed end to ground (V)", 2), "low_volt": ("other end to ground (V)", 2),
        "harness_volt": ("harness takes (V)", 3), "allowed_volt": ("it may take (V)", 3),
    },
    "fuel": {
        "state": ("state", 0), "set": ("set", 0), "load": ("injector", 0), "title": ("what it is", 0),
        "volt": ("volts (V)", 2), "dead_ms": ("dead time (ms)", 4), "off_percent": ("off the average (%)", 3),
        "match_percent": ("flow match, either way (%)", 2), "verdict": ("verdict", 0),
    },
    "cutting-plan": {
        "family": ("wire family", 0), "size": ("size", 0), "colour": ("colour", 0), "spool": ("spool or offcut", 0),
        "stock_mm": ("on it (mm)", 1), "mark": ("wire", 0), "copy": ("copy", 0), "cut_mm": ("cut (mm)", 1),
        "left_mm": ("left on it (mm)", 1), "then": ("then", 0),
    },
    "limits": {
        "limit": ("limit", 0), "value": ("value", 0), "unit": ("unit", 0), "applies_to": ("applies to", 0),
        "source": ("source", 0),
    },
    "output-test": {
        "output": ("output", 0), "meanwhile": ("on meanwhile", 0), "with": ("with", 0),
        "speed": ("engine speed (rpm)", 0), "period": ("every (ms)", 1),
        "on": ("on (ms)", 1), "duty": ("duty (%)", 0), "pulses": ("pulses", 0), "lasts": ("lasts (s)", 2),
        "shows": ("what shows", 0), "peak": ("output peak (A)", 2), "rms": ("output RMS (A)", 2),
        "limits": ("limits of output and coil", 0), "longest": ("on at most (ms)", 1), "coil": ("hottest coil", 0),
        "pulse_heat": ("heat a pulse (mJ)", 0), "power": ("heat (W)", 1), "burst_heat": ("heat a burst (J)", 1),
        "warms": ("warms at most", 0),
    },
}  # fmt: skip

MEDIA = {"cut-list": (Medium.CSV, Medium.PAGE), "cut-sheet": (Medium.PAPER,)}
"""Where a schedule is printed, if not on all three: paper has the cut list with a row for each end."""


class _Cells(HTMLParser):
    """Texts of the headings and cells of a page with one schedule; its title block is a table too."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.headings: list[str] = []
        self.rows: list[list[str]] = []
        self._into: list[str] | None = None
        self._is_schedule = False
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "table":
            self._is_schedule = (dict(attrs)["class"] or "").startswith("schedule")
        elif tag == "tr" and self._is_schedule:
            self.rows.append([])
        elif tag in ("th", "td") and self._is_schedule:
            self._into = self.headings if tag == "th" else self.rows[-1]
            self._into.append("")

    def handle_data(self, data: str) -> None:
        if self._into is not None:
            self._into[-1] += data

    def handle_endtag(self, tag: str) -> None:
        if tag in ("th", "td"):
            self._into = None


def printed_rows(table: Table[Any], medium: Medium) -> list[dict[str, str]]:
    """Each row as it is printed: its texts by their headings, in CSV by their keys."""
    if medium is Medium.CSV:
        found = csv.DictReader(io.StringIO(table_csv([table], Status()), newline=""))
        return [{key: text.removeprefix("'") for key, text in row.items() if key != "status"} for row in found]
    if medium is Medium.PAGE:
        page = _Cells(tables_page(PageTitle("", "", "", "", ""), Status(), [table]))
        return [dict(zip(page.headings, row, strict=True)) for row in page.rows[1:]]
    paper = paper_table(table, _WIDE_MM)
    headings = [" ".join(lines) for lines in paper.headings]
    whole: list[list[str]] = []
    for at, row in enumerate(paper.rows):
        texts = iter([" ".join(cell.lines) for cell in row])
        # A cell over several rows is left out in the rows below; all those stand before the others or are ticks.
        if len(row) == len(headings):
            whole.append(list(texts))
            spans = [cell.span for cell in row]
        else:
            whole.append([whole[at - 1][n] if span > 1 else next(texts) for n, span in enumerate(spans)])
    boxes = [cell.tick for cell in paper.rows[0]] if paper.rows else []
    return [{headings[at]: text for at, text in enumerate(row) if not boxes[at]} for row in whole]


def check(table: Table[Any], expected: Sequence[Facts], ids: Sequence[str]) -> None:
    """Hold what is printed on every medium against expected facts; the keys `ids` tell rows apart."""
    headings = HEADINGS[table.key]
    metric = {key for key in headings if not key.endswith("_in") and key != "fixed"}
    assert all(metric <= set(row) <= set(headings) for row in expected), f"{table.key}: facts of other columns"
    for medium in MEDIA.get(table.key, (Medium.CSV, Medium.PAGE, Medium.PAPER)):
        _check_on(table, medium, expected, ids)


def _check_on(table: Table[Any], medium: Medium, expected: Sequence[Facts], ids: Sequence[str]) -> None:
    headings = HEADINGS[table.key]
    place = "place (in)" if expected and "cut_in" in expected[0] else "place (mm)"
    said = {
        key: key if medium is Medium.CSV else place if key == "place" and table.key == "fixing-list" else heading
        for key, (heading, _) in headings.items()
        if all(key in row for row in expected)
    }
    rows = printed_rows(table, medium)
    name = f"{table.key}, {medium.name}"
    assert len(rows) == len(expected), f"{name}: {len(rows)} rows"
    boxes = {each.title_on(medium) for each in table.columns_on(medium) if each.is_tick}
    for row in rows:
        unknown = set(row) - set(said.values()) - boxes
        assert not unknown, f"{name}: {unknown} is held against nothing"
    told = {tuple(_text(row, headings, key, medium) for key in ids if said[key]): row for row in expected}
    assert len(told) == len(expected), f"{name}: {ids} do not tell rows apart"
    for row in rows:
        which = tuple(row.get(said[key], "") for key in ids if said[key])
        assert which in told, f"{name}: no row {which}"
        for key, heading in said.items():
            if heading:
                wanted = _text(told[which], headings, key, medium)
                assert row.get(heading, "") == wanted, f"{name}, {which}, {key}: {row.get(heading)!r}, not {wanted!r}"


def _text(row: Facts, headings: Mapping[str, tuple[str, int]], key: str, medium: Medium) -> str:
    cell = row[key]
    text = cell if isinstance(cell, str) else "" if cell is None else plain_number(float(cell), headings[key][1])
    # Paper is set in lines of words, and a page is read by a browser: blanks at the ends are none.
    return text if medium is Medium.CSV else text.strip()
