"""What measuring the first part of every setting brings."""

import math

import pytest
from tests.job.shops import NOTHING, holds

from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.file.read import read_job
from trued.job.fits.first_article import after_first_article
from trued.job.fits.fit import judge_job
from trued.job.groups import default_groups
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import DEFAULTS, Instrument

JOB = """
[[part]]
id = "a"
length = "{0}"
width = "4"
thickness = "1"
[[fit]]
id = "f"
of = "a.length - {0}"
at_least = "-0.3mm"
at_most = "0.3mm"
"""


def budget(length: str, own: tuple[Instrument, ...] = ()) -> UncertaintyBudget:
    job = read_job(JOB.format(length))
    return UncertaintyBudget(job, holds(offset_u=0.4, setting=0.2, repeat=0.03), default_groups(job), own, NOTHING)


def test_a_short_part_is_read_with_the_caliper() -> None:
    own = Instrument("c", "caliper", 1e-9, 0.02 * math.sqrt(3), EstimatedSd(0.0, 10))
    assert judge_job(budget("6", (own,))).fits[0].sd_mm == pytest.approx(math.sqrt(0.4**2 + 0.2**2 + 0.03**2))
    after = after_first_article(budget("6", (own,)))
    assert after.fits[0].sd_mm == pytest.approx(math.sqrt(0.02**2 + 2 * 0.03**2)) and after.fits[0].chance > 0.999


def test_a_long_part_is_read_against_a_stick() -> None:
    stick = DEFAULTS["stick"]
    expected = math.sqrt(stick.repeat.s**2 + (stick.limit / math.sqrt(3)) ** 2 + 2 * 0.03**2)
    assert after_first_article(budget("24")).fits[0].sd_mm == pytest.approx(expected)
