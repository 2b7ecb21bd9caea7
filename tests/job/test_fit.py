"""Fits: what cancels, what does not, and what a person is told."""

from pathlib import Path

import pytest
from tests.job.shops import INCH, NOTHING, caliper, holds

from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.expression.tree import PartSize, Side
from trued.job.file.read import read_job
from trued.job.fits.fit import FitResult, judge_fits, judge_job, waiting_fits
from trued.job.groups import CutGroup, CutGroups, default_groups
from trued.job.job import Job
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.cuts.cut_errors import CutErrors

RACK = read_job(
    (Path(__file__).parents[2] / "examples" / "rack.toml").read_text(encoding="utf-8").replace("tape", "stick")
)
PAIR = """
[sizes]
half = "6"
[[part]]
id = "a"
quantity = 3
length = "12"
width = "4"
thickness = "1"
[[part]]
id = "b"
quantity = 2
length = "12"
width = "4"
thickness = "1"
[[fit]]
id = "{0}"
of = "{1}"
at_least = "-0.020"
at_most = "0.020"
"""


def judged(job: Job, saw: CutErrors, groups: CutGroups | None = None) -> dict[str, FitResult]:
    budget = UncertaintyBudget(job, saw, groups or default_groups(job), (caliper(0.0),), NOTHING)
    return {result.name: result for result in judge_fits(budget)}


def one(of: str, saw: CutErrors, groups: CutGroups | None = None) -> FitResult:
    return judged(read_job(PAIR.format("f", of)), saw, groups)["f"]


def test_an_error_in_a_measured_thickness_never_cancels_against_the_target_reckoned_from_it() -> None:
    # u(t) = 0.005 in and no other error: the rack's outside is out by twice that, the shelves fit as meant. Two
    # mistakes would show here: t cancelled in the first (0), or t not cancelled in the second (0.010).
    stick = caliper(0.0)
    exact_stick = type(stick)("stick", "stick", stick.resolution, 0.0, stick.repeat)
    own = (caliper(0.005 * INCH), exact_stick)
    fits = {f.name: f for f in judge_fits(UncertaintyBudget(RACK, holds(), default_groups(RACK), own, NOTHING))}
    assert fits["rack between the studs"].sd_mm == pytest.approx(0.010 * INCH, rel=1e-6)
    assert fits["shelf in its dados"].sd_mm == pytest.approx(0.0, abs=1e-6)
    assert fits["rack between the studs"].mean_mm == pytest.approx(INCH / 16)
    assert fits["shelf in its dados"].mean_mm == pytest.approx(INCH / 64, abs=1e-5)


def test_a_matched_pair_on_one_setting() -> None:
    # Offset unknown by 0.010 in: the sum of two mates moves by twice that, their difference not at all. The root of
    # the sum of squares would say 0.014 for both.
    saw = holds(offset_u=0.010 * INCH)
    assert one("a@1.length + a@2.length - 24", saw).sd_mm == pytest.approx(0.020 * INCH)
    assert one("a@1.length - a@2.length", saw).sd_mm == pytest.approx(0.0, abs=1e-12)
    naive = (2 * (0.010 * INCH) ** 2) ** 0.5
    for of in ("a@1.length + a@2.length - 24", "a@1.length - a@2.length"):
        assert one(of, saw).sd_mm != pytest.approx(naive, rel=0.1)


def test_what_one_setting_for_both_parts_gains() -> None:
    saw = holds(setting=0.1, repeat=0.02)
    job = read_job(PAIR.format("f", "a.length - b.length"))
    apart, shared = default_groups(job), CutGroups(dict.fromkeys(default_groups(job), CutGroup("S", "R")))
    assert judged(job, saw, apart)["f"].sd_mm == pytest.approx((2 * 0.1**2 + 2 * 0.02**2) ** 0.5)
    assert judged(job, saw, shared)["f"].sd_mm == pytest.approx(2**0.5 * 0.02)


def test_shares_add_up_and_name_their_sources() -> None:
    fit = one("a.length - 12", holds(offset_u=0.3, repeat=0.4, assumed=("sled.stop-repeat",)))
    assert fit.shares == pytest.approx({"stop repeatability": 0.64, "stop scale": 0.36})
    assert next(iter(fit.shares)) == "stop repeatability"
    assert fit.assumed == ("stop repeatability",)
    assert fit.sd_mm == pytest.approx(0.5)


def test_chance_and_interval_of_a_normal_fit() -> None:
    # Limits at +-0.020 in, sd 0.020 in: one standard deviation either way holds 68.27 % of a normal distribution, and
    # 1.95996 standard deviations 95 % (both by the standard library: 2 Phi(1) - 1 and the quantile of 0.975).
    fit = one("a.length - 12", holds(offset_u=0.020 * INCH))
    assert fit.chance == pytest.approx(0.6827, abs=1e-4)
    assert fit.interval_mm == pytest.approx((-1.95996 * 0.020 * INCH, 1.95996 * 0.020 * INCH), rel=1e-5)
    assert fit.limits_mm == (-0.020 * INCH, 0.020 * INCH)


def test_an_open_limit() -> None:
    job = read_job(PAIR.format("f", "a.length - 12").replace('at_least = "-0.020"\n', ""))
    assert judged(job, holds(offset_u=0.020 * INCH))["f"].chance == pytest.approx(0.8413, abs=1e-4)


def test_without_any_error_it_fits_or_not() -> None:
    assert one("a.length - 12", holds()).chance == 1.0
    assert one("a.length - 11", holds()).chance == 0.0
    assert one("a.length - 12", holds()).shares == {}


def test_each_copy_is_looked_at_and_the_least_likely_told() -> None:
    job = read_job(PAIR.format("f", "a.length - 12"))
    of = dict(default_groups(job).of)
    of["a", 2] = CutGroup("S9", "R", length_reading_mm=12 * INCH + 0.4)
    fit = judged(job, holds(repeat=0.1), CutGroups(of))["f"]
    assert fit.copies == "a@2" and fit.mean_mm == pytest.approx(0.4)
    assert judged(job, holds(repeat=0.1))["f"].copies == ""


def test_copies_of_two_parts_are_combined() -> None:
    job = read_job(PAIR.format("f", "a.length - b.length"))
    of = dict(default_groups(job).of)
    of["a", 2] = CutGroup("S8", "R", length_reading_mm=12 * INCH + 0.2)
    of["b", 2] = CutGroup("S9", "R", length_reading_mm=12 * INCH - 0.2)
    fit = judged(job, holds(repeat=0.1), CutGroups(of))["f"]
    assert fit.copies == "a@2, b@2" and fit.mean_mm == pytest.approx(0.4)


def test_very_many_ways_are_looked_at_in_turn() -> None:
    text = (
        PAIR.format("f", "a.length - b.length")
        .replace("quantity = 3", "quantity = 60")
        .replace("quantity = 2", "quantity = 50")
    )
    job = read_job(text)
    of = {(id, copy): CutGroup(f"{id}{copy}", "R") for id, copy in default_groups(job)}
    of["a", 58] = CutGroup("x", "R", length_reading_mm=12 * INCH + 0.4)
    assert judged(job, holds(repeat=0.1), CutGroups(of))["f"].copies == "a@58, b@8"


def test_a_measured_copy_is_looked_at_by_itself() -> None:
    job = read_job(PAIR.format("f", "a.length - 12"))
    known = {PartSize("a", Side.LENGTH, 3): UncertainValue.of(12 * INCH + 0.6, ErrorSource("r", "caliper", 0.01))}
    budget = UncertaintyBudget(job, holds(repeat=0.1), default_groups(job), untaught=NOTHING, measured=known)
    (fit,) = judge_fits(budget)
    assert fit.copies == "a@3" and fit.shares == {"caliper": 1.0} and fit.chance < 0.001


@pytest.mark.parametrize(
    ("of", "curved"),
    [
        ("min(a@1.length, a@2.length) - 12", True),
        ("min(a@1.length, a@2.length + 1) - 12", False),
        ("max(half, 5) - 6", False),
        ("a.length - 12", False),
        ("a.thickness - 1", False),
    ],
)
def test_near_equal_sizes_under_min_and_max_are_told(of: str, curved: bool) -> None:
    assert one(of, holds(repeat=0.1)).curved is curved


def test_a_choice_inside_a_name_or_a_thickness_is_seen() -> None:
    text = """
[measured]
p = { is = "1", instrument = "caliper" }
q = { is = "1", instrument = "rule" }
least = "min(p, q)"
again = "least"
[[part]]
id = "a"
length = "12"
width = "4"
thickness = "least"
[[fit]]
id = "f"
of = "OF"
at_least = "0"
"""
    for of in ("again", "a.thickness + least"):
        (fit,) = judge_fits(UncertaintyBudget(job := read_job(text.replace("OF", of)), holds(), default_groups(job)))
        assert fit.curved


def test_fits_that_wait() -> None:
    text = PAIR.format("f", "gap - a.length") + '[[fit]]\nid = "g"\nof = "door.length - 1"\nat_least = "0"\n'
    text = (
        text.replace("[sizes]", '[sizes]\ngap = "measured"')
        + '[[part]]\nid = "door"\nlength = "gap"\nwidth = "1"\nthickness = "1"\n'
    )
    job = read_job(text + '[[fit]]\nid = "h"\nof = "a.length - b.length"\nat_most = "1"\n')
    assert [spec.id for spec in waiting_fits(job)] == ["f", "g"]
    assert list(judged(job, holds())) == ["h"]


def test_fits_that_share_all_their_error_hold_or_fail_together() -> None:
    # Two fits that both go by one offset: 68 % each, and 68 % both; their product would say 47 %.
    text = PAIR.format("f", "a.length - 12")
    text += '[[fit]]\nid = "g"\nof = "b.length - 12"\nat_least = "-0.020"\nat_most = "0.020"\n'
    job = read_job(text)
    found = judge_job(UncertaintyBudget(job, holds(offset_u=0.020 * INCH), default_groups(job), (), NOTHING))
    assert [fit.method for fit in found.fits] == ["first order", "first order"]
    assert found.chance == pytest.approx(0.6827, abs=0.01) and found.method == "draws"


def test_four_copies_are_less_likely_to_fit_than_one() -> None:
    # Each copy by its own draw, +-1 sd: 0.6827 for one, 0.6827**3 for all three (independent normals).
    fit = one("a.length - 12", holds(repeat=0.020 * INCH))
    assert fit.method == "draws" and fit.chance == pytest.approx(0.6827**3, abs=0.01)
    assert fit.interval_mm == pytest.approx((-1.95996 * 0.020 * INCH, 1.95996 * 0.020 * INCH), rel=1e-5)
