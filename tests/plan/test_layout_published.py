"""Published cutting-stock and bin-packing instances, as boards without a kerf (tests/data/cutting, with their origin).

They are for cutting without loss, so the last piece may be what remains.
"""

import json
from collections import Counter
from pathlib import Path

import pytest
from tests.plan.layout_jobs import laid

from trued.plan.bounds.boards import priced_scales
from trued.plan.bounds.bound import floor_of, weighings
from trued.plan.lay_out import lay_out
from trued.plan.layout.pieces import Rules, Stock, Want
from trued.plan.layout.result import Ended
from trued.plan.layout.task import Task, task_of

DATA = Path(__file__).parents[1] / "data" / "cutting"
TEXTBOOK = json.loads((DATA / "textbook.json").read_text(encoding="utf-8"))
BINS = json.loads((DATA / "falkenauer.json").read_text(encoding="utf-8"))
MM = 10_000_000


def boards(room: int, sizes: list[int], demand: list[int]) -> tuple[tuple[Stock, ...], tuple[Want, ...]]:
    wants = tuple(Want(f"{size} mm", count, size * MM, 10 * MM) for size, count in zip(sizes, demand, strict=True))
    return (Stock("board", room * MM, 10 * MM, price=1),), wants


def bins_of(name: str) -> tuple[tuple[Stock, ...], tuple[Want, ...]]:
    count = Counter(BINS[name]["items"])
    return boards(BINS[name]["capacity"], list(count), list(count.values()))


def numbered(job: tuple[tuple[Stock, ...], tuple[Want, ...]]) -> Task:
    return task_of(*job, Rules(0, remainder=True), priced=True)


@pytest.mark.parametrize("name", ["chvatal_1983_ch13", "fourer_gay_kernighan_2003", "winston_2004"])
def test_textbook_optimum_is_reached_and_proved(name: str) -> None:
    instance = TEXTBOOK[name]
    job = boards(instance["width"], instance["sizes"], instance["demand"])
    layout = laid(lay_out(*job, Rules(0, remainder=True, effort=400)))
    assert len(layout.used) == instance["optimum"]
    assert layout.bound == instance["optimum"]
    assert layout.ended is Ended.PROVED


@pytest.mark.parametrize("name", ["chvatal_1983_ch13", "fourer_gay_kernighan_2003", "winston_2004"])
def test_textbook_relaxation_has_the_published_value(name: str) -> None:
    instance = TEXTBOOK[name]
    (scale,) = priced_scales(numbered(boards(instance["width"], instance["sizes"], instance["demand"])))
    assert scale.need / scale.capacities[0] == pytest.approx(instance["lp"], rel=1e-5)


@pytest.mark.parametrize("name", ["u120_00", "u250_00", "t60_00", "t60_01"])
def test_bound_of_bin_packing_is_the_published_number(name: str) -> None:
    task = numbered(bins_of(name))
    assert floor_of(task, weighings(task)).cost == BINS[name]["published_bins"] * 1_000_000


@pytest.mark.parametrize("name", ["u120_00", "u250_00"])
def test_uniform_bins_are_packed_as_published(name: str) -> None:
    layout = laid(lay_out(*bins_of(name), Rules(0, remainder=True)))
    assert len(layout.used) == BINS[name]["published_bins"]


def test_triplets_come_within_one_board() -> None:
    # 20 by construction, every board filled to the last tenth: this search proves the bound and stays one above (21).
    layout = laid(lay_out(*bins_of("t60_00"), Rules(0, remainder=True, effort=200)))
    assert layout.bound == 20
    assert 20 <= len(layout.used) <= 21
