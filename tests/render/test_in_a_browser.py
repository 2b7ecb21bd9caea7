"""The labels as a browser really sets them: whole, apart, and no wider than estimated."""

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from tests.render.all_drawings import DRAWINGS

from trued.render.picture.role_styles import page_css
from trued.render.picture.svg import svg

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome") or ""
QUIET = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
    "--window-size=390,800",
    "--dump-dom",
]

MEASURE = """
const found = [];
for (const drawing of document.querySelectorAll("svg")) {
  const view = drawing.viewBox.baseVal, boxes = [...drawing.querySelectorAll("text")].map((text) => text.getBBox());
  const out = boxes.filter((b) => b.x < view.x || b.y < view.y || b.x + b.width > view.x + view.width
    || b.y + b.height > view.y + view.height).length;
  const on = boxes.filter((a, n) => boxes.slice(0, n).some((b) => a.x < b.x + b.width - 1 && b.x < a.x + a.width - 1
    && a.y + 3 < b.y + b.height && b.y + 3 < a.y + a.height)).length;
  const shown = drawing.getBoundingClientRect().width;
  found.push({out, on, text: 13 * shown / view.width, side: document.documentElement.scrollWidth > innerWidth});
}
document.body.dataset.found = JSON.stringify(found);
"""


def browsed(page: str, folder: Path) -> str:
    path = folder / "page.html"
    path.write_text(page, encoding="utf-8")
    command = [BROWSER, *QUIET, f"--user-data-dir={folder / 'browser'}", path.as_uri()]
    try:
        return subprocess.run(command, capture_output=True, check=True, timeout=60).stdout.decode("utf-8")
    except (subprocess.CalledProcessError, subprocess.TimeoutExpired):
        return ""


@pytest.mark.skipif(not BROWSER, reason="needs chromium")
def test_every_label_is_whole_apart_and_large_enough(tmp_path: Path) -> None:
    drawn = "".join(svg(drawing) for drawing in DRAWINGS.values())
    head = f'<meta charset="utf-8"><meta name="viewport" content="width=device-width"><style>{page_css()}</style>'
    dom = browsed(f"<!doctype html>{head}<body>{drawn}<script>{MEASURE}</script></body>", tmp_path)
    found = re.search(r'data-found="([^"]*)"', dom)
    if found is None:
        pytest.skip("the browser does not start here")
    seen = json.loads(found[1].replace("&quot;", '"'))
    assert len(seen) == len(DRAWINGS)
    bad = {name: said for name, said in zip(DRAWINGS, seen, strict=True) if said["out"] or said["on"] or said["side"]}
    assert bad == {}
    assert min(said["text"] for said in seen) >= 12
