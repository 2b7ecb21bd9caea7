"""docs/job-file.md keeps its word: its file is read, its sums come out, what it refuses is refused."""

import re
from pathlib import Path

import pytest

from trued.errors import InputRefused
from trued.job.file.read import read_job
from trued.job.proof.proof_reading import read_proof
from trued.units import in_mm

PAGE = (Path(__file__).parents[2] / "docs" / "job-file.md").read_text(encoding="utf-8")
FRAME = """
[measured]
t = "1/2"
w = "12"
[[part]]
id = "shelf"
quantity = 4
length = "13"
width = "3 1/2"
thickness = "t"
[[part]]
id = "x"
length = '''{}'''
width = "1"
thickness = "t"
"""


def rows(heading: str) -> list[tuple[str, str]]:
    table = PAGE.split(f"| {heading} |")[1].split("\n\n")[0]
    return [(typed, said) for typed, said in re.findall(r"^\| `(.*?)` \| (.*?) \|$", table, re.MULTILINE)]


def test_the_tables_are_found() -> None:
    assert len(rows("typed | in")) >= 18 and len(rows("refused | why")) >= 20


@pytest.mark.parametrize(("typed", "inches"), rows("typed | in"))
def test_sums_of_the_page(typed: str, inches: str) -> None:
    size = read_job(FRAME.format(typed)).part("x").length
    assert size is not None and size.mm == pytest.approx(in_mm(float(inches)), abs=1e-12)


@pytest.mark.parametrize(("typed", "said"), rows("refused | why"))
def test_refusals_of_the_page(typed: str, said: str) -> None:
    with pytest.raises(InputRefused, match=re.escape(said)) as caught:
        read_job(FRAME.format(typed))
    assert [fault.where.split(", column")[0] for fault in caught.value.faults] == ['[[part]] "x", length']


def test_the_file_of_the_page_is_read() -> None:
    job = read_job(PAGE.split("```toml\n")[1].split("```")[0])
    assert [part.id for part in job.ready] == ["side", "end"] and [part.id for part in job.waiting] == ["lid"]
    assert job.kerf is not None and job.stock[0].defects


def test_every_key_of_the_form_is_on_the_page() -> None:
    for key in ("rough", "kerf", "together", "alike", "trim_edges", "defects", "offcut", "at_least", "show", "grain"):
        assert f"`{key}`" in PAGE


def test_readings_of_the_page() -> None:
    job = read_job(
        PAGE.split("```toml\n")[1].split("```")[0].replace('id = "side"', 'id = "shelf"').replace("side.", "shelf.")
    )
    table = PAGE.split("## Measured parts")[1]
    typed = list(re.findall(r"^\| `(.*?)` \|", table, re.MULTILINE))
    assert len(read_proof(job, typed)) == 5
