"""Drawings and lists as PDF: set by typst in memory, the packaged lettering inside, the same bytes every time.

Content goes in as JSON data beside a fixed template, so that text from a design can never become markup.
"""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, fields
from hashlib import sha256
from importlib import resources
from typing import Any

from harnessgen.documents.pages.page import LOCAL_CODES, PageTitle
from harnessgen.documents.paper.tables import PAD_MM, PaperCell, PaperTable, paper_table
from harnessgen.measures.frozen import frozen
from harnessgen.outside.helper import helped
from harnessgen.outside.program import OutsideProgram, OutsideProgramFailed
from harnessgen.schedules.results.status import Status
from harnessgen.schedules.tables.table import Table
from harnessgen.sheets.lettering import FAMILY, drawn_text
from harnessgen.sheets.sheet import PAPERS, Paper, Sheet, sheet_svg
from harnessgen.sheets.title_block import MARGIN_MM

TYPESETTER = OutsideProgram("typst", "install it with: pip install typst", limit_s=120.0)
"""What sets every PDF; a list of a thousand wires takes it a few seconds."""
_SIDE_MM = 10.0
_HASH_SIGNS = 12


@frozen
class Line:
    """A line before a table, with the word that heads it, which may be empty."""

    head: str
    text: str


@frozen
class Picture:
    """A picture before a table: SVG text of our own, its size in mm and what stands under it."""

    svg: str
    width_mm: float
    height_mm: float
    caption: str


@frozen
class SheetPicture:
    """A whole sheet as SVG text of our own, its size that of the paper."""

    paper: Paper
    title: str
    svg: str


@frozen
class Round:
    """One table of a document with what is said and shown before it."""

    table: Table[Any]
    lines: tuple[Line, ...] = ()
    pictures: tuple[Picture, ...] = ()
    starts_page: bool = False


class PaperUnavailable(OutsideProgramFailed):
    """PDF cannot be made, since the typesetter or the packaged lettering cannot be had, or the typesetter fails."""


def design_hash(texts: Iterable[str]) -> str:
    """Short form of the SHA-256 of a design's texts in the order in which they were read."""
    whole = sha256()
    for text in texts:
        held = text.encode("utf-8", "surrogatepass")
        # The length keeps two texts apart from one that holds both.
        whole.update(f"{len(held)}\n".encode())
        whole.update(held)
    return whole.hexdigest()[:_HASH_SIGNS]


def sheets_pdf(sheets: Sequence[Sheet], design: str) -> bytes:
    """Sheets of one drawing as one PDF, each page of its sheet's size; `design` is the design's hash.

    Raises:
        PaperUnavailable: typst or the lettering is missing, or typst fails or does not end.
        ValueError: there is no sheet.
    """
    return pictures_pdf([SheetPicture(sheet.paper, sheet.title, sheet_svg(sheet)) for sheet in sheets], design)


def pictures_pdf(sheets: Sequence[SheetPicture], design: str) -> bytes:
    """Pictures of whole sheets as one PDF at full size, each page of its sheet's size; `design` is the design's hash.

    Raises:
        PaperUnavailable: typst or the lettering is missing, or typst fails or does not end.
        ValueError: there is no sheet.
    """
    if not sheets:
        raise ValueError("there is no sheet to print")
    content = {
        "title": sheets[0].title,
        "font": FAMILY,
        "margin_mm": MARGIN_MM,
        "foot": f"design {design}",
        "sheets": [
            {
                "width_mm": sheet.paper.width_mm,
                "height_mm": sheet.paper.height_mm,
                "title": sheet.title,
                "svg": sheet.svg,
            }
            for sheet in sheets
        ],
    }
    return _typeset("sheets.typ", content)


def tables_pdf(
    title: PageTitle,
    status: Status,
    tables: Iterable[Table[Any]],
    design: str,
    paper: Paper = PAPERS["A4 landscape"],
    cautions: Iterable[str] = (LOCAL_CODES,),
) -> bytes:
    """Schedules as one PDF with head and foot on every page; `design` is the design's hash.

    A schedule of the first one's kind (the cut list of the next section) begins a page; one without rows is left out.

    Raises:
        PaperUnavailable: typst or the lettering is missing, or typst fails or does not end.
    """
    listed = [each for each in tables if each.rows]
    rounds = [Round(each, starts_page=at > 0 and each.key == listed[0].key) for at, each in enumerate(listed)]
    return rounds_pdf(title, status, rounds, design, paper, cautions)


def rounds_pdf(
    title: PageTitle, status: Status, rounds: Iterable[Round], design: str, paper: Paper, cautions: Iterable[str]
) -> bytes:
    """Tables with lines and pictures before them as one PDF, with head and foot on every page.

    Raises:
        PaperUnavailable: typst or the lettering is missing, or typst fails or does not end.
    """
    width_mm = paper.width_mm - 2 * _SIDE_MM
    is_stamped = bool(status.banner)
    named = (title.document, title.number, f"revision {title.revision}" if title.revision else "")
    content = {
        "page": asdict(title) | {"section": title.section or "whole harness", "date": title.date or "not given"},
        "font": FAMILY,
        "pad_mm": PAD_MM,
        "width_mm": paper.width_mm,
        "height_mm": paper.height_mm,
        "margin_mm": _SIDE_MM,
        "running": ", ".join(each for each in named if each),
        "foot": ", ".join(each for each in (title.number, title.title, title.date, f"design {design}") if each),
        "stamp": status.banner,
        "status": status.words if is_stamped else f"{status.release_words}; {status.words}",
        "errors": [{"rule": each.rule, "message": each.message} for each in status.open_errors],
        "cautions": list(cautions),
        "tables": [
            _table_data(paper_table(each.table, width_mm))
            | {
                "starts_page": each.starts_page,
                "before": [asdict(line) for line in each.lines],
                "pictures": [asdict(picture) for picture in each.pictures],
            }
            for each in rounds
        ],
    }
    return _typeset("lists.typ", content)


def _table_data(table: PaperTable) -> dict[str, Any]:
    """A table for the template, its cells as short as can be: they are nearly all of a long list."""
    kept = {each.name: getattr(table, each.name) for each in fields(table) if each.name != "rows"}
    return kept | {"rows": [[_cell_data(cell) for cell in row] for row in table.rows]}


def _cell_data(cell: PaperCell) -> Any:
    """Nothing for a box, a text for one line, else the lines; over several rows with their number."""
    shown = None if cell.tick else cell.lines[0] if len(cell.lines) == 1 else cell.lines
    return shown if cell.span == 1 else {"rows": cell.span, "shown": shown}


def _typeset(template: str, content: Mapping[str, Any]) -> bytes:
    source = resources.files("harnessgen.documents").joinpath("templates", template).read_text(encoding="utf-8")
    data = json.dumps(_plain(content), ensure_ascii=True, allow_nan=False)
    request = {"template": source, "data": data, "fonts": _font_folder(), "family": FAMILY}
    try:
        return helped(TYPESETTER, "typeset", b"%PDF-", request)
    except OutsideProgramFailed as failed:
        raise PaperUnavailable(str(failed)) from failed


def _plain(value: Any) -> Any:
    """The same with every text as it is drawn: no control characters, no half surrogates; SVG keeps its lines."""
    if isinstance(value, Mapping):
        return {key: each if key == "svg" else _plain(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(each) for each in value]
    return drawn_text(value) if isinstance(value, str) else value


def _font_folder() -> str:
    return str(resources.files("harnessgen.sheets").joinpath("font"))
