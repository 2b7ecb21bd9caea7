"""Ctrl-C while layouts are looked for: a whole plan of the best so far, or a sentence."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from trued.cli.result import INTERRUPTED
from trued.cli.search_watch import Watch, line_of
from trued.plan.layout.result import SoFar

CASE = json.loads((Path(__file__).parents[1] / "data" / "cutting" / "boards.json").read_text(encoding="utf-8"))["cases"]


def job_of(name: str) -> str:
    """A kept case of buying boards as a job file, sizes in 64ths of an inch."""
    case, lines = CASE[name], ["trued = 1", 'name = "Boards"', 'unit = "in"', 'kerf = "1/8"']
    for stock in case["stocks"]:
        lines += ["[[stock]]", f'id = "{stock["id"]}"', 'material = "oak"', 'thickness = "3/4"']
        lines += [f'length = "{stock["L"]}/64"', f'width = "{stock["W"]}/64"']
        lines += ["offcut = true" if stock["offcut"] else f"price = {stock['price']}"]
        lines += [f"have = {stock['have']}"] if stock["have"] else []
        lines += [f'trim_ends = ["{stock["trim"][0]}/64", "{stock["trim"][1]}/64"]']
    for part in case["parts"]:
        lines += ["[[part]]", f'id = "{part["id"]}"', f"quantity = {part['n']}", 'material = "oak"']
        lines += [f'length = "{part["l"]}/64"', f'width = "{part["w"]}/64"', 'thickness = "3/4"']
    return "\n".join(lines) + "\n"


@pytest.mark.skipif(os.name == "nt", reason="no such signal there")
@pytest.mark.parametrize("after", [0.05, 0.6, 1.1, 2.0])
def test_a_search_that_is_stopped_gives_a_whole_plan_or_a_sentence(tmp_path: Path, after: float) -> None:
    job = tmp_path / "job.toml"
    job.write_text(job_of("boards40_5"), encoding="utf-8")
    words = [sys.executable, "-m", "trued", "plan", str(job), "--seconds", "60", "--json"]
    run = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=tmp_path)
    time.sleep(after)
    run.send_signal(signal.SIGINT)
    out, err = run.communicate(timeout=60)
    if run.returncode == 0:
        plan = json.loads(out)
        assert sum(len(piece["placements"]) for piece in plan["layout"]["stock"]) == 40
        assert plan["layout"]["ended"] in {"time", "proved"}
    else:  # stopped while the program was starting
        assert run.returncode in {INTERRUPTED, -signal.SIGINT} and not out
        assert "Traceback" not in err or run.returncode == -signal.SIGINT


def test_the_second_ends_the_program() -> None:
    watch = Watch()
    assert not watch.stop()
    watch.interrupted(signal.SIGINT, None)
    assert watch.stop()
    with pytest.raises(KeyboardInterrupt):
        watch.interrupted(signal.SIGINT, None)


def test_how_far_the_search_is() -> None:
    assert line_of(SoFar("oak", 368.0, 345.5, "price", 20)).startswith(
        "oak: 368.00 so far (20 pieces), at least 345.50."
    )
    assert line_of(SoFar("", 2.977, 2.5, "m2", 1)).startswith("2.977 m² so far (1 piece), at least 2.500 m².")
    assert "first layout" in line_of(None)
