"""A real browser for tests: a page goes in, what a person sees of it at a given width comes out."""

import json
import re
import shutil
import subprocess
from collections.abc import Sequence
from html import escape, unescape
from pathlib import Path
from typing import Any

import pytest

CHROMIUM = next(
    (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), None
)

needs_browser = pytest.mark.skipif(CHROMIUM is None, reason="no browser is installed")

_LOOK = """
<script>
const seen = each => each && each.getClientRects().length > 0
  && each.getBoundingClientRect().right <= document.documentElement.clientWidth + 1;
const said = each => seen(each) ? each.innerText.trim() : "";
const all = (from, what) => [...from.querySelectorAll(what)];
const found = all(document, "section").filter(each => each.querySelector(".stand")).map(each => ({
  title: said(each.querySelector("h2")),
  stand: said(each.querySelector(".stand")),
  cautions: all(each, ".cautions li").map(said),
  setup: all(each, ".setup li").map(said),
  faces: all(each, "figure").map(one => ({caption: said(one.querySelector("figcaption")),
    drawn: all(one, "svg text").map(word => word.textContent)})),
  steps: all(each, "tbody tr").map(row => Object.fromEntries(all(row, "td").map(cell =>
    [cell.dataset.heading, {text: said(cell), boxes: all(cell, ".box, .fill").length}]))),
}));
const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
parent.document.getElementById("found").textContent = JSON.stringify({width: innerWidth, over: wide, blocks: found});
</script>
"""


def seen_in(pages: Sequence[str], at: Path, width: int) -> dict[str, Any]:
    """Blocks of test sheets with what is visible of them on a screen so many pixels wide; `over` is what runs out."""
    assert CHROMIUM is not None
    # One start of the browser for all: they have the same style.
    bodies = [page.partition("<body>")[2].rpartition("</body>")[0] for page in pages]
    page = f"{pages[0].partition('<body>')[0]}<body>{''.join(bodies)}</body></html>"
    file = at / "page.html"
    # The page lets no script run: in the copy that is looked at, ours may.
    open_page = page.replace("default-src 'none'", "script-src 'unsafe-inline'")
    assert open_page != page
    looked_at = escape(open_page.replace("</body>", f"{_LOOK}</body>"))
    # No window is as narrow as a phone; a frame is.
    frame = f'<pre id="found"></pre><iframe width="{width}" height="900" frameborder="0" srcdoc="{looked_at}"></iframe>'
    file.write_text(f"<!DOCTYPE html><body>{frame}</body>", encoding="utf-8")
    told = [CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--window-size=1000,1000", "--dump-dom"]
    done = subprocess.run([*told, file.as_uri()], capture_output=True, text=True, timeout=120, check=True)
    match = re.search(r'<pre id="found">(.+?)</pre>', done.stdout, flags=re.DOTALL)
    assert match is not None, done.stderr[-2000:]
    result: dict[str, Any] = json.loads(unescape(match[1]))
    assert result["width"] == width
    return result
