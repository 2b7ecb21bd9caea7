"""What the saw holds: corrected settings land, sources stay shared, what is assumed and stale is named."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.standing.rows import FENCE, OFFSET, SLOPE, five_cut, happened, hour, kerf, stop_scale

from trued.advice.statuses import standings
from trued.equipment.file.read_shop import read_shop
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.measure.decision import ToleranceLimits
from trued.measure.estimate import ErrorSource, UncertainValue, covariance
from trued.measure.fitting.line import fit_line
from trued.standing.cuts.cut_errors import TAUGHT_BY, CutErrors, assumed_capability, cut_errors
from trued.standing.cuts.feature_lookup import named_sources
from trued.standing.default_uncertainty import TYPE_B
from trued.standing.history.history import History, Result

SHOP = read_shop((Path(__file__).parents[2] / "examples" / "shop.toml").read_text(encoding="utf-8"))
STEP = 25.4 / 64


def holds(*rows: Result, events: tuple = ()) -> CutErrors:  # type: ignore[type-arg]
    return cut_errors(SHOP, standings(History(rows, (), events), hour(10), shop=SHOP))


def _other(name: str, x: float, unit: str = "mm", dof: float = 4.0) -> Result:
    value = UncertainValue.of(x, ErrorSource(f"own:{name}", name, abs(x) / math.sqrt(2 * dof), dof))
    return Result(hour(0), name, unit, value, "check", f"run-{name}", ToleranceLimits(None, 1.0))


@given(st.floats(-3.0, 3.0), st.floats(-5e-3, 5e-3), st.floats(20.0, 1500.0))
def test_a_corrected_setting_cuts_the_wanted_length(offset: float, slope: float, wanted: float) -> None:
    """A scale with a hidden error, cut as it is: true = reading + offset + slope * reading."""
    base = assumed_capability(SHOP)
    known = replace(base, stop_offset=UncertainValue(offset), stop_slope=UncertainValue(slope))
    for rounding in ("nearest", "down", "up"):
        setting = known.setting_for(wanted, rounding)  # type: ignore[arg-type]
        cut = setting.reading_mm + offset + slope * setting.reading_mm
        assert cut - wanted == pytest.approx(setting.remainder_mm, abs=1e-9)
        assert setting.reading_mm / STEP == pytest.approx(round(setting.reading_mm / STEP), abs=1e-6)
    near, down, up = (known.setting_for(wanted, r).remainder_mm for r in ("nearest", "down", "up"))  # type: ignore[arg-type]
    assert abs(near) <= STEP / 2 * 1.01 and down <= 1e-6 and up >= -1e-6


def test_a_length_that_is_a_division_is_not_rounded_away() -> None:
    known = replace(assumed_capability(SHOP), stop_offset=UncertainValue(0.0), stop_slope=UncertainValue(0.0))
    for sixty_fourths in range(1, 1600):
        setting = known.setting_for(sixty_fourths * STEP, "down")
        assert round(setting.reading_mm / STEP) == sixty_fourths


def test_corrected_parts_land_within_what_is_stated() -> None:
    """400 shops with a hidden offset and slope: three parts teach the scale, one more is cut by the corrected setting.

    Its length lies within the 95 % interval in 95 of 100 (Student t, the readings' scatter known), 92 to 98 allowed.
    """
    rng = np.random.default_rng(20260301)
    inside, errors, uncorrected = 0, [], []
    for _ in range(400):
        offset, slope, scatter = rng.normal(0.0, 0.4), rng.normal(0.0, 5e-4), 0.05
        at = [150.0, 300.0, 600.0]
        ys = [offset + slope * r + rng.normal(0.0, scatter) for r in at]
        one, two = fit_line(at, ys).numbers("scale", "setting the stop", scatter, math.inf)
        rows = (
            Result(hour(0), OFFSET, "mm", one, "stop-scale", "r"),
            Result(hour(0), SLOPE, "mm/mm", two, "stop-scale", "r"),
        )
        known = holds(*rows)
        wanted = float(rng.uniform(100.0, 700.0))
        setting = known.setting_for(wanted)
        cut = setting.reading_mm + offset + slope * setting.reading_mm
        stated = known.length_at(setting.reading_mm)
        inside += abs(cut - stated.value) <= 1.96 * math.sqrt(stated.u**2 + (0.005 * math.sqrt(10 / 24)) ** 2)
        errors.append(abs(cut - setting.remainder_mm - wanted))
        uncorrected.append(abs(offset + slope * wanted))
    assert 0.92 <= inside / 400 <= 0.98
    assert np.mean(errors) < np.mean(uncorrected) / 3


def test_everything_is_assumed_at_first_and_said_so() -> None:
    known = assumed_capability(SHOP)
    assert set(known.assumed) >= {OFFSET, SLOPE, FENCE, "blade.kerf", "sled.stop-repeat", "sled.bar-swing"}
    assert known.kerf.value == pytest.approx(0.094 * 25.4) and known.stale == ()
    assert all("common practice" in prior.source for prior in TYPE_B.values())


def test_what_was_found_is_no_longer_assumed() -> None:
    known = holds(five_cut(0, 1e-4), kerf(0, 2.44), *stop_scale(0, 0.09, 0.0002))
    assert not {FENCE, OFFSET, SLOPE, "blade.kerf"} & set(known.assumed)
    assert (known.kerf.value, known.fence_angle.value) == (2.44, pytest.approx(1e-4))
    assert known.stop_offset.value == 0.09


def test_offset_and_slope_keep_covariance_under_one_name() -> None:
    """A length near the middle of the lengths that taught the scale is known much better than its offset."""
    rows = stop_scale(0, 0.09, 0.0002)
    known = holds(*rows)
    assert covariance(known.stop_offset, known.stop_slope) == pytest.approx(covariance(rows[0].x, rows[1].x), rel=1e-6)
    own = known.length_at(355.6).shares()
    assert "stop scale" in own and all(label == "stop scale" or "limit" in label for label in own)
    assert known.length_at(355.6).u < known.stop_offset.u


def test_the_limit_of_an_instrument_stays_itself() -> None:
    """The caliper that taught the scale may have measured a thickness of the job too: the error is one and the same."""
    known = holds(*stop_scale(0, 0.09, 0.0002))
    limit = ErrorSource("limit:caliper-1", "caliper: limit of error", 0.0147)
    assert limit in known.stop_offset.parts


def test_naming_sources_keeps_what_is_known() -> None:
    a, b = ErrorSource("a", "a", 1.0, 5), ErrorSource("b", "b", 2.0, 9)
    one, two = UncertainValue(1.0, {a: 1.0, b: 0.5}), UncertainValue(2.0, {a: -0.3, b: 1.0})
    first, second = named_sources((one, two), "both")
    assert (first.u, second.u) == (pytest.approx(one.u), pytest.approx(two.u))
    assert covariance(first, second) == pytest.approx(covariance(one, two))
    assert first.dof == pytest.approx(one.dof)
    exact, other = named_sources((UncertainValue(1.0), two), "both")
    assert exact.u == 0.0 and other.u == pytest.approx(two.u)


def test_a_stale_feature_is_used_with_its_doubt_and_named() -> None:
    known = holds(kerf(0), events=(happened(1, "blade-thinner", "blade"),))
    assert known.stale == ("blade.kerf",) and known.kerf.u > 0.5


def test_scatter_that_was_found_is_the_scatter_of_each_cut() -> None:
    """Common practice counts like ten readings and the shop's own four are added: s² = (10 · 3.4² + 4 · s²) / 14."""
    known = holds(_other("sled.stop-repeat", 0.03), _other("saw.rip-repeat", 0.04), _other("saw.rip-setting", 0.05))
    blended = [math.sqrt((10 * (mil * 0.0254) ** 2 + 4 * s**2) / 14) for mil, s in ((3.4, 0.03), (2, 0.04))]
    assert [known.stop_repeat_u_mm, known.rip_repeat_u_mm] == pytest.approx(blended)
    assert known.rip_setting_u_mm == 0.05
    source = known.source("stop-repeat", "cut 7")
    assert (source.u, source.dof) == (pytest.approx(blended[0]), pytest.approx(14.0))
    assert source == known.source("stop-repeat", "cut 7") != known.source("stop-repeat", "cut 8")
    assert known.source("setting", "S1").u == known.setting_u_mm


def test_swing_comes_from_the_bar_or_from_its_play() -> None:
    """Evenly spread within +- play / bar: u = play / bar / sqrt 3; the bar of the invented sled is 20 in."""
    assert holds(_other("sled.bar-swing", 3e-4, "rad")).swing_u_rad == pytest.approx(3e-4 / math.sqrt(3))
    assert holds(_other("sled.bar-play", 0.1)).swing_u_rad == pytest.approx(0.1 / 508.0 / math.sqrt(3))


def test_a_rip_is_corrected_too() -> None:
    setting = holds(_other("saw.rip-offset", 0.5)).rip_setting_for(88.9)
    assert setting.reading_mm + 0.5 - 88.9 == pytest.approx(setting.remainder_mm)
    assert abs(setting.remainder_mm) <= STEP / 2


def test_another_angle_has_its_own_scale() -> None:
    at_45 = cut_errors(SHOP, standings(History(stop_scale(0, 0.09, 0.0002)), hour(1)), fixture="sled", angle="45open")
    assert "sled.stop-offset@45open" in at_45.assumed and at_45.stop_offset.value == 0.0


def test_a_shop_without_a_sled_takes_what_was_found() -> None:
    bare = Shop("", "mm")
    known = cut_errors(bare, standings(History((five_cut(0, 1e-4), kerf(0))), hour(1)))
    assert known.fence_angle.value == pytest.approx(1e-4) and known.scale_step_mm == 0.5


def test_without_a_blade_the_kerf_must_be_given() -> None:
    with pytest.raises(InputRefused, match="--kerf"):
        assumed_capability()
    assert assumed_capability(kerf_mm=3.2).kerf.value == 3.2


def test_it_cannot_be_built_wrong() -> None:
    with pytest.raises(ValueError, match="above 0"):
        replace(assumed_capability(SHOP), scale_step_mm=0.0)
    with pytest.raises(ValueError, match="0 or more"):
        replace(assumed_capability(SHOP), swing_u_rad=-1.0)


def test_every_name_in_a_budget_leads_to_what_would_sharpen_it() -> None:
    assert set(TAUGHT_BY) == {prior.label for prior in TYPE_B.values()}
