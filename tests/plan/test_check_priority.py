"""What to true first: worked by hand from a fit of one length, whose errors are given one by one."""

from statistics import NormalDist

import pytest
from tests.job.shops import INCH, NOTHING, holds
from tests.plan.planned import shop

from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.file.read import read_job
from trued.job.groups import default_groups
from trued.plan.check_priority import Advice, advice
from trued.standing.cuts.cut_errors import CutErrors

CHECKS = ("five-cut", "kerf", "stop-scale", "stop-repeat", "bar-play")
PART = '[[part]]\nid = "{0}"\nlength = "12"\nwidth = "4"\nthickness = "1"\n'
FIT = '[[fit]]\nid = "{0}"\nof = "{0}.length - 12"\nat_least = "-{1}"\nat_most = "{1}"\n'
JOB = PART.format("a") + FIT.format("a", "0.1mm")


def looked(saw: CutErrors, text: str = JOB, checks: tuple[str, ...] = CHECKS) -> Advice:
    job = read_job(text)
    return advice(UncertaintyBudget(job, saw, default_groups(job), (), NOTHING), shop(), checks)


def chance(sd: float, most: float = 0.1) -> float:
    return 2 * NormalDist(0, sd).cdf(most) - 1


def test_what_is_known_better_shrinks_to_what_the_check_leaves() -> None:
    # sd 0.1 of the offset alone, limits ±0.1: 68.3 %. The check leaves 0.0015 in: 0.0381 mm, 99.1 %.
    (one,) = looked(holds(offset_u=0.1)).first
    assert (one.feature, one.check, one.minutes, one.fit) == ("sled.stop-offset@0", "stop-scale", 8.0, "a")
    assert one.chance_gain == pytest.approx(chance(0.0015 * INCH) - chance(0.1), abs=0.015)
    assert one.job_gain == one.chance_gain and one.how == "known better"


def test_a_scatter_is_not_made_smaller_by_knowing_it_but_by_its_tolerance() -> None:
    (one,) = looked(holds(repeat=0.1)).first
    assert (one.check, one.how) == ("stop-repeat", "put right")
    assert one.chance_gain == pytest.approx(chance(0.0015 * INCH) - chance(0.1), abs=0.015)
    assert looked(holds(repeat=0.03)).first == ()  # it is within its tolerance: nothing to put right


def test_a_fence_that_is_known_to_be_out_gains_by_being_set() -> None:
    # 4 in wide, 0.001 rad out either way: 0.1016 mm; when it is set, nothing of it is left.
    (one,) = looked(holds(angle=1e-3)).first
    assert one.check == "five-cut" and one.chance_gain == pytest.approx(1.0 - chance(0.1016), abs=0.02)


def test_the_most_for_a_minute_stands_first() -> None:
    # Equal errors: the fence takes 15 minutes, the scale 8.
    found = looked(holds(offset_u=0.08, angle_u=0.08 / (4 * INCH))).first
    assert [one.check for one in found] == ["stop-scale", "five-cut"]


def test_at_most_three_are_told() -> None:
    saw = holds(offset_u=0.1, angle_u=1e-3, repeat=0.1, swing=1e-3)
    assert len(looked(saw).first) == 3


def test_what_would_change_nothing_is_left_alone() -> None:
    found = looked(holds(offset_u=0.01, angle_u=1e-5))
    assert found.first == ()
    assert set(found.do_not_bother) == {
        "blade.kerf",
        "sled.stop-offset@0",
        "sled.stop-repeat",
        "sled.stop-setting",
        "sled.fence-angle@0",
        "sled.bar-play",
    }


def test_the_fit_that_gains_most_counts() -> None:
    text = PART.format("a") + PART.format("b") + FIT.format("a", "0.3mm") + FIT.format("b", "0.1mm")
    (one,) = looked(holds(offset_u=0.1), text).first
    assert one.fit == "b"


def test_only_checks_that_there_are_come_up() -> None:
    wide = JOB.replace("a.length - 12", "a.width - 4")
    saw = holds(rip_u=0.1)
    assert looked(saw, wide).first == ()
    found = looked(saw, wide, (*CHECKS, "rip-fence"))
    assert [first.feature for first in found.first] == ["saw.rip-offset"]
    assert "saw.rip-offset" not in found.do_not_bother


def test_no_fits_no_advice() -> None:
    assert looked(holds(), PART.format("a")) == Advice((), ())
