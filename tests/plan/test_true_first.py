"""What to true first: worked by hand from one or two shares."""

from statistics import NormalDist

import pytest
from tests.plan.planned import shop

from trued.job.fit import FitResult
from trued.plan.true_first import do_not_bother, true_first

CHECKS = ("five-cut", "kerf", "stop-scale", "stop-repeat", "bar-play")
INF = float("inf")


def fit(name: str, sd: float, chance: float, shares: dict[str, float], most: float = 0.1) -> FitResult:
    limits = (-most, most)
    return FitResult(name, 0.0, sd, INF, chance, (-2 * sd, 2 * sd), shares, (), False, "", limits)


def chance(sd: float, most: float = 0.1) -> float:
    return 2 * NormalDist(0, sd).cdf(most) - 1


def test_gain_is_the_chance_without_that_share_for_a_minute() -> None:
    # sd 0.1, limits ±0.1: 68.3 %. Without 75 % of the variance sd is 0.05: 95.4 %.
    one = fit("a", 0.1, chance(0.1), {"stop scale": 0.75, "fence angle": 0.25})
    first, second = true_first([one], shop(), CHECKS)
    assert (first.feature, first.check, first.minutes, first.fit) == ("sled.stop-offset@0", "stop-scale", 8.0, "a")
    assert first.chance_gain == pytest.approx(chance(0.05) - chance(0.1), abs=1e-6)
    assert first.variance_mm2_per_min == pytest.approx(0.75 * 0.01 / 8)
    assert second.feature == "sled.fence-angle@0"
    assert second.chance_gain == pytest.approx(chance(0.1 * 0.75**0.5) - chance(0.1), abs=1e-6)


def test_what_would_change_nothing_is_left_alone() -> None:
    sure = fit("a", 0.01, chance(0.01), {"stop scale": 0.9, "fence angle": 0.1})
    assert true_first([sure], shop(), CHECKS) == ()
    assert set(do_not_bother([sure], shop(), CHECKS)) == {
        "blade.kerf",
        "sled.stop-offset@0",
        "sled.stop-repeat",
        "sled.fence-angle@0",
        "sled.bar-play",
    }


def test_the_fit_that_gains_most_counts() -> None:
    little = fit("little", 0.1, chance(0.1), {"stop scale": 0.2})
    much = fit("much", 0.1, chance(0.1), {"stop scale": 1.0})
    (one,) = true_first([little, much], shop(), CHECKS)
    assert one.fit == "much"
    assert one.chance_gain == pytest.approx(1 - chance(0.1))


def test_only_checks_that_there_are_come_up() -> None:
    one = fit("a", 0.1, chance(0.1), {"rip scale": 0.9, "setting the stop": 0.1})
    assert true_first([one], shop(), CHECKS) == ()
    assert [first.feature for first in true_first([one], shop(), (*CHECKS, "rip-fence"))] == ["saw.rip-offset"]
    assert "saw.rip-offset" not in do_not_bother([one], shop(), CHECKS)


def test_no_fits_no_advice() -> None:
    assert true_first([], shop(), CHECKS) == ()
    assert do_not_bother([], shop(), CHECKS) == ()
