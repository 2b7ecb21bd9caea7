"""The next step with a book: the check's whole instruction, safety first, and what others rest on before them."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.advice.order_words import order_said
from trued.standing.feature import features
from trued.usecases.runs.run_check import run_check
from trued.usecases.runs.run_review import one_run
from trued.usecases.runs.taking import CheckRun
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.list_checks import list_checks, one_check
from trued.usecases.standing.action_queue import in_turn
from trued.usecases.standing.feature_history import feature_history
from trued.usecases.standing.standing import what_stands

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"
NOW = datetime.now(UTC)
LASTING = [check.id for check in list_checks() if check.id not in ("stock", "dado", "diagonals", "support")]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The shop of the examples, with a caliper that is long enough for each of them."""
    path, file = tmp_path / "shop.trued", tmp_path / "shop.toml"
    file.write_text(SHOP.read_text(encoding="utf-8").replace('range = "8"', 'range = "40"'), encoding="utf-8")
    describe_shop(file, path)
    return path


def example(id: str, book: Path | None = None, *, hour: int = 0) -> CheckRun:
    """The check's own worked example, with the facts that it names; kept where there is a book."""
    words = [word for word in one_check(id).example.given if not word.startswith("--")]
    at = NOW - timedelta(hours=5 - hour)
    return run_check(
        id,
        words,
        dict(one_check(id).example.facts),
        book=book,
        at=at if book is not None else None,
        key=f"{hour:x}" * 32,
    )


def texts(run: CheckRun) -> dict[str, str]:
    """Full feature -> what is to be done next."""
    return {s.feature: s.next.text for s in run.standings if s.next is not None}


@pytest.mark.parametrize("id", ["rip-fence", "blade-parallel"])
def test_a_book_takes_nothing_from_what_is_said_without_one(book: Path, id: str) -> None:
    """The whole sentence, "No rip" first: without a book it stands as the check's own move."""
    alone, kept = example(id), example(id, book)
    told = texts(kept)
    assert alone.finding.moves
    for move in alone.finding.moves:
        assert told[kept.full[move.feature]] == move.text
    assert id != "rip-fence" or told["saw.rip-fence-angle"].startswith("No rip: fence and blade pinch at the back")
    page = {s.feature: s.next for s in one_run("0" * 32, book).standings}
    assert all(step is not None and step.text == told[feature] for feature, step in page.items())


@pytest.mark.parametrize("id", LASTING)
def test_no_step_leaves_its_instruction_to_a_page_and_one_run_has_one_verdict(book: Path, id: str) -> None:
    """Whatever is out, the order says how it is mended or turned, in the words of its check. What a run says of itself
    and what is believed after it, it being all that is known, are the same."""
    run = example(id, book)
    for text in texts(run).values():
        assert not text.startswith("Mend it") and "says what to look at" not in text
    believed = {s.feature: s.decision for s in run.standings}
    for estimate in run.finding.estimates:
        assert believed[run.full[estimate.feature]] == estimate.decision, estimate.feature


def test_the_blade_comes_before_the_fence_that_is_set_to_it(book: Path) -> None:
    """As the fence's own sentence says: set the blade to the slot first, then the fence. Both are out, both safety."""
    example("rip-fence", book)
    example("blade-parallel", book, hour=1)
    first, second, *_ = what_stands(book).do_first
    assert (first.standing.feature, second.standing.feature) == ("saw.blade-parallel", "saw.rip-fence-angle")
    assert first.standing.next is not None and first.standing.next.text.startswith("Move the back of the blade")
    assert second.standing.next is not None and second.standing.next.text.startswith("No rip")
    both = [line.standing for line in (second, first)]
    assert [s.feature for s in in_turn(both)] == ["saw.blade-parallel", "saw.rip-fence-angle"]


def test_what_is_ordered_is_what_all_runs_lead_to(book: Path) -> None:
    """By hand: a step of 0.0200 in is 0.0122 in below the middle of 0 to 1/64 in; of the first move 1 / 1.09 is made.

    The instruction has that amount, and nothing of the full one, which is this run's alone.
    """
    run = example("wing", book)
    text = texts(run)["wing.wing-step"]
    assert text.startswith("Raise the wing at its joint by 0.0112 in") and "0.0122" not in text
    assert texts(run)["wing.wing-droop"].startswith("Raise the outer edge of the wing by 0.0367 in")
    assert pytest.approx(0.0112, abs=5e-5) == 0.0122 / 1.09 and pytest.approx(0.0367, abs=5e-5) == 0.0400 / 1.09


def test_a_run_that_can_no_longer_be_worked_out_leaves_an_order_behind(book: Path, tmp_path: Path) -> None:
    """Then nothing is known of the feature: no step, and no fault."""
    run_check("five-cut", ("fence_end=1.0120", "free_end=1.0500", "length=15"), {}, book=book)
    shorter = tmp_path / "shop.toml"
    shorter.write_text(SHOP.read_text(encoding="utf-8").replace('range = "8"', 'range = "1/2"'), encoding="utf-8")
    describe_shop(shorter, book)
    view = what_stands(book)
    assert view.lines == () and view.unread


@pytest.mark.parametrize(
    ("id", "feature", "order", "amount"),
    [
        ("tilt-90", "saw.bevel@0", "tilt the top of the blade away from the keeper", "0.088°"),  # 0.0955° / 1.09
        ("tilt-45", "saw.bevel@45", "tilt the blade further over", "0.186°"),  # 0.2026° / 1.09
        ("wing", "wing.wing-step", "raise the wing at its joint", "0.0112 in"),
        ("wing", "wing.wing-droop", "raise the outer edge of the wing", "0.0367 in"),
    ],
)
def test_an_order_names_the_part_and_its_side(book: Path, id: str, feature: str, order: str, amount: str) -> None:
    """By hand: of the full move of the example 1 / 1.09 is made. The text begins with the same words."""
    example(id, book)
    run = one_run("0" * 32, book)
    (standing,) = (s for s in run.standings if s.feature == feature)
    assert standing.next is not None and standing.next.order == order
    assert standing.next.text.lower().startswith(order) and amount in standing.next.text
    typed, shown, _ = run.amounts[feature]
    assert shown == amount and typed == amount.replace("°", "deg").removesuffix(" in")


def test_every_direction_that_is_followed_has_its_words() -> None:
    """`up` alone names no part."""
    for feature in features().values():
        if feature.adjustable and feature.directions is not None and feature.name != "stop-offset":
            for way in feature.directions:
                assert order_said(f"x.{feature.name}", way, feature.directions) not in ("", way.replace("-", " "))


def test_one_amount_on_a_run_that_is_turned_by_feelers(book: Path) -> None:
    """By hand: (1.05025 - 1.01175) / (4 × 15) × 18 in is 0.01155 in; 1 / 1.09 of it 0.01060, by feelers 0.0105.

    Order, instruction and what is typed afterwards have that one amount, and the feelers named make it; the turns are
    of 20 threads to the inch. Nothing of the full move is in the order.
    """
    strip = ("fence_end=1.0120", "fence_end=1.0115", "free_end=1.0500", "free_end=1.0505", "length=15")
    run = run_check("five-cut", strip, {}, book=book, key="0" * 32)
    (standing,) = run.standings
    assert standing.next is not None and standing.next.amount is not None
    assert standing.next.amount * 18 == pytest.approx(0.0106, abs=5e-5)
    text = standing.next.text
    assert text.startswith("Move the left end of the fence away from you, 0.0105 in at the screw.")
    stack = re.search(r"feelers ([0-9.]+) \+ ([0-9.]+) between", text)
    assert stack is not None and "About 3/16 of a turn" in text
    assert float(stack[1]) + float(stack[2]) == pytest.approx(0.0105, abs=1e-9)
    assert "0.0115" not in text and "0.0106" not in text
    page = one_run("0" * 32, book)
    assert page.amounts[standing.feature] == ("0.0105", "0.0105 in", "at the screw")
    (shown,) = page.standings
    assert shown.next is not None and shown.next.text == text


def test_one_action_for_a_check_and_none_against_another(book: Path) -> None:
    """The toe of the fence cannot be told yet and would be run once more with nothing touched; the fence is to be
    mended first. The wing has two things to turn: they stand together, the joint first."""
    example("rip-fence", book)
    example("wing", book, hour=1)
    view = what_stands(book)
    checks = [line.standing.next.check for line in view.do_first if line.standing.next is not None]
    assert checks == ["rip-fence", "wing"]
    wing = view.do_first[1]
    assert wing.standing.feature == "wing.wing-step"
    assert [line.standing.feature for line in wing.then] == ["wing.wing-droop"]
    said = [line.standing.next.text for line in (*view.do_first, *wing.then) if line.standing.next is not None]
    assert not any("touch nothing" in text for text in said)


def test_the_history_of_one_feature_has_its_safety_sentence(book: Path) -> None:
    """`trued status rip-fence-angle` and its page are read at the saw too."""
    run = example("rip-fence", book)
    told = feature_history("rip-fence-angle", book)
    assert told.standing is not None and told.standing.next is not None
    assert told.standing.next.text == texts(run)["saw.rip-fence-angle"]
    assert "pinches at the back" in told.lines[0].text


def test_the_words_go_by_the_fixture_as_it_is_now(book: Path, tmp_path: Path) -> None:
    """The sled was built anew since: the keeper lies right, so opening takes its right end away from the operator."""
    run_check("five-cut", ("fence_end=1.0120", "free_end=1.0500", "length=15"), {}, book=book)
    (before,) = what_stands(book).do_first
    assert before.standing.next is not None and "the left end of the fence away from you" in before.standing.next.text
    file = tmp_path / "other.toml"
    text = SHOP.read_text(encoding="utf-8").replace('keeper = "left"', 'keeper = "right"')
    file.write_text(text.replace('screw = "keeper"', 'screw = "offcut"'), encoding="utf-8")
    describe_shop(file, book)
    (after,) = what_stands(book).do_first
    assert after.standing.next is not None
    assert "the right end of the fence away from you" in after.standing.next.text
    assert "on the work side" in after.standing.next.text and "left end" not in after.standing.next.text


def test_a_fence_that_is_brought_to_a_block_is_not_told_to_go_past_it(book: Path) -> None:
    """An open corner is closed, against the way by which its play is taken up; the block leaves no play."""
    strip = ("fence_end=1.0420", "fence_end=1.0425", "free_end=1.0120", "free_end=1.0125", "length=15")
    (standing,) = run_check("five-cut", strip, {}, book=book).standings
    step = standing.next
    assert step is not None and step.direction == "close" != step.approach
    assert "clamp a block" in step.text and "Go past" not in step.text
