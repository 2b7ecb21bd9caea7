"""How a drawer box was brought square reaches its fit, and no length is named as the cure of a box that is not.

Held against draws of our own (numpy): a box 13 15/16 wide and 18 deep, 1/32 of room between its slides, so that a box
racked by ρ has 1/32 - 18 |sin ρ| left."""

import math
from dataclasses import replace

import numpy as np
import pytest
from tests.job.shops import INCH, NOTHING, holds

from trued.errors import InputRefused
from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.file.read import read_job
from trued.job.fits.fit import FitResult, judge_fit, judge_job
from trued.job.fits.tolerance_allocation import cut_to_fit
from trued.job.geometry.unmeasured_errors import ASKEW, TAPED, TILT
from trued.job.groups import default_groups
from trued.measure.instrument import DEFAULTS
from trued.standing.cuts.cut_errors import CutErrors

BOX = """
unit = "in"
[[part]]
id = "end"
quantity = 2
length = "13 15/16"
width = "4"
thickness = "1/2"
[[fit]]
id = "drawer"
kind = "drawer"
opening = "14 31/32"
box = ["end@1.length", "end@2.length"]
slide = "1/2"
deep = "18"
at_least = "0"
at_most = "1/16"
"""
UNTAUGHT = replace(NOTHING, askew_rad=2e-3, tilt_rad=5e-4)
DEEP, WIDE, ROOM = 18.0, 13.9375, 1 / 32
ASSEMBLY = """
unit = "in"
[[assembly]]
id = "d"
kind = "drawer"
opening = "15"
deep = "18"
height = "4"
thickness = "1/2"
joint = "butt"
"""


def budget(squared: str, saw: CutErrors | None = None) -> UncertaintyBudget:
    job = read_job(BOX + (f'squared = "{squared}"\n' if squared else ""))
    return UncertaintyBudget(job, saw or holds(), default_groups(job), (), UNTAUGHT)


def judged(squared: str) -> FitResult:
    of = budget(squared)
    return judge_fit(of, of.job.fits[0])


def drawn(squared: str, draws: int = 400_000) -> float:
    """By a tape its division is the most that the diagonals differ; a racked frame's differ by 2 a b ρ / diagonal."""
    rng = np.random.default_rng(3)
    if squared == "tape":
        division = DEFAULTS["tape"].resolution / INCH
        differ = rng.uniform(-division / 2, division / 2, draws)
        racked = differ * math.hypot(WIDE, DEEP) / (2 * WIDE * DEEP)
    else:
        racked = rng.normal(0.0, 2e-3 if squared == "clamps" else 5e-4, draws)
    return float(np.mean(ROOM - DEEP * np.abs(np.sin(racked)) >= 0.0))


@pytest.mark.parametrize(("squared", "label"), [("tape", TAPED), ("clamps", ASKEW), ("joints", TILT)])
def test_the_chance_of_a_drawer_follows_how_it_was_squared(squared: str, label: str) -> None:
    fit = judged(squared)
    assert fit.chance == pytest.approx(drawn(squared), abs=0.015)
    assert set(fit.shares) <= {label}  # nothing else; none where every place holds for sure


def test_a_tape_is_the_rule_as_in_every_other_fit() -> None:
    assert judged("").chance == judged("tape").chance > 0.99
    assert judged("clamps").chance == pytest.approx(0.615, abs=0.02)  # erf(1/32 / (18 · 0.002) / √2), worked by hand


@pytest.mark.parametrize(("squared", "label"), [("tape", TAPED), ("clamps", ASKEW)])
def test_a_drawer_taken_apart_hands_on_how_it_is_squared(squared: str, label: str) -> None:
    job = read_job(f'{ASSEMBLY}squared = "{squared}"\n')
    whole = judge_job(UncertaintyBudget(job, holds(), default_groups(job), (), UNTAUGHT))
    told = {fit.name: set(fit.shares) for fit in whole.fits}
    assert told["d, between its slides"] <= told["d, diagonals alike"] == {label}
    assert squared == "tape" or told["d, between its slides"] == {label}


def test_a_word_that_is_no_way_of_squaring_is_refused() -> None:
    with pytest.raises(InputRefused, match="Write one of tape, joints, clamps"):
        budget("eye")


def test_no_length_is_named_as_the_cure_of_a_racked_box() -> None:
    """The stop's scale is unknown by 1 mm either way: cut to the measured opening that goes out. The racking stays."""
    saw = holds(offset_u=1.0, repeat=0.02)
    (by_tape,) = cut_to_fit(budget("tape", saw))
    assert by_tape.part == "end" and by_tape.then > 0.95
    assert cut_to_fit(budget("clamps", saw)) == ()
