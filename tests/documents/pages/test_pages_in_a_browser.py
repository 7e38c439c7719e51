"""Every HTML page of a build in a real browser, as wide as a phone and as a desk: nothing is cut off or too small."""

import html
import json
import re
import subprocess
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from harnessgen.bench.steps.procedure import procedure_of
from harnessgen.builder import build_files
from harnessgen.documents.pages.page import page_title
from harnessgen.documents.pages.procedure import procedure_page
from harnessgen.documents.pages.tables import tables_page
from harnessgen.run import examine_text, prove
from harnessgen.schedules.collection import schedules_of
from harnessgen.schedules.results.status import Status
from tests.documents.small_designs import LAMP
from tests.line import FLAT_SIX, physics_of

PHONE_PX, DESK_PX = 390, 1280
LEAST_TEXT_PX, LEAST_TARGET_PX = 12, 24
"""At the width of a phone. A target of 24 px is the least of WCAG 2.2, criterion 2.5.8."""

SPOOL = "stock:\n  black: {size: 1.5 mm2, color: BK, length: 50 m}\n"

_MEASURE = """
addEventListener('load', () => {
  const found = {};
  for (const frame of document.querySelectorAll('iframe')) {
    const page = frame.contentDocument, root = page.scrollingElement;
    const style = e => frame.contentWindow.getComputedStyle(e);
    const said = {wide: root.scrollWidth, room: root.clientWidth, out: [], text: 99, target: 999, links: [], words: 0};
    for (const e of page.body.querySelectorAll('*')) {
      const box = e.getBoundingClientRect();
      if (!box.width || e.closest('svg') || (box.right < 0)) continue;
      if (box.right > root.clientWidth + 0.5) said.out.push(e.tagName + ' ' + e.textContent.slice(0, 40));
      const own = [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
      if (own) { said.text = Math.min(said.text, parseFloat(style(e).fontSize)); said.words += 1; }
      if (e.tagName === 'A') {
        said.target = Math.min(said.target, box.height);
        said.links.push(page.querySelector(e.getAttribute('href')) !== null);
      }
    }
    found[frame.title] = said;
  }
  const said = document.createElement('pre');
  said.id = 'found';
  said.textContent = JSON.stringify(found);
  document.body.append(said);
});
"""


@cache
def pages() -> dict[str, str]:
    """Every HTML page of a small build with a spool on the shelf, and the two long ones of the flat six, by name."""
    files = build_files(prove(examine_text(LAMP + SPOOL))).files
    found = {name: text.decode() for name, text in files.items() if name.endswith(".html")}
    physics = physics_of(FLAT_SIX)
    network = physics.network
    title, tables = page_title(network, "Long page"), schedules_of(network, physics).for_page(on_bench=False)
    found["long/cut-list.html"] = tables_page(title, Status(), tables)
    found["long/procedure.html"] = procedure_page(network, title, Status(), procedure_of(network, physics))
    return found


@pytest.fixture(scope="module")
def measured(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What the browser says of each page at each width, all from one start of it."""
    frames = "".join(
        f'<iframe title="{name} {width}" style="width:{width}px;height:800px;border:0" srcdoc="{html.escape(text)}">'
        "</iframe>"
        for name, text in pages().items()
        for width in (PHONE_PX, DESK_PX)
    )
    holder: Path = tmp_path_factory.mktemp("browser") / "pages.html"
    holder.write_text(f"<!doctype html><meta charset=utf-8><body>{frames}<script>{_MEASURE}</script>", "utf-8")
    command = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--dump-dom", holder.as_uri()]
    shown = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True).stdout
    found = re.search('<pre id="found">(.*?)</pre>', shown, re.DOTALL)
    assert found is not None
    said: dict[str, Any] = json.loads(html.unescape(found[1]))
    assert len(said) == 2 * len(pages())
    assert "cutting-plan.html" in pages()
    return said


def test_no_page_is_cut_off_at_its_side(measured: dict[str, Any]) -> None:
    """No page has to be moved sideways, and nothing on it stands out to the right."""
    for name, said in measured.items():
        assert said["words"] > 20, name
        assert (name, said["wide"], said["out"]) == (name, said["room"], [])


def test_text_and_targets_of_a_phone_can_be_read_and_hit(measured: dict[str, Any]) -> None:
    """Outside of pictures no text is under 12 px, and no link lower than a finger needs."""
    for name, said in measured.items():
        if name.endswith(f" {PHONE_PX}"):
            assert said["text"] >= LEAST_TEXT_PX, name
            assert said["target"] >= LEAST_TARGET_PX, name


def test_links_lead_to_a_place_of_their_page(measured: dict[str, Any]) -> None:
    """The pages with many parts list them, and each link has its place."""
    for name, said in measured.items():
        assert all(said["links"]), name
    assert measured[f"long/cut-list.html {PHONE_PX}"]["links"]
    assert measured[f"long/procedure.html {PHONE_PX}"]["links"]
