"""A twin of the budget: the same workshop, drawn 200,000 times cut by cut with nothing but numpy.

It knows nothing of sources and scopes: each board is measured, each stop set, each part cut, each rack put together.
"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from tests.job.shops import INCH, caliper, holds

from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.file.read import read_job
from trued.job.fits.fit import judge_fits, judge_job
from trued.job.geometry.unmeasured_errors import TypeBError
from trued.job.groups import CutGroup, CutGroups

DRAWS = 200_000
T = 0.03  # u of the thickness as measured
OFFSET, SLOPE, SETTING, REPEAT, ANGLE, SWING = 0.08, 3e-4, 0.09, 0.04, 4e-4, 2e-4
BOARD, PIECE = 0.05, 0.03
RIP, RIP_SETTING, RIP_REPEAT = 0.07, 0.06, 0.02

JOB = read_job(
    (Path(__file__).parents[2] / "examples" / "rack.toml").read_text(encoding="utf-8")
    + """
[[fit]]
id = "outside by the sides"
of = "14 3/8 - rail.length - side@1.thickness - side@2.thickness"
at_least = "-0.004"
at_most = "0.005"

[[fit]]
id = "two sides from the board"
of = "7 1/4 - side@1.width - side@2.width - 0.094"
at_least = "0.149"
at_most = "0.160"
"""
)


@pytest.fixture(scope="module")
def drawn() -> dict[str, list[np.ndarray]]:
    """The fits of the rack as they came out in every draw, one value for each choice of copies."""
    rng = np.random.default_rng(20)

    def err(u: float) -> np.ndarray:
        return rng.normal(0.0, u, DRAWS)

    t = 0.742 * INCH + T * np.sqrt(3.0) * rng.uniform(-1.0, 1.0, DRAWS)
    offset, slope, angle, rip = err(OFFSET), err(SLOPE), err(ANGLE), err(RIP)
    stop = {"shelf": err(SETTING), "rail": err(SETTING)}
    fence = err(RIP_SETTING)

    def cut(part: str, length: float, width: float) -> np.ndarray:
        skew = (angle + err(SWING)) * width * INCH
        made: np.ndarray = length * INCH * (1.0 + slope) + offset + stop[part] + err(REPEAT) + skew
        return made

    board = t + err(BOARD)
    sides = [board + err(PIECE) for _ in range(2)]
    widths = [3.5 * INCH + rip + fence + err(RIP_REPEAT) for _ in range(2)]
    shelves = [cut("shelf", 13.375375, 3.5) for _ in range(4)]
    rails = [cut("rail", 12.891, 3.0) for _ in range(2)]
    return {
        "shelf in its dados": [rail + 0.5 * INCH - shelf for rail in rails for shelf in shelves],
        "shelves alike": [shelves[1] - shelves[0]],
        "outside by the sides": [14.375 * INCH - rail - sides[0] - sides[1] for rail in rails],
        "two sides from the board": [(7.25 - 0.094) * INCH - widths[0] - widths[1]],
    }


def test_first_order_agrees_with_the_draws(drawn: dict[str, list[np.ndarray]]) -> None:
    saw = holds(
        offset_u=OFFSET, slope_u=SLOPE, setting=SETTING, repeat=REPEAT, angle_u=ANGLE, swing=SWING,
        rip_u=RIP, rip_setting=RIP_SETTING, rip_repeat=RIP_REPEAT,
    )  # fmt: skip
    groups = CutGroups(
        {
            (part.id, copy): CutGroup(part.id, f"{part.id} width", stock="B1/1")
            for part in JOB.parts
            for copy in part.copies
        }
    )
    budget = UncertaintyBudget(JOB, saw, groups, (caliper(T),), TypeBError(BOARD, PIECE, 0.0))
    fits = {fit.name: fit for fit in judge_fits(budget)}
    for name, each in drawn.items():
        fit, values = fits[name], each[0]
        low, high = fit.limits_mm
        assert low is not None and high is not None
        share = float(np.mean(np.all([(one >= low) & (one <= high) for one in each], axis=0)))
        assert 0.05 < share < 0.999, name  # a chance that says something
        # Four standard errors of the draws: sd / sqrt(n), sd / sqrt(2 n), sqrt(p (1 - p) / n).
        assert fit.mean_mm == pytest.approx(float(values.mean()), abs=4 * fit.sd_mm / DRAWS**0.5 + 1e-5), name
        assert fit.sd_mm == pytest.approx(float(values.std()), rel=4 / (2 * DRAWS) ** 0.5), name
        # One share of the thickness is evenly spread, not normal; the rest of the difference is chance of drawing.
        counted = fit.draws or DRAWS
        error = (share * (1 - share) * (1 / DRAWS + 1 / counted)) ** 0.5
        assert fit.chance == pytest.approx(share, abs=4 * error + 0.001), name
        assert fit.chance_interval[0] <= fit.chance <= fit.chance_interval[1]


def test_whether_it_all_goes_together_is_counted_in_one_and_the_same_shops(drawn: dict[str, list[np.ndarray]]) -> None:
    # The product of the single chances would be wrong: one stop and one board are in all of them.
    saw = holds(
        offset_u=OFFSET, slope_u=SLOPE, setting=SETTING, repeat=REPEAT, angle_u=ANGLE, swing=SWING,
        rip_u=RIP, rip_setting=RIP_SETTING, rip_repeat=RIP_REPEAT,
    )  # fmt: skip
    groups = CutGroups(
        {
            (part.id, copy): CutGroup(part.id, f"{part.id} width", stock="B1/1")
            for part in JOB.parts
            for copy in part.copies
        }
    )
    job = replace(JOB, fits=tuple(spec for spec in JOB.fits if spec.id in drawn))
    found = judge_job(UncertaintyBudget(job, saw, groups, (caliper(T),), TypeBError(BOARD, PIECE, 0.0)))
    held = np.ones(DRAWS, dtype=bool)
    for fit in found.fits:
        low, high = fit.limits_mm
        assert low is not None and high is not None
        held &= np.all([(one >= low) & (one <= high) for one in drawn[fit.name]], axis=0)
    share = float(held.mean())
    assert found.method == "draws" and found.chance is not None
    assert found.chance == pytest.approx(share, abs=4 * (share * (1 - share) * (1 / DRAWS + 1 / found.draws)) ** 0.5)
