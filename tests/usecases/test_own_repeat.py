"""The check of the caliper sets what a reading with it is worth, for every later and earlier run of the book."""

from __future__ import annotations

from pathlib import Path

import pytest

from trued.usecases.runs.run_check import run_check
from trued.usecases.runs.taking import CheckRun
from trued.usecases.shop import state_cache as kept_known
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.shop_now import opened, shop_now

ROOT = Path(__file__).resolve().parents[2]
STRIP = ["fence_end=1.0120", "free_end=1.0300", "length=15"]
# A wild hand: one marked spot of wood, read within 0.008 in; ten times what is assumed of a caliper.
WILD = ["closed=0.0000"] * 5 + [f"edge={x}" for x in ("0.7410", "0.7490", "0.7450", "0.7420", "0.7480")]


def repeat_of(run: CheckRun) -> float:
    """Standard uncertainty in mm of one reading with the caliper, as the run saw it."""
    return next(r.instrument.repeat.s for r in run.taken.readings if r.instrument and r.instrument.kind == "caliper")


def test_a_hand_that_wanders_makes_every_run_less_sure(tmp_path: Path) -> None:
    book = tmp_path / "shop.trued"
    describe_shop(ROOT / "examples" / "shop.toml", book)
    before = run_check("five-cut", STRIP, {}, book=book, answers=("anew",))
    for _ in range(2):
        run_check("caliper", WILD, {}, book=book)
    after = run_check("five-cut", STRIP, {}, book=book, answers=("anew",))
    spread = 0.0036 * 25.4  # sample standard deviation of the five readings, by hand: 0.0035355 in
    assert repeat_of(before) == pytest.approx(0.025)
    assert repeat_of(after) == pytest.approx(spread, rel=0.25)
    assert after.finding.estimates[0].u > 1.2 * before.finding.estimates[0].u
    assert {row.run for row in shop_now(book).history.observed} >= {before.run, after.run}


def test_what_many_checks_of_the_caliper_taught_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book = tmp_path / "shop.trued"
    monkeypatch.setattr(kept_known, "WORTH", 2)
    describe_shop(ROOT / "examples" / "shop.toml", book)
    run_check("caliper", WILD, {}, book=book)
    run_check("caliper", [word.replace("0.7", "0.8") for word in WILD], {}, book=book)
    kept = shop_now(book).instruments
    with opened(book) as file:
        state = file.state(kept_known.OWN_REPEAT)
        assert state is not None
        assert len(file.runs(check="caliper", since=state.upto)) == 0
    assert shop_now(book).instruments == kept
    run_check("caliper", ["closed=0.0000"] * 5 + ["edge=0.7450", "edge=0.7455"] * 3, {}, book=book)
    steady = shop_now(book).instruments
    monkeypatch.setattr(kept_known, "_read", lambda *_: None)
    assert steady == shop_now(book).instruments != kept
