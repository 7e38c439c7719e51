"""The formboard as PDF at 1:1, sheet by sheet."""

from harnessgen.documents.paper.paper import SheetPicture, pictures_pdf
from harnessgen.drawings.formboard.sheets import formboard_sheets
from harnessgen.network.network import Network
from harnessgen.schedules.results.status import Status
from harnessgen.sheets.sheet import Paper
from harnessgen.sheets.svg_writer import svg_text


def formboard_pdf(network: Network, status: Status, design: str, papers: tuple[Paper, ...]) -> bytes:
    """All sections at 1:1 on sheets of one of `papers`, each with a map of its sheets first; `design` is its hash.

    Raises:
        PaperUnavailable: typst or the lettering is missing, or typst fails or does not end.
        ValueError: no section has a stretch.
    """
    stamp = status.banner or status.release_words
    sheets = formboard_sheets(network, papers, stamp)
    pictures = [
        SheetPicture(
            sheet.paper, sheet.title, svg_text(sheet.marks, sheet.paper.width_mm, sheet.paper.height_mm, sheet.title)
        )
        for sheet in sheets
    ]
    return pictures_pdf(pictures, design)
