"""Fair parts and slips: all ways of dividing the parts of one setting are weighed."""

import itertools
import math

import pytest
from scipy.stats import multivariate_normal, norm

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource
from trued.standing.stop_model import Cuts, Presumed, Way, moved_between, read_setting, shares, slip_chances

INCH = 25.4
LIMIT = ErrorSource("limit:caliper", "caliper: limit of error", 0.0)


def judged(offs: tuple[float, ...], before: float, each: float) -> tuple[tuple[float, ...], float, float]:
    """Slip chances, mean and standard deviation of what is learnt; inches. One common error, as in the table."""
    presumed = Presumed(before * INCH, 0.0, EstimatedSd(1e-9, 1e9), EstimatedSd(each * INCH, 1e9))
    cuts = Cuts(0.0, tuple(off * INCH for off in offs), 1e-3, LIMIT)
    ways = read_setting([Way.start(presumed)], 0, cuts, presumed)
    weighed = list(zip(shares(ways), ways, strict=True))
    mean = math.fsum(share * way.usual.o for share, way in weighed)
    square = math.fsum(share * (way.usual.oo + way.usual.o**2) for share, way in weighed) - mean**2
    return slip_chances(ways, 0, len(offs)), mean / INCH, math.sqrt(square) / INCH


@pytest.mark.parametrize(
    ("offs", "before", "slips", "mean", "sd"),
    [
        ((-0.125,), 0.020, (1.0,), 0.0, 0.0200),
        ((0.031, 0.030, 0.032, -0.125), 0.020, (0, 0, 0, 1.0), 0.0308, 0.0017),
        ((0.03125,), 0.020, (0.01,), 0.0303, 0.0044),
        ((-0.0625,), 0.003, (1.0,), 0.0, 0.0030),
        ((-0.009,), 0.003, (0.005,), -0.0045, 0.0021),
        ((0.030, 0.031, -0.094, -0.095), 0.020, (0, 0, 1.0, 1.0), 0.0302, None),
    ],
)
def test_the_worked_table(
    offs: tuple[float, ...], before: float, slips: tuple[float, ...], mean: float, sd: float | None
) -> None:
    """Six cases worked with all divisions enumerated: slip 3 in 100, spread 1/4 in, copies within 0.003 in."""
    chances, learnt, spread = judged(offs, before, 0.003)
    assert chances == pytest.approx(slips, abs=0.005)
    assert learnt == pytest.approx(mean, abs=6e-5)
    assert sd is None or spread == pytest.approx(sd, abs=6e-5)


def test_against_every_division_by_a_reference_library() -> None:
    """Densities of a common error and own scatters by scipy, over all 32 divisions of five parts."""
    offs, before, each = (0.004, -0.001, 0.022, 0.003, -0.014), 0.010, 0.004
    weights, slipped = [], [0.0] * len(offs)
    for flags in itertools.product((False, True), repeat=len(offs)):
        fair = [off for off, flag in zip(offs, flags, strict=True) if not flag]
        weight = math.prod(
            0.03 * norm.pdf(off, 0, 0.25) if flag else 0.97 for off, flag in zip(offs, flags, strict=True)
        )
        if fair:
            cov = [[before**2 + (each**2 if i == j else 0.0) for j in range(len(fair))] for i in range(len(fair))]
            weight *= multivariate_normal.pdf(fair, [0.0] * len(fair), cov)
        weights.append(weight)
        slipped = [s + weight * flag for s, flag in zip(slipped, flags, strict=True)]
    chances, _, _ = judged(offs, before, each)
    assert chances == pytest.approx([s / sum(weights) for s in slipped], abs=1e-3)


@pytest.mark.parametrize(
    ("total", "from_"), [(0.003, 0.012), (0.006, 0.023), (0.010, 0.037), (0.020, 0.070), (0.030, 0.101)]
)
def test_from_where_a_lone_part_is_likelier_a_slip(total: float, from_: float) -> None:
    """Worked by bisection, all divisions enumerated: total spread, and where a slip becomes likelier than not."""
    low, high = (judged((off,), total * 0.95, total * 0.312)[0][0] for off in (from_ - 0.001, from_ + 0.001))
    assert low < 0.5 < high


def test_two_against_two_may_be_a_setting_that_moved() -> None:
    cuts = Cuts(0.0, tuple(off * INCH for off in (0.030, 0.031, -0.094, -0.095)), 1e-3, LIMIT)
    assert moved_between(cuts, (0.0, 0.0, 1.0, 1.0), 0.003 * INCH)
    assert not moved_between(cuts, (0.0, 0.0, 0.0, 1.0), 0.003 * INCH)
    many = Cuts(0.0, tuple(off * INCH for off in (0.030, 0.031, 0.029, 0.03, 0.031, -0.094, -0.095)), 1e-3, LIMIT)
    agreeing = (0.0,) * 5 + (1.0, 1.0)
    assert moved_between(many, agreeing, 0.003 * INCH)  # two slips that agree are no slips
    apart = Cuts(0.0, tuple(off * INCH for off in (0.030, 0.031, 0.029, 0.03, 0.031, -0.094, 0.195)), 1e-3, LIMIT)
    assert not moved_between(apart, agreeing, 0.003 * INCH)


def test_the_person_s_word_is_not_weighed() -> None:
    """`wrong`: never a reading of the scale; `right`: never a slip."""
    presumed = Presumed()
    for word, chance in (("wrong", 1.0), ("right", 0.0)):
        cuts = Cuts(304.8, (0.01, 3.0), 0.02, LIMIT, **{word: (1,)})  # type: ignore[arg-type]
        ways = read_setting(Way.starts(presumed), 0, cuts, presumed)
        assert slip_chances(ways, 0, 2)[1] == pytest.approx(chance)
