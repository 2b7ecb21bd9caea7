"""From a job to the values that a layout is made from, each rounded to its own side."""

from fractions import Fraction

import pytest
from tests.plan.planned import inch, job

from trued.job.file.read import read_job
from trued.plan.from_job import rules_of, stocks_of, wants_of, without_stock
from trued.plan.layout.pieces import UNITS_PER_MM, PartGrain, Rect, StockGrain, may_lie, same_wood

JOB = """
unit = "mm"
[sizes]
hundred = "100"
third = "hundred/3"
[[stock]]
id = "B"
material = "pine"
length = "third*30"
width = "third*6"
thickness = "third/2"
trim_ends = ["third", "0"]
defects = [{ at = ["third*3", "0"], size = ["third", "third"] }]
grain = "none"
[[part]]
id = "slat"
quantity = 3
material = "pine"
length = "third*2"
width = "third"
thickness = "third/2"
grain = "any"
together = "slats"
[[part]]
id = "door"
material = "oak"
length = "third*2"
width = "third"
thickness = "third/2"
[[part]]
id = "lid"
material = "pine"
length = "measured"
width = "third"
thickness = "third/2"
"""


def test_parts_go_up_and_stock_goes_down() -> None:
    here = read_job(JOB)
    (want,), (stock,) = wants_of(here), stocks_of(here)
    exact = Fraction(100, 3) * UNITS_PER_MM
    assert (want.length, want.width) == (-(-2 * exact // 1), -(-exact // 1))
    assert (stock.length, stock.width) == (30 * exact // 1, 6 * exact // 1)
    assert stock.trim_ends == (-(-exact // 1), 0)
    assert stock.defects == (Rect(int(3 * exact), 0, int(exact) + 1, int(exact) + 1),)


def test_thickness_stays_equal_on_both_sides() -> None:
    here = read_job(JOB)
    assert same_wood(wants_of(here)[0], stocks_of(here)[0])


def test_words_are_carried_over() -> None:
    here = read_job(JOB)
    (want,), (stock,) = wants_of(here), stocks_of(here)
    assert (want.id, want.copies, want.grain, want.together) == ("slat", 3, PartGrain.ANY, "slats")
    assert stock.grain is StockGrain.NONE and may_lie(want, stock, turned=True)


def test_what_is_held_back_or_has_no_stock_is_not_laid_out() -> None:
    here = read_job(JOB)
    assert [want.id for want in wants_of(here)] == ["slat"]
    assert [part.id for part in without_stock(here)] == ["door"]


def test_defect_at_the_far_end_stays_on_the_piece() -> None:
    at_end = JOB.replace('at = ["third*3", "0"]', 'at = ["third*29", "third*5"]')
    stock = stocks_of(read_job(at_end))[0]
    assert (stock.defects[0].end_x, stock.defects[0].end_y) == (stock.length, stock.width)


def test_rules_take_the_method_from_the_job() -> None:
    assert rules_of(job("rack"), Fraction(1)).allowance == 0
    rough = rules_of(job("rack_rough"), Fraction(1, 3), seed=5, effort=7)
    assert rough.allowance == inch(0.5)
    assert (rough.kerf, rough.seed, rough.effort) == (UNITS_PER_MM // 3 + 1, 5, 7)


def test_part_held_back_cannot_be_wanted() -> None:
    from trued.plan import from_job

    with pytest.raises(ValueError, match="held back"):
        from_job._want(read_job(JOB).part("lid"))
