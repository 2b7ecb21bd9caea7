"""Which way a fit with one limit wants a setting to be rounded."""

import pytest
from tests.plan.planned import job

from trued.job.expression.tree import Side
from trued.job.file.read import read_job
from trued.job.job import Job
from trued.plan.order.one_sided import meant_mm, roundings_of

BOX = """
unit = "in"
[sizes]
opening = "16"
half = "opening/2"
[[part]]
id = "front"
quantity = 2
length = "14 33/64"
width = "3"
thickness = "1/2"
[[part]]
id = "lid"
length = "measured"
width = "3"
thickness = "1/2"
"""


def box(*fits: str) -> Job:
    rows = (f'[[fit]]\nid = "f{n}"\n{fit}\n' for n, fit in enumerate(fits))
    return read_job(BOX + "".join(rows))


@pytest.mark.parametrize(
    ("fit", "way"),
    [
        ('of = "opening - front.length"\nat_least = "1"', "down"),  # growth takes from what must be left
        ('of = "front.length"\nat_most = "14 5/8"', "down"),  # never wide: a drawer between its slides
        ('of = "front.length - 14"\nat_least = "1/2"', "up"),
        ('of = "opening - front.length"\nat_most = "1 1/2"', "up"),
        ('of = "min(front.length, 20)"\nat_most = "15"', "down"),
    ],
)
def test_one_limit_says_which_way(fit: str, way: str) -> None:
    here = box(fit)
    assert roundings_of(here, here.fits) == {("front", Side.LENGTH): way}


@pytest.mark.parametrize(
    "fits",
    [
        ('of = "opening - front.length"\nat_least = "1"\nat_most = "2"',),  # two limits
        ('of = "front@2.length - front@1.length"\nat_least = "-0.01"',),  # mates grow together
        ('of = "half"\nat_least = "1"',),  # nothing is cut to it
        ('of = "front.length"\nat_most = "15"', 'of = "front.length"\nat_least = "14"'),  # both ways at once
    ],
)
def test_else_either_way_will_do(fits: tuple[str, ...]) -> None:
    here = box(*fits)
    assert roundings_of(here, here.fits) == {}


def test_rails_of_the_rack_may_never_be_over() -> None:
    rack = job("rack")
    assert roundings_of(rack, rack.fits) == {("rail", Side.LENGTH): "down"}


def test_what_a_fit_is_meant_to_come_to() -> None:
    # 12.891 + 0.5 - 13.3754 = 0.0156, and 14.4375 - (12.891 + 1.484) = 1/16.
    rack = job("rack")
    values = [float(meant_mm(rack, fit.of)) / 25.4 for fit in rack.fits]
    assert values == pytest.approx([1 / 64, 1 / 16, 0.0], abs=1e-9)


def test_size_that_is_held_back_has_no_meaning_yet() -> None:
    here = box('of = "opening - lid.length"\nat_least = "1"')
    with pytest.raises(KeyError):
        meant_mm(here, here.fits[0].of)
    waiting = read_job(
        '[measured]\ngap = "measured"\n'
        + BOX.replace('unit = "in"', "")
        + '[[fit]]\nid = "g"\nof = "gap"\nat_least = "1"\n'
    )
    with pytest.raises(KeyError):
        meant_mm(waiting, waiting.fits[0].of)
