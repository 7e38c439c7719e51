"""One self-contained HTML page: no script, nothing fetched, printable on A4, readable on a phone.

Text from a design reaches the page through templates that escape it, so it can never become markup.
"""

from collections.abc import Callable
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, Any

from harnessgen.measures.frozen import frozen
from harnessgen.network.network import HarnessSection, Network
from harnessgen.schedules.results.status import Status

if TYPE_CHECKING:
    import jinja2

LOCAL_CODES = "Local codes come first. Where the law asks for a licensed person, that person does this work or signs."


@frozen
class PageTitle:
    """What the head of a page says: the document, and the harness or section that it is of."""

    document: str
    title: str
    number: str
    revision: str
    date: str
    section: str = ""


def page_title(network: Network, document: str, section: HarnessSection | None = None) -> PageTitle:
    """Title of a document of the whole harness, or of one section under the section's own number."""
    block = network.design.harness
    if block is None:
        return PageTitle(document, "", "", "", "", section.title if section else "")
    number = section.number if section else block.number
    return PageTitle(document, block.title, number, block.revision, block.date, section.title if section else "")


def render(template: str, title: PageTitle, status: Status, **content: Any) -> str:
    """A page from `template` (a file in `templates`) under its head, with the banner that `status` asks for."""
    page = _environment().get_template(template)
    return page.render(page=title, status=status, style=_text("page.css"), **content)


def _text(name: str) -> str:
    return resources.files("harnessgen.documents").joinpath("templates", name).read_text(encoding="utf-8")


@cache
def _environment() -> "jinja2.Environment":
    # Imported here: only what writes a page needs it.
    import jinja2

    loader: Callable[[str], str] = _text
    return jinja2.Environment(
        autoescape=True,
        loader=jinja2.FunctionLoader(loader),
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
