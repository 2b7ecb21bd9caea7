"""Detent repeat: scatter and the two sides told apart, on a fence that really drops into its notch."""

import math

import numpy as np
import pytest
from scipy import stats
from tests.checks.drawn import arrows, box, labels, normal
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_fence import detent_repeat
from tests.worlds.detent import Detent
from tests.worlds.sled import LAYOUTS

from trued.checks.detent_repeat import CHECK, RANGE_OF_TEN, drifting, left_at_corner, one_apart
from trued.measure.sd_interval import sd_interval
from trued.procedure import RunInput

WAYS = ("opening", "closing")
STEPS = (0.001, 0.003, 0.002, 0.001, 0.003)


def engaged(opening: list[float], closing: list[float], reach: str = "15") -> str:
    pairs = zip(opening, closing, strict=True)
    return f"reach={reach} " + " ".join(f"opening={a:.5f} closing={b:.5f}" for a, b in pairs)


GOOD = engaged([*STEPS], [0.002, 0.001, 0.003, 0.003, 0.002])


# --- the sums


def test_worked_by_hand() -> None:
    """0.006 at 15 in is 0.0004 rad or 0.023° of range, a standard deviation of 0.0074°."""
    s = 0.006 / RANGE_OF_TEN
    one = [s * sign for sign in (-1, 1, -1, 1, 0)]  # standard deviation s
    finding = run("detent-repeat", engaged(one, one))
    found = estimate(finding, "detent-repeat")
    assert math.degrees(found.value) == pytest.approx(0.023, abs=1e-4)
    assert math.degrees(found.value) / RANGE_OF_TEN == pytest.approx(0.0074, abs=1e-4)
    assert "Eight cuts that scatter so leave about 0.0010 in open at the corner of a frame 2 in wide" in (
        CHECK.moves(taken("detent-repeat", engaged(one, one)), finding.founds)[0].text
    )


def test_eight_cuts_at_a_corner() -> None:
    """sqrt(8) × 0.0074° × 2 in / cos 45° is 0.001 in."""
    assert left_at_corner(math.radians(0.0074), 2.0) == pytest.approx(0.00103, abs=1e-5)


@pytest.mark.parametrize("play", [0.0012, -0.0007])
def test_the_two_sides_are_as_far_apart_as_they_are(play: float) -> None:
    detent = Detent(play)
    rests = {way: [Detent.shown(detent.engage(way), 15.0)] * 5 for way in WAYS}
    finding = run("detent-repeat", engaged(rests["opening"], rests["closing"]))
    assert estimate(finding, "detent-backlash").value == pytest.approx(play, abs=1e-6)
    assert acts(finding)["two-seats"] == "note"
    assert estimate(finding, "detent-repeat").value < math.radians(0.01)  # the sides do not count as scatter


def test_the_interval_is_that_of_a_scatter() -> None:
    found = estimate(run("detent-repeat", GOOD), "detent-repeat")
    spread = CHECK.evaluate(taken("detent-repeat", GOOD))[0].spread
    assert spread is not None and spread.dof == 8 and found.interval95 == sd_interval(spread)


def test_a_number_that_never_changes_hides_what_lies_below_it() -> None:
    finding = run("detent-repeat", engaged([0.002] * 5, [0.002] * 5))
    assert acts(finding)["nothing-moves"] == "note"
    assert estimate(finding, "detent-repeat").value == pytest.approx(RANGE_OF_TEN * 0.01 / 12**0.5 / 25.4 / 15)


def test_a_detent_that_scatters_is_mended_first() -> None:
    wild = engaged([0.0, 0.010, -0.008, 0.004, -0.006], [0.009, -0.007, 0.003, -0.004, 0.000])
    moves = run("detent-repeat", wild).moves
    assert [m.feature for m in moves] == ["detent-repeat"] and "before you set its angle" in moves[0].text
    assert (moves[0].where, moves[0].direction) == ("detent", "in")


@pytest.mark.parametrize("steady", WAYS)
def test_come_from_the_steadier_side(steady: str) -> None:
    rough, still = [0.000, 0.004, 0.002, 0.003, 0.001], [0.020, 0.0205, 0.020, 0.0195, 0.020]
    pair = (still, rough) if steady == "opening" else (rough, still)
    finding = run("detent-repeat", engaged(*pair))
    (move,) = [m for m in finding.moves if m.feature == "detent-backlash"]
    assert f"from the same side, {steady} the fence" in move.text
    assert move.direction == ("open" if steady == "opening" else "close") and move.amount_mm is None


# --- blunders: each made, and one that comes close


def test_a_good_run_warns_of_nothing() -> None:
    assert not codes(run("detent-repeat", GOOD))


def test_a_creeping_stand() -> None:
    creep = engaged([0.001 * n for n in range(5)], [0.0005 + 0.001 * n for n in range(5)])
    finding = run("detent-repeat", creep)
    assert acts(finding)["drifting"] == "doubt" and not finding.moves and "one-apart" not in codes(finding)
    back = engaged([0.000, 0.001, 0.002, 0.001, 0.000], [0.0005, 0.0015, 0.0025, 0.0015, 0.0005])
    assert "drifting" not in codes(run("detent-repeat", back))
    assert "drifting" not in codes(run("detent-repeat", engaged([0.0, 0.001], [0.0005, 0.0015])))


def test_one_engagement_on_a_chip() -> None:
    finding = run("detent-repeat", GOOD.replace("closing=0.00100", "closing=0.03000"))
    assert acts(finding)["one-apart"] == "doubt"
    assert "Engagement 2 while closing" in next(s.text for s in finding.seen if s.code == "one-apart")
    assert "one-apart" not in codes(run("detent-repeat", GOOD.replace("closing=0.00100", "closing=0.00500")))
    assert "one-apart" not in codes(run("detent-repeat", engaged([0.0, 0.001, 0.03], [0.001, 0.0, 0.001])))


def test_where_one_engagement_begins_to_stand_apart() -> None:
    """The square of a residual over all of them is beta distributed (Cook and Weisberg, from memory): here by a
    reference library, ten readings about two means, 1 in 1,000 for the worst of them to either side."""
    opening, closing, seen = np.array(STEPS), np.array([0.002, 0.001, 0.003, 0.003, 0.002]), set()
    for last in np.arange(0.0021, 0.0121, 0.0005):
        closing[4] = last
        left = np.concatenate([opening - opening.mean(), closing - closing.mean()])
        most = stats.beta.ppf(1.0 - 2.0 * 0.0005 / 10, 0.5, (10 - 3) / 2.0) * np.sum(left**2) * (10 - 2) / 10
        one = taken("detent-repeat", engaged([*opening], [*closing]))
        apart = one_apart(one)
        if drifting(one) is None:
            assert (apart is not None) == bool(np.max(left**2) > most)
            seen.add(apart is not None)
            assert apart is None or "Engagement 5 while closing stands" in apart.text
    assert seen == {True, False}


def test_an_indicator_may_read_below_its_nought() -> None:
    assert "unexpected-size" not in codes(run("detent-repeat", GOOD.replace("opening=", "opening=-")))


def test_a_reading_in_the_other_unit_stands_apart() -> None:
    """0.002 in typed as 0.051, the millimetres that the indicator showed."""
    assert "one-apart" in codes(run("detent-repeat", GOOD.replace("opening=0.00200", "opening=0.051")))


def test_few_engagements() -> None:
    four = [0.0, 0.001, 0.002, 0.001]
    assert acts(run("detent-repeat", engaged(four, four)))["few-engagements"] == "note"


def test_nothing_to_divide_by() -> None:
    finding = run("detent-repeat", GOOD.replace("reach=15", "reach=0"))
    assert acts(finding)["no-size"] == "refuse" and not finding.estimates


# --- drawings


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_drawings(fence: str, keeper: str) -> None:
    one = taken("detent-repeat", GOOD, fence=fence, keeper=keeper)
    before, after = CHECK.draw(one, ()), CHECK.draw(one, CHECK.evaluate(one))
    ways = {label.text: label.at[1] for label in labels(before)}
    opening = min(arrows(before), key=lambda a: abs(a.start[1] - ways["opening"]))
    assert (opening.end[1] > opening.start[1]) == (fence == "far")  # away from the work
    assert "five times while opening" in before.told and "far from the pivot" in before.told
    assert "lie 0.001° apart" in after.told and "closing" in after.told
    assert "indicator" in CHECK.draw(RunInput(CHECK, ()), ()).told


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_what_is_drawn_lies_where_it_lies_on_the_sled(fence: str, keeper: str) -> None:
    """The fence swung by 0.35 rad into the work about (0, 4.5); the indicator's tip was at (11, 4) before."""
    before = normal(CHECK.draw(taken("detent-repeat", GOOD, fence=fence, keeper=keeper), ()), keeper, fence)
    (bar,) = before.paths["fence"]
    assert box(before.paths["sled"][0])[:2] == (-4.0, 14.0) and box(bar)[1] > 10.0
    assert sum(y for _, y in bar[2:]) < sum(y for _, y in bar[:2]) - 4.0
    ((start, tip),) = before.arrows["measure"]
    assert tip == pytest.approx((10.162, 0.258), abs=1e-3) and start == pytest.approx((tip[0], tip[1] - 3.4))
    assert before.labels["indicator"] == pytest.approx((tip[0], tip[1] - 4.2))
    assert before.labels["pivot"] == (0.5, 6.2)
    assert before.arrows["move"] == [((13.0, 5.0), (13.0, 1.8)), ((13.0, -4.0), (13.0, -0.8))]
    assert before.labels["closing"] == (13.0, 6.2) and before.labels["opening"] == (13.0, -5.4)


def test_the_marks_stand_in_the_order_of_the_readings() -> None:
    """The least at the left end of the line, the most at the right; opening above, closing below."""
    one = taken("detent-repeat", engaged([0.010, 0.011, 0.012], [0.014, 0.013, 0.012]))
    after = normal(CHECK.draw(one, CHECK.evaluate(one)))
    marks = [(a[0], b[1]) for a, b in after.lines["read"]]
    assert marks == [pytest.approx(m) for m in ((-9, 2.2), (-4.5, 2.2), (0, 2.2), (9, -2.2), (4.5, -2.2), (0, -2.2))]
    assert [a[0] for a, _ in after.arrows["found"]] == [-4.5, 4.5]
    assert after.labels["opening"] == (-4.5, 5.5) and after.labels["closing"] == (4.5, -5.5)


# --- coverage


def test_coverage() -> None:
    held = coverage(detent_repeat, 500, seed=27)
    assert all(0.92 <= held[feature] <= 0.98 for feature in ("detent-repeat", "detent-backlash"))
