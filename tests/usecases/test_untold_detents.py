"""A book of before angles were asked for opens; its detent runs are of no angle, until one answer settles them all."""

import math
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.errors import InputRefused, Question
from trued.procedure import take
from trued.standing.cuts.cut_angle import cut_angle
from trued.standing.feature import said
from trued.store.ids import new_id
from trued.store.kept.run_rows import rows_of
from trued.store.rows import MoveRow
from trued.usecases.changes.answer import answer
from trued.usecases.changes.open_questions import open_questions
from trued.usecases.changes.record_move import record_move
from trued.usecases.changes.undo import take_back
from trued.usecases.runs.run_review import one_run
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.list_checks import one_check
from trued.usecases.shop.shop_now import opened, shop_now
from trued.usecases.standing.standing import what_stands

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"
NOW = datetime.now(UTC) - timedelta(days=9)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "shop.trued"
    describe_shop(SHOP, path)
    return path


def old_run(book: Path, check: str, typed: list[str], hour: int) -> str:
    """A run as it was kept before: its facts say nothing of an angle."""
    id, made = new_id(), one_check(check)
    taken = take(made, typed, {}, unit="in")
    with opened(book) as kept:
        kept.add_run(*rows_of(taken, id, NOW + timedelta(hours=hour), fixture="sled", facts={}))
    return id


def ring(book: Path, pieces: int, gap: str, hour: int, swung: str = "closed") -> str:
    where = "none" if gap == "0" else "inside"
    typed = [f"swung={swung}", *["piece=7.5"] * pieces, "width=2", f"where={where}", f"gap={gap}"]
    return old_run(book, "detent-angle", typed, hour)


def engagements(book: Path, hour: int) -> str:
    return old_run(book, "detent-repeat", list(one_check("detent-repeat").example.given), hour)


def features(book: Path) -> set[str]:
    return {s.feature for s in shop_now(book).standings()}


def asked(book: Path) -> tuple[Question, ...]:
    return open_questions(shop_now(book))


def test_its_runs_are_of_no_angle_in_no_fit_and_order_nothing(book: Path) -> None:
    for hour in range(3):
        ring(book, 4, "0.0197", hour)
    assert features(book) == {"sled.detent-angle@?"}
    now = shop_now(book)
    assert cut_angle(now.shop, now.standings(), 45.0).assumed
    (standing,) = now.standings()
    assert standing.next is not None and standing.next.do == "leave" and standing.next.amount is None
    assert what_stands(book).do_first == ()


def test_one_answer_settles_every_run_of_the_fixture(book: Path) -> None:
    first = ring(book, 4, "0.0197", 0)
    ring(book, 4, "0.0190", 1)
    engagements(book, 2)
    (question,) = asked(book)
    assert question.about == first and [word for word, _ in question.choices] == ["45closed", "unknown"]
    assert "3 detent runs" in question.text
    answer(first, "45closed", book)
    assert asked(book) == ()
    assert features(book) == {f"sled.detent-{name}@45closed" for name in ("angle", "repeat", "backlash")}
    found = next(s for s in shop_now(book).standings() if s.feature == "sled.detent-angle@45closed")
    assert math.degrees(found.x.value) == pytest.approx(0.05, abs=0.004) and found.runs == 2
    assert one_run(first, book).full == {"detent-angle": "sled.detent-angle@45closed"}
    with opened(book) as kept:
        assert len(kept.answers()) == 1


def test_rings_of_two_detents_each_go_to_their_own(book: Path) -> None:
    first = ring(book, 4, "0.0197", 0)
    ring(book, 8, "0", 1)
    engagements(book, 2)
    (question,) = asked(book)
    assert [word for word, _ in question.choices] == ["rings", "unknown"]
    assert "45° closed, 22.5° closed" in question.means("rings")  # type: ignore[operator]
    answer(first, "rings", book)
    assert {"sled.detent-angle@45closed", "sled.detent-angle@22.5closed"} <= features(book)
    assert "sled.detent-repeat@?" in features(book)  # ten engagements tell no angle
    assert asked(book) == ()


def test_not_known_is_an_answer_too_and_is_not_asked_again(book: Path) -> None:
    first = engagements(book, 0)
    (question,) = asked(book)
    assert len(question.choices) == 7  # 22.5, 30 and 45 to either side, or not known
    answer(first, "unknown", book)
    assert asked(book) == () and "sled.detent-repeat@?" in features(book)


def test_a_ring_of_another_angle_than_the_answer_stays_without_one(book: Path) -> None:
    first = engagements(book, 0)
    answer(first, "30open", book)
    ring(book, 4, "0.0197", 1)
    assert {"sled.detent-repeat@30open", "sled.detent-angle@?"} <= features(book)


def test_an_answer_that_was_wrong_is_taken_back(book: Path) -> None:
    first = ring(book, 4, "0.0197", 0)
    answer(first, "45closed", book)
    with opened(book) as kept:
        (row,) = kept.answers()
    take_back(row.id, book)
    assert features(book) == {"sled.detent-angle@?"} and len(asked(book)) == 1


@pytest.mark.parametrize("suffix", ["45", "45left", "x"])
def test_what_was_once_taken_for_an_angle_still_opens(book: Path, suffix: str) -> None:
    """A move of `fence-angle@45` was taken before; the book opens, and it moves nothing that is known."""
    with opened(book) as kept:
        name = f"sled.fence-angle@{suffix}"
        kept.add_move(MoveRow(new_id(), name, NOW, "0.05deg", math.radians(0.05), "rad", "open", None))
    ring(book, 4, "0.0197", 1)
    assert features(book) == {"sled.detent-angle@?"}
    assert said(name)


def test_nothing_new_is_moved_without_its_angle(book: Path) -> None:
    ring(book, 4, "0.0197", 0)
    with pytest.raises(InputRefused, match="Say at which angle"):
        record_move("sled.detent-angle@?", "open", "0.05deg", book)


def test_a_move_kept_without_an_angle_goes_with_the_answer(book: Path) -> None:
    first = ring(book, 4, "0.0197", 0)
    with opened(book) as kept:
        at = NOW + timedelta(hours=1)
        kept.add_move(MoveRow(new_id(), "sled.detent-angle@?", at, "0.05deg", math.radians(0.05), "rad", "open", None))
    answer(first, "45closed", book)
    found = next(s for s in shop_now(book).standings() if s.feature == "sled.detent-angle@45closed")
    assert abs(found.x.value) < math.radians(0.02) and found.next is not None and found.next.do == "measure"
