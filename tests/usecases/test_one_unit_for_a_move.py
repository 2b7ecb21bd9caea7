"""Order, form, record and answer of one move say it in one unit, and take it back in that unit (an invented sled)."""

import math
import re
from pathlib import Path

import pytest

from trued.cli.commands.check import as_json
from trued.cli.text.standing_json import standing_json
from trued.errors import InputRefused
from trued.usecases.changes.adjustments import list_adjustments
from trued.usecases.changes.record_move import record_move
from trued.usecases.runs.run_check import run_check
from trued.usecases.runs.run_review import one_run
from trued.usecases.runs.taking import CheckRun
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.shop_now import shop_now
from trued.usecases.standing.standing import what_stands

STRIP = ("fence_end=1.0120", "free_end=1.0900", "length=15")
FACTS = {"fence": "far", "keeper": "left", "pivot": "near-blade", "screw": "keeper", "radius": "18", "thread": "1/4-20"}
FENCE = "sled.fence-angle@0"
KEY = "c" * 32


@pytest.fixture
def empty(tmp_path: Path) -> Path:
    file, path = tmp_path / "shop.toml", tmp_path / "shop.trued"
    file.write_text('name = "The lean-to"\nunit = "in"\n', encoding="utf-8")
    describe_shop(file, path)
    return path


def twice(book: Path, **facts: str) -> CheckRun:
    run_check("five-cut", STRIP, facts, book=book)
    return run_check("five-cut", STRIP, {}, book=book, key=KEY, answers=("anew",))


def words_of(run: CheckRun) -> str:
    """What is to be turned and why, without where it will stand: that is told as it was found, on the work."""
    step = next(s.next for s in run.standings if s.next is not None)
    text = f"{step.text} {step.why}"
    return re.sub(r"[-+][0-9.]+ in/ft ± [0-9.]+ in/ft \(95 %\)", "", text)


def test_facts_typed_once_are_kept_with_the_fixture(empty: Path) -> None:
    run_check("five-cut", STRIP, FACTS, book=empty)
    sled = shop_now(empty).shop.fixture("sled")
    assert sled.number("radius") == pytest.approx(18 * 25.4) and sled.number("thread") == pytest.approx(25.4 / 20)
    assert sled.keeper == "left"
    run_check("five-cut", STRIP, {}, book=empty)  # nothing is asked again
    with pytest.raises(InputRefused, match="The book says"):
        run_check("five-cut", STRIP, {"radius": "16"}, book=empty)


def test_the_angle_of_one_run_is_not_kept(empty: Path) -> None:
    run_check(
        "sight-line", ["to_mark=4", "to_cut=4.01"] * 3, {"angle": "45", "swing": "open", "keeper": "left"}, book=empty
    )
    assert dict(shop_now(empty).shop.fixture("sled").facts) == {"keeper": "left"}


def test_order_page_form_and_record_speak_one_unit(empty: Path) -> None:
    run = twice(empty, **FACTS)
    told = words_of(run)
    assert "in at the screw" in told and "in/ft" not in told
    page = one_run(KEY, empty)
    typed, shown, at = page.amounts[FENCE]
    assert shown == f"{typed} in" and at == "at the screw" and shown in told
    form = next(one for one in list_adjustments(empty) if one.feature == FENCE)
    assert (form.unit, form.at) == ("in", "at the screw") and form.typed(typed) == typed
    kept = record_move(FENCE, "open", form.typed(typed), empty)
    assert kept.said == f"{shown} at the screw"
    assert kept.amount == pytest.approx(float(typed) / 18, rel=1e-4)


@pytest.mark.parametrize(
    ("typed", "inches"),
    [
        ("0.0165", 0.0165),
        ("0.0165 in", 0.0165),
        ("0.42 mm", 0.42 / 25.4),
        ("1/3 turn", 0.05 / 3),
        ("1/3turn", 0.05 / 3),
        ("0.0525°", 18 * math.tan(math.radians(0.0525))),
        ("0.0525 deg", 18 * math.tan(math.radians(0.0525))),
        ("0.0110 in/ft", 18 * 0.0110 / 12),
        ("0.0110in/ft", 18 * 0.0110 / 12),
    ],
)
def test_every_other_unit_is_understood(empty: Path, typed: str, inches: float) -> None:
    run_check("five-cut", STRIP, FACTS, book=empty)
    form = next(one for one in list_adjustments(empty) if one.feature == FENCE)
    kept = record_move(FENCE, "open", form.typed(typed), empty)
    assert kept.amount * 18 == pytest.approx(inches, rel=1e-3)


def test_without_a_radius_it_is_a_slope_throughout(empty: Path) -> None:
    run = twice(empty)
    told = words_of(run)
    typed, shown, at = one_run(KEY, empty).amounts[FENCE]
    assert at == "" and shown.endswith(" in/ft") and shown in told
    assert "at the screw" not in told and "°" not in told
    form = next(one for one in list_adjustments(empty) if one.feature == FENCE)
    assert form.unit == "in/ft"
    bare = typed.removesuffix("in/ft")
    kept = record_move(FENCE, "open", form.typed(bare), empty)
    assert kept.amount == pytest.approx(math.atan(float(bare) / 12))


def test_a_tilt_is_turned_by_degrees_throughout(empty: Path) -> None:
    block = ("cycled=yes", "square=light", "gap=0.008", "at=top", "height=2.4")
    run_check("tilt-90", block, {}, book=empty, key=KEY)
    typed, shown, at = one_run(KEY, empty).amounts["saw.bevel@0"]
    assert typed == shown.replace("°", "deg") and at == ""
    form = next(one for one in list_adjustments(empty) if one.feature == "saw.bevel@0")
    assert (form.unit, form.unit_said, form.typed("0.088")) == ("deg", "°", "0.088deg")


def test_the_answer_keeps_rad_and_mm_and_adds_the_hand(empty: Path) -> None:
    run = twice(empty, **FACTS)
    told = as_json(run)
    assert isinstance(told, dict) and isinstance(told["moves"], list) and isinstance(told["moves"][0], dict)
    move = told["moves"][0]
    hand, amount = move["hand"], move["amount_mm"]
    assert (
        isinstance(hand, dict)
        and isinstance(amount, float)
        and hand["unit"] == "in"
        and str(hand["text"]).endswith(" in at the screw")
    )
    assert hand["value"] == pytest.approx(amount / 25.4, abs=6e-4) and str(hand["text"])[:6] in str(move["text"])
    line = next(line for line in what_stands(empty).lines if line.standing.feature == FENCE)
    step = standing_json(line.standing)["next"]
    assert isinstance(step, dict) and isinstance(step["hand"], dict) and isinstance(step["amount"], float)
    assert step["hand"]["value"] == pytest.approx(18 * step["amount"], abs=6e-4)  # rad inside; a feeler's step at most
    assert step["hand"]["unit"] == "in"
