"""docs/fits.md keeps its word: every kind and field is on it, and its pieces of job files are read."""

import re
from pathlib import Path

import pytest

from trued.job.assembly.kinds import KINDS
from trued.job.file.read import read_job
from trued.job.file.read_kind import READY

PAGE = (Path(__file__).parents[2] / "docs" / "fits.md").read_text(encoding="utf-8")
PARTS = """
[[part]]
id = "rail"
quantity = 2
length = "21"
width = "1 1/2"
thickness = "3/4"
[[part]]
id = "stile"
quantity = 2
length = "30"
width = "1 1/2"
thickness = "3/4"
[[part]]
id = "door"
length = "26"
width = "10"
thickness = "3/4"
"""


def row_of(kind: str) -> str:
    rows = [line for line in PAGE.splitlines() if line.startswith(f"| `{kind}` |")]
    return rows[-1] if kind in ("box", "carcass", "frame", "shelf rack") else rows[0]


@pytest.mark.parametrize("kind", sorted(READY))
def test_every_field_of_a_ready_made_fit_is_told(kind: str) -> None:
    told = set(re.findall("`([a-z_]+)`", row_of(kind).split("|")[2]))
    assert told == set(READY[kind][0])


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_field_of_an_assembly_is_told(kind: str) -> None:
    rows = [line for line in PAGE.splitlines() if line.startswith(f"| `{kind}` |")]
    own = set(re.findall("`([a-z_]+)`", rows[-1].split("|")[2]))
    common = set(re.findall("`([a-z_]+)`", PAGE[PAGE.index("For all: `outside`") :].split("\n\n")[0]))
    assert set(KINDS[kind][0]) - {"id", "kind"} <= own | common and own <= set(KINDS[kind][0])


@pytest.mark.parametrize("text", re.findall("```toml\n(.*?)```", PAGE, re.DOTALL))
def test_the_files_of_the_page_are_read(text: str) -> None:
    job = read_job(PARTS + text)
    assert job.fits
