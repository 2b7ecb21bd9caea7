"""A mitered frame goes by the detent it is cut at. The chances are held against draws of our own (numpy), which walk
round the frame and know nothing of the error budget; a frame 19 5/8 by 15 5/8, limits 1/64 in either way."""

import math
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from trued.equipment.file.read_shop import read_shop
from trued.equipment.shop import Shop
from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.file.read import read_job
from trued.job.fits.fit import FitResult, judge_fit
from trued.job.groups import default_groups
from trued.job.job import Job
from trued.measure.decision import Conformity
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.plan.check_priority import advice
from trued.standing.cuts.cut_angle import cut_angle
from trued.standing.cuts.cut_errors import cut_errors
from trued.standing.feature_status import FeatureStatus

SHOP = read_shop((Path(__file__).parents[2] / "examples" / "shop.toml").read_text(encoding="utf-8"))
NOW = datetime(2026, 5, 4, tzinfo=UTC)
INCH = 25.4
FRAME = """
unit = "in"
[[part]]
id = "stile"
quantity = 2
length = "19 5/8"
width = "1 3/4"
thickness = "3/4"
[[part]]
id = "rail"
quantity = 2
length = "15 5/8"
width = "1 3/4"
thickness = "3/4"
[[fit]]
id = "frame closes"
kind = "mitres"
sides = ["rail@1", "stile@1", "rail@2", "stile@2"]
width = "1 3/4"
at_least = "-1/64"
at_most = "1/64"
"""


def found(error: float, u: float, feature: str = "sled.detent-angle@45closed") -> FeatureStatus:
    x = UncertainValue.of(error, ErrorSource(f"run:{feature}", "seating of the cuts and joints", u, 8.0))
    return FeatureStatus(feature, "rad", x, None, None, Conformity.NOT_PROVEN, NOW, 3)


def budget(*standings: FeatureStatus, shop: Shop = SHOP) -> UncertaintyBudget:
    job: Job = read_job(FRAME)
    at = {"45": cut_angle(shop, standings, 45.0)}
    return UncertaintyBudget(job, cut_errors(shop, standings, kerf_mm=2.4), default_groups(job), at_angles=at)


def judged(*standings: FeatureStatus) -> FitResult:
    of = budget(*standings)
    return judge_fit(of, of.job.fits[0])


def drawn(error: float, u: float, draws: int = 200_000) -> float:
    """The same frame walked round by hand, each error drawn: detent (shared), swing of each cut, crook of each side's
    edge, stop repeatability; opposite sides share what stop and scale are off by. Sizes as `shop.assumed` has them."""
    rng = np.random.default_rng(20)
    detent = error + u * rng.standard_normal(draws)
    shared = {length: 0.13 * rng.standard_normal(draws) + 0.38 * rng.standard_normal(draws) for length in (0, 1)}
    over = []
    x, y, heading = np.zeros(draws), np.zeros(draws), np.zeros(draws)
    sides = [15.625 * INCH, 19.625 * INCH] * 2
    for k, side in enumerate(sides):
        crook = 3.3e-4 * rng.standard_normal(draws)
        ends = [math.pi / 4 + detent + crook + 1.2e-4 * rng.standard_normal(draws) for _ in range(2)]
        if k:
            heading = heading + over[-1][1] + ends[0]
        length = side + shared[k % 2] + 3.4 * 0.0254 * rng.standard_normal(draws)
        x, y = x + length * np.cos(heading), y + length * np.sin(heading)
        over.append(ends)
    first = over[0][0]  # the first side's end face runs at 90° less this from its outer edge
    gap = y * np.sin(first) - x * np.cos(first)
    return float(np.mean(np.abs(gap) <= INCH / 64))


@pytest.mark.parametrize(
    ("standings", "error", "u", "chance"),
    [
        ((), 0.0, 4e-4, 0.27),
        ((found(0.0, 1e-9),), 0.0, 0.0, 0.59),
        ((found(0.0, 1.4e-4),), 0.0, 1.4e-4, 0.48),
        ((found(math.radians(0.127), 1.4e-4),), math.radians(0.127), 1.4e-4, 0.03),
        ((found(math.radians(0.127), 1.4e-4, "sled.fence-angle@0"),), 0.0, 4e-4, 0.27),
        ((found(math.radians(0.127), 1.4e-4, "sled.detent-angle@22.5closed"),), 0.0, 4e-4, 0.27),
        ((found(math.radians(0.127), 1.4e-4, "sled.detent-angle@?"),), 0.0, 4e-4, 0.27),
    ],
    ids=[
        "empty book",
        "detent exact",
        "detent true to 0.0017 in/ft",
        "detent out by 0.127°",
        "square cut out",
        "another detent out",
        "angle not told",
    ],
)
def test_the_chance_follows_its_own_detent(
    standings: tuple[FeatureStatus, ...], error: float, u: float, chance: float
) -> None:
    told = judged(*standings).chance
    assert told == pytest.approx(drawn(error, u), abs=0.03)
    assert told == pytest.approx(chance, abs=0.05)


def test_its_line_says_which_detent_and_whether_that_was_seen_here() -> None:
    empty, seen = judged(), judged(found(0.0, 1.4e-4))
    label = "detent angle at 45°"
    assert next(iter(empty.shares)) == label and label in empty.assumed
    assert label in seen.shares and label not in seen.assumed
    assert "fence angle" not in empty.shares and "fence angle" not in seen.shares


def test_what_to_true_first_names_the_check_that_helps() -> None:
    ids = {"five-cut", "kerf", "stop-scale", "stop-repeat", "bar-play", "detent-angle"}
    told = advice(budget(), SHOP, ids)
    first = told.first[0]
    assert (first.check, first.feature) == ("detent-angle", "sled.detent-angle@45closed") and first.chance_gain > 0.2
    assert "five-cut" not in {one.check for one in told.first} and "sled.fence-angle@0" in told.do_not_bother
    bent = advice(budget(found(math.radians(0.127), 1.4e-4)), SHOP, ids)
    assert bent.first[0].check == "detent-angle" and bent.first[0].chance_gain > 0.4
    good = advice(budget(found(0.0, 5e-5)), SHOP, ids)
    assert "detent-angle" not in {one.check for one in good.first}
    assert "sled.detent-angle@45closed" in good.do_not_bother


def test_swung_open_a_tight_corner_falls_short() -> None:
    """Closed the corner at the fence is 90° - θ, opened 90° + θ: a tight one is over its angle, then short of it."""
    closed = cut_angle(SHOP, (found(1e-3, 1e-5),), 45.0)
    opened = cut_angle(SHOP, (found(1e-3, 1e-5, "sled.detent-angle@45open"),), 45.0)
    assert (closed.swing, opened.swing) == ("closed", "open")
    assert closed.over.value == pytest.approx(1e-3) and opened.over.value == pytest.approx(-1e-3)
