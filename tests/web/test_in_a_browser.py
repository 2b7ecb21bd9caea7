"""The pages as a browser really sets them on a phone: no sideways scroll, and every target high enough for a finger.

56 px at 390 px width is common practice for gloves and dusty fingers (about 15 mm on a phone).
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from tests.web.asking import Site

from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.list_checks import list_ids

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
TARGETS = "a.button, button.button, nav a, .row, .more, summary, .choice label, input[type=text], textarea, select"
MEASURE = f"""
const found = [];
for (const page of document.querySelectorAll("section.whole")) {{
  const low = [...page.querySelectorAll("{TARGETS}")].filter((each) => each.offsetParent)
    .map((each) => Math.round(each.getBoundingClientRect().height)).filter((high) => high < 56);
  found.push({{wide: page.scrollWidth, low, text: getComputedStyle(page).fontSize}});
}}
document.body.dataset.found = JSON.stringify(found);
"""


@pytest.mark.skipif(not BROWSER, reason="needs chromium")
def test_every_page_fits_a_phone(shop: Site, tmp_path: Path) -> None:
    strip = ["fence_end=1.0120", "free_end=1.0500", "length=15"]
    for key in ("a" * 32, "b" * 32):
        run_check("five-cut", strip, {}, book=shop.book, key=key, answers=("anew",))
    job = (Path(__file__).parents[2] / "examples" / "rack.toml").read_text(encoding="utf-8")
    plan = shop.post("/jobs", [("key", "c" * 32), ("text", job), ("kerf", "0.094")]).headers["location"]
    paths = ["/", "/checks", *(f"/checks/{id}" for id in list_ids()), f"/runs/{'b' * 32}", "/changed", "/moved"]
    paths += ["/standing/sled.fence-angle@0", "/standing/blade.kerf"]
    paths += ["/changed/blade-thinner", "/jobs", plan, f"{plan}/cut/1", f"{plan}/cut/3", f"{plan}/measured", "/no"]
    bodies = "".join(f'<section class="whole">{_body(shop.get(path).text)}</section>' for path in paths)
    head = f'<meta charset="utf-8"><style>{shop.get("/style.css").text} .whole {{ width: 390px }}</style>'
    file = tmp_path / "pages.html"
    file.write_text(f"<!doctype html>{head}<body>{bodies}<script>{MEASURE}</script></body>", encoding="utf-8")
    command = [BROWSER, *QUIET, f"--user-data-dir={tmp_path / 'browser'}", file.as_uri()]
    try:
        dom = subprocess.run(command, capture_output=True, check=True, timeout=90).stdout.decode("utf-8")
    except (subprocess.CalledProcessError, subprocess.TimeoutExpired):
        dom = ""
    found = re.search(r'data-found="([^"]*)"', dom)
    if found is None:
        pytest.skip("the browser does not start here")
    seen = dict(zip(paths, json.loads(found[1].replace("&quot;", '"')), strict=True))
    assert {path: said for path, said in seen.items() if said["wide"] > 390 or said["low"]} == {}
    assert {float(said["text"].removesuffix("px")) >= 18 for said in seen.values()} == {True}


def _body(page: str) -> str:
    return page.partition("<body")[2].partition(">")[2].partition("</body>")[0]
