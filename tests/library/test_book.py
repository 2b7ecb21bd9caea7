"""A book of the library does what the use cases do with what was typed: the same numbers, the same refusals."""

from __future__ import annotations

import importlib.util
import math
from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import uuid4

import pytest

import trued
from trued.usecases.changes.record_move import record_move
from trued.usecases.plan.plan_job import plan_job
from trued.usecases.runs.run_check import run_check
from trued.usecases.saved.inspect_parts import prove_job
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.standing.standing import what_stands

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
RACK = EXAMPLES / "rack.toml"
NOW = datetime(2026, 5, 4, 9, 30, tzinfo=UTC)
HOUR = timedelta(hours=1)
READ = {"fence_end": [0.5, 0.501], "free_end": [0.538, (0.5385, "caliper-1")], "length": 9.5}
TYPED = ["fence_end=0.5", "fence_end=0.501", "free_end=0.538", "free_end:caliper-1=0.5385", "length=9.5"]


@pytest.fixture
def book(tmp_path: Path) -> trued.Book:
    book = trued.open_book(tmp_path / "new" / "shop.trued", create=True)
    book.describe(EXAMPLES / "shop.toml")
    return book


@pytest.fixture
def twin(tmp_path: Path) -> Path:
    """The same shop, told by the use cases."""
    path = tmp_path / "twin.trued"
    describe_shop(EXAMPLES / "shop.toml", path)
    return path


def figures(view: trued.StandingView) -> list[tuple[object, ...]]:
    each = [line.standing for line in view.lines]
    return [(s.feature, s.x.value, s.x.u, s.limits, s.decision, s.chance_in, s.next) for s in each]


def test_a_run_is_the_run_as_typed(book: trued.Book, twin: Path) -> None:
    ours, theirs = book.run("five-cut", READ, at=NOW), run_check("five-cut", TYPED, {}, book=twin, at=NOW)
    assert ours.finding.estimates == theirs.finding.estimates and ours.verdict == theirs.verdict
    stands, twins = book.standing(at=NOW + HOUR), what_stands(twin, at=NOW + HOUR)
    assert figures(stands) == figures(twins) != []
    assert stands.never == twins.never and stands.bans == twins.bans
    alone = trued.evaluate("five-cut", READ | {"free_end": [0.538, 0.5385]}, {"fence": "far", "radius": 18.0})
    typed = [text.replace(":caliper-1", "") for text in TYPED]
    assert alone.finding == run_check("five-cut", typed, {"fence": "far", "radius": "18"}).finding
    assert alone.run is None


def test_millimetres_are_the_same_run(book: trued.Book) -> None:
    """An inch is 25.4 mm (the agreement of 1959): the same strip, read in either unit."""
    inches = {"whole": 7.0, "keeper_piece": 3.5, "offcut_piece": 3.375}
    mm = {name: value * 25.4 for name, value in inches.items()}
    for run in (trued.evaluate("kerf", inches), trued.evaluate("kerf", mm, unit="mm"), book.run("kerf", mm, unit="mm")):
        assert run.finding.estimates[0].value == pytest.approx(3.175, abs=1e-9)  # 1/8 in
        assert run.unit == run.taken.unit
    assert mm["whole"] != 177.8 and run.taken.readings[0].typed == "177.800"  # a float's last digit is no reading


@pytest.mark.parametrize("size", [0.004, "0.004", "0.1016mm"])
def test_a_tolerance_as_a_number_or_a_text(size: float | str) -> None:
    run = trued.evaluate("fence-straight", {"gap": {0: 0, 12: 0.004, 24: 0}}, tolerance=size)
    assert run.finding.estimates[0].limits == trued.ToleranceLimits.within(0.1016)


def test_a_run_in_the_book_takes_a_tolerance_and_a_fixture(book: trued.Book) -> None:
    run = book.run(
        "fence-straight", {"gap": {0: 0, 12: 0.004, 24: 0}}, tolerance=0.002, facts={"keeper": "left"}, at=NOW
    )
    assert run.finding.estimates[0].limits == trued.ToleranceLimits.within(0.0508)
    with pytest.raises(trued.InputRefused, match="slde"):
        book.run("five-cut", READ, fixture="slde", at=NOW)


def test_a_move_is_in_the_unit_of_its_order(book: trued.Book, twin: Path) -> None:
    ours, theirs = book.moved("fence-angle", "open", 0.0165, at=NOW), record_move("fence-angle", "open", "0.0165", twin)
    assert ours.amount == theirs.amount == math.atan2(0.0165, 18.0)  # at the screw, 18 in from the pivot
    assert ours.hand == theirs.hand and ours.hand is not None and ours.hand.unit == "in"
    tilt = book.moved("bevel@45", ways("bevel@45")[0], 0.25, at=NOW + HOUR)
    assert tilt.amount == pytest.approx(math.radians(0.25)) and tilt.hand.unit == "deg"
    toe = book.moved("rip-toe", ways("rip-toe")[0], 0.006, at=NOW + HOUR)
    assert toe.hand.value == pytest.approx(0.006)
    turned = book.moved("fence-angle", "open", "1/24turn", at=NOW + 2 * HOUR, answers=["once"])
    assert turned.amount == pytest.approx(math.atan2(1 / 24 / 20, 18.0))


def ways(feature: str) -> tuple[str, str]:
    from trued.standing.feature import feature_of

    directions = feature_of(feature).directions
    assert directions is not None
    return directions


def test_plan_and_proof(book: trued.Book, twin: Path, tmp_path: Path) -> None:
    plan, typed = book.plan(RACK, at=NOW, effort=50), plan_job(RACK.read_text(), book=twin, at=NOW, effort=50)
    assert plan.tickets == typed.tickets and plan.cautions == typed.cautions and plan.problems == typed.problems
    measured = {"rail": {1: 12.891, 2: 12.8915}, "shelf@2-shelf@1": 0.003}
    ours = book.prove(plan, measured, at=NOW + HOUR)
    texts = ["rail@1=12.891", "rail@2=12.8915", "shelf@2-shelf@1=0.003"]
    theirs = prove_job(RACK.read_text(), texts, book=twin, at=NOW + HOUR)
    assert ours.proof == theirs.proof and ours.planned
    in_mm = {"rail": {1: 12.891 * 25.4}}
    assert trued.prove_job(RACK, in_mm, unit="mm").proof.sizes[0].off.value == pytest.approx(
        trued.prove_job(RACK, {"rail": {1: 12.891}}).proof.sizes[0].off.value, abs=1e-6
    )
    alone = trued.plan_job(RACK.read_text(), shop=EXAMPLES / "shop.toml", effort=50, out=tmp_path / "sheets")
    assert alone.sheets and not alone.kept
    with pytest.raises(trued.InputRefused, match="kept in no book"):
        book.prove(alone, measured)


def test_event_answer_and_undo(book: trued.Book) -> None:
    book.run("five-cut", READ, at=NOW)
    event = book.event("saw-carried", at=NOW + HOUR)
    assert event.stale == ("sled.fence-angle@0",)
    assert book.undo(event.id).kind == "event"
    with pytest.raises(trued.Asks) as asks:
        book.run("five-cut", READ, at=NOW + HOUR)
    assert [question.code for question in asks.value.questions] == ["same-strip"]
    run = book.run("five-cut", READ, at=NOW + HOUR, answers=["anew"])
    assert book.answer(run.run or "", "confirm=yes", at=NOW + HOUR).word == "yes"


def test_the_same_key_twice_is_one_run(book: trued.Book) -> None:
    key = uuid4().hex
    assert book.run("five-cut", READ, at=NOW, key=key).run == book.run("five-cut", READ, at=NOW, key=key).run == key
    assert book.standing(at=NOW + HOUR).lines[0].standing.runs == 1


def test_a_caliper_that_shows_fractions_is_seen_in_floats_as_in_texts() -> None:
    """Sixteenths and an eighth, to four decimals on the display (worked by hand): a float has lost the zeros."""
    read = {"fence_end": [0.5, 0.4375], "free_end": [0.5625, 0.625], "length": 9.5}
    texts = ["fence_end=0.5000", "fence_end=0.4375", "free_end=0.5625", "free_end=0.6250", "length=9.5"]
    for run in (trued.evaluate("five-cut", read), trued.evaluate("five-cut", texts)):
        assert "fraction-display" in {seen.code for seen in run.finding.seen}


def test_checks_of_a_persons_own_folder_are_in_the_library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    source = Path(find_module("trued.checks.kerf")).read_text(encoding="utf-8")
    (tmp_path / "my_kerf.py").write_text(source.replace('id="kerf"', 'id="my-kerf"'), encoding="utf-8")
    known = {check.id for check in trued.all_checks()}
    monkeypatch.setenv("TRUED_CHECKS", str(tmp_path))
    assert {check.id for check in trued.all_checks()} - known == {"my-kerf"}
    assert trued.find_check("my-kerf").id == "my-kerf"


def find_module(name: str) -> str:
    found = importlib.util.find_spec(name)
    assert found is not None and found.origin is not None
    return found.origin


def test_verdict_never_folds_a_danger_away(book: trued.Book) -> None:
    book.run("five-cut", READ, at=NOW)
    assert book.verdict(at=NOW + HOUR).code == "not-yet"
    assert "someone can get hurt" in book.verdict(at=NOW + HOUR).told


def test_a_shop_from_a_text(tmp_path: Path) -> None:
    book = trued.open_book(tmp_path / "b.trued", create=True)
    view = book.describe((EXAMPLES / "shop.toml").read_text(encoding="utf-8"))
    assert view.shop == book.describe().shop and view.shop.saw is not None
    assert trued.open_book(str(book.path), create=True) == book  # one that is there stays as it is
    assert book.describe().shop == view.shop


def test_what_cannot_be_used_is_refused_and_nothing_is_kept(book: trued.Book, tmp_path: Path) -> None:
    with pytest.raises(trued.BookRefused):
        trued.open_book(tmp_path / "none.trued")
    assert not (tmp_path / "none.trued").exists()
    with pytest.raises(trued.InputRefused, match="with its zone"):
        book.run("five-cut", READ, at=datetime(2026, 5, 4))  # noqa: DTZ001 - that is what is refused
    with pytest.raises(trued.InputRefused) as refused:
        book.run("five-cut", READ | {"length": -9.5, "lenth": 1.0})
    assert {fault.where for fault in refused.value.faults} == {"length", "lenth"}
    for call in (trued.evaluate, book.run):
        with pytest.raises(trued.InputRefused, match='"in" or "mm"'):
            call("five-cut", READ, unit="cm")
    with pytest.raises(trued.InputRefused) as refused:
        book.run("five-cut", READ, facts={"fense": "far", "radius": math.nan})
    assert [(fault.where, fault.read) for fault in refused.value.faults] == [("facts", "fense"), ("radius", "NaN")]
    assert "fence" in refused.value.faults[0].text
    with pytest.raises(trued.InputRefused, match="open or close"):
        book.moved("fence-angle", "up", 0.01)
    assert book.standing().lines == ()
