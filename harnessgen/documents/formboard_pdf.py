"""The formboard as PDF at 1:1, sheet by sheet."""

from harnessgen.documents.paper import SheetPicture, pictures_pdf
from harnessgen.drawings.formboard_sheets import formboard_sheets
from harnessgen.network.network import Network
from harnessgen.schedules.status import NOT_FOR_BUILD, Status
from harnessgen.sheets.sheet import PAPERS, Paper
from harnessgen.sheets.svg_writer import svg_text


def papers_of(size: str) -> tuple[Paper, ...]:
    """The papers of one size (`A4`, `letter`, `A3`), lying and upright.

    Raises:
        ValueError: there is no such size.
    """
    found = tuple(paper for name, paper in PAPERS.items() if name.split()[0] == size)
    if not found:
        raise ValueError(f"there is no paper {size}: {', '.join(dict.fromkeys(name.split()[0] for name in PAPERS))}")
    return found


def formboard_pdf(network: Network, status: Status, design: str, size: str = "A4") -> bytes:
    """All sections at 1:1, each with a map of its sheets first; `design` is the design's hash.

    Raises:
        PaperUnavailable: typst or the lettering is missing.
        ValueError: no section has a stretch, or there is no such paper.
    """
    stamp = "" if status.is_for_build else NOT_FOR_BUILD
    sheets = formboard_sheets(network, papers_of(size), stamp)
    pictures = [
        SheetPicture(
            sheet.paper, sheet.title, svg_text(sheet.marks, sheet.paper.width_mm, sheet.paper.height_mm, sheet.title)
        )
        for sheet in sheets
    ]
    return pictures_pdf(pictures, design)
