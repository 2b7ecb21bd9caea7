"""One name and one unit for a feature, from the check that finds it to the plan that rests on it."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from trued.equipment.file.read_shop import read_shop
from trued.job.file.read import read_job
from trued.job.job import Job
from trued.procedure import Check, take
from trued.standing.cuts.cut_errors import cut_errors
from trued.standing.feature import features, full_name
from trued.standing.owner import owner_of
from trued.usecases.plan.shop import kerf_for, plan_shop
from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.list_checks import list_checks
from trued.usecases.shop.shop_now import shop_now

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"
KERF = ("whole=5.0000", "keeper_piece=2.4005", "offcut_piece=2.5055")  # by hand: 0.0940 in


@pytest.mark.parametrize("check", list_checks(), ids=lambda check: check.id)
def test_a_check_and_the_table_of_features_agree_on_the_unit(check: Check) -> None:
    taken = take(check, check.example.given, {fact.name: fact.choices[0] for fact in check.facts if fact.choices})
    for found in check.evaluate(taken):
        assert found.feature in check.names
        assert features()[found.feature].unit == found.unit, found.feature


def test_what_is_assumed_is_named_as_it_will_be_when_it_is_found(tmp_path: Path) -> None:
    shop = read_shop(SHOP.read_text(encoding="utf-8"))
    names = {full_name(owner_of(name, shop), name) for name in features()}
    assumed = set(cut_errors(shop, ()).assumed)
    assert "blade.kerf" in assumed
    assert "sled.stop-setting" in assumed and assumed <= names


def test_kerf_is_of_the_blade_that_is_on(tmp_path: Path) -> None:
    book = tmp_path / "shop.trued"
    describe_shop(SHOP, book)
    run = run_check("kerf", KERF, {}, book=book)
    assert run.full == {"kerf": "blade.kerf"}
    now = shop_now(book)
    assert [s.feature for s in now.standings()] == ["blade.kerf"]
    assert "blade.kerf" not in now.holds().assumed


def test_where_the_kerf_of_a_plan_comes_from(tmp_path: Path) -> None:
    """Measured here; after another blade the marked one; where that bears no mark, the old one, said to be old."""
    book, job = tmp_path / "shop.trued", read_job(JOB, unit=None)
    describe_shop(SHOP, book)
    assert used(book, job) == ("marked on the blade, not measured here", True, 0.094)
    run_check("kerf", ("whole=5.0000", "keeper_piece=2.4005", "offcut_piece=2.5050"), {}, book=book)
    assert used(book, job) == ("measured here", False, 0.0945)
    assert used(book, job, "0.1") == ("given with --kerf", False, 0.1)
    other = tmp_path / "blade.toml"
    other.write_text('[blade]\nid = "wide"\nkerf = "1/8"\n', encoding="utf-8")
    describe_shop(other, book)
    assert used(book, job) == ("marked on the blade, not measured here", True, 0.125)
    other.write_text('[blade]\nid = "bare"\n', encoding="utf-8")
    describe_shop(other, book)
    assert used(book, job) == ("measured here, before another blade went on", True, 0.0945)


JOB = """
[[stock]]
id = "S"
material = "pine"
length = "40"
width = "4"
thickness = "3/4"
[[part]]
id = "leg"
material = "pine"
length = "30"
width = "3"
thickness = "3/4"
"""


def used(book: Path, job: Job, given: str | None = None) -> tuple[str, bool, float]:
    kerf = kerf_for(plan_shop(book, None, datetime.now(UTC)), job, given, "in")
    return kerf.source, kerf.assumed, round(float(kerf.mm) / 25.4, 6)
