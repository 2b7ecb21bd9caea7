"""Measured parts: copies cut at one setting share its error, so they are one reading of the scale."""

import math

import numpy as np
import pytest

from trued.checks import find_check
from trued.job.file.read import read_job
from trued.job.fits.fit import FitResult
from trued.procedure import RunInput
from trued.procedure.reading import take
from trued.usecases.saved.inspect_parts import _all_measured, _settled
from trued.usecases.shop.measured_parts import taught

CHECK = find_check("stop-scale")
MIL = 0.0254


def _taken(*typed: str) -> RunInput:
    return take(CHECK, typed, {})


def test_copies_of_one_setting_are_one_reading_of_the_scale() -> None:
    """By hand: means 0.002, 0.002 and 0.004 over; the line through them at 6, 12, 18: 0.002/12 an inch, 0.0006667."""
    taken = _taken("measured@6=6.001", "measured@6=6.003", "measured@12=12.002", "measured@18=18.004")
    offset, slope, _ = taught(taken)
    assert offset.value.value == pytest.approx(0.002 / 3 * 25.4, abs=1e-6)
    assert slope.value.value == pytest.approx(0.002 / 12, abs=1e-9)


def test_many_copies_of_one_setting_leave_its_own_error() -> None:
    """Common practice: 0.005 in of every setting does not shrink by measuring more of what was cut at it."""
    offset, _ = taught(_taken(*["measured@12=12.010"] * 20))
    assert offset.feature == "stop-offset" and offset.value.u > 4.9 * MIL
    assert offset.value.u < math.hypot(5 * MIL, 3e-4 * 12 * 25.4, 2 * MIL)  # a tape's slope over 12 in


def test_they_show_how_the_stop_repeats() -> None:
    """The pooled scatter within settings, against a reference library; what was set does not come in."""
    rows = {"8": (8.001, 8.004, 7.999), "20": (20.110, 20.116)}
    typed = [f"measured@{at}={x:.4f}" for at, xs in rows.items() for x in xs]
    repeat = taught(_taken(*typed))[-1]
    squares = sum((len(xs) - 1) * np.var(np.array(xs) * 25.4, ddof=1) for xs in rows.values())
    assert repeat.feature == "stop-repeat"
    assert repeat.value.value == pytest.approx(math.sqrt(squares / 3), rel=1e-6)
    assert repeat.value.dof == pytest.approx(3.0)


def test_one_part_a_setting_shows_no_repeat() -> None:
    assert [found.feature for found in taught(_taken("measured@6=6.004", "measured@12=12.006"))] == [
        "stop-offset",
        "stop-slope",
    ]


def test_what_never_differs_is_known_to_the_division_of_the_caliper() -> None:
    repeat = taught(_taken("measured@6=6.004", "measured@6=6.004"))[-1]
    assert repeat.value.value == pytest.approx(0.01 / math.sqrt(12.0))  # mm, of a usual caliper


def test_a_rule_shows_its_own_divisions_and_not_the_stop() -> None:
    """Two copies one sixty-fourth apart: stops are finer than that (common practice, five within 0.008 in)."""
    typed = ["measured@13.375:rule=13 3/8", "measured@13.375:rule=13 25/64"]
    assert "stop-repeat" not in {found.feature for found in taught(_taken(*typed))}


def test_a_mis_cut_copy_says_nothing_of_how_the_stop_repeats() -> None:
    fair = ["measured@12=12.030", "measured@12=12.032", "measured@12=12.031"]
    with_slip = taught(_taken(*fair, "measured@12=11.905"))[-1]
    assert with_slip.value.value == pytest.approx(taught(_taken(*fair))[-1].value.value)


def test_what_a_fit_rests_on_is_all_measured_or_it_is_not_judged() -> None:
    """practitioner 8: of a fit of two parts one was measured."""
    job = read_job(JOB)
    (spec,) = job.fits
    assert not _all_measured(job, spec, {"rail@1.length"})
    assert not _all_measured(job, spec, {"rail@1.length", "shelf@1.length"})
    assert _all_measured(job, spec, {"rail@1.length", "shelf@1.length", "shelf@2.length"})


@pytest.mark.parametrize(
    ("mean", "sd", "came"), [(0.5, 0.1, True), (-0.5, 0.1, False), (0.5, 3.0, None), (-1.0, 9.0, None)]
)
def test_a_vague_size_is_no_misfit(mean: float, sd: float, came: bool | None) -> None:
    """A reading that spreads far over its limits has little chance to lie inside, and shows no misfit."""
    fit = FitResult("f", mean, sd, math.inf, 0.0, (0.0, 0.0), {}, (), False, "", (0.0, 1.0))
    assert _settled(fit) is came


JOB = """
[[part]]
id = "rail"
length = "14"
width = "3"
thickness = "3/4"
[[part]]
id = "shelf"
quantity = 2
length = "13"
width = "3"
thickness = "3/4"
[[fit]]
id = "shelf in the rail"
of = "rail.length - shelf.length"
at_least = "1/2"
at_most = "1 1/2"
"""
