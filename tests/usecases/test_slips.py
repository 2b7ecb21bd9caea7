"""A slip with a move, from the question to its mend, through the book as a person uses it.

The shop is the example's. Strip 12 in long: a taper of 0.096 in is 2e-3 rad (0.096 / (4 × 12)).
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.shop.standing import Standing
from trued.usecases.answer import answer
from trued.usecases.describe_shop import describe_shop
from trued.usecases.record_move import record_move
from trued.usecases.run_check import run_check
from trued.usecases.shop_now import opened, shop_now
from trued.usecases.standing import what_stands
from trued.usecases.take_back import last_kept

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"
FENCE = "sled.fence-angle@0"
BEGIN = datetime(2026, 9, 4, 9, 0, tzinfo=UTC)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "shop.trued"
    describe_shop(SHOP, path)
    return path


def at(minutes: float) -> datetime:
    return BEGIN + timedelta(minutes=minutes)


def strip(taper: float, wide: float = 1.012) -> tuple[str, ...]:
    ends = (wide, wide, wide + taper, wide + taper)
    names = ("fence_end", "fence_end", "free_end", "free_end")
    return (*(f"{name}={width:.4f}" for name, width in zip(names, ends, strict=True)), "length=12")


def cut(book: Path, taper: float, minutes: float, key: str = "") -> str:
    run = run_check("five-cut", strip(taper), {}, book=book, at=at(minutes), key=key * 32 or None).run
    assert run is not None
    return run


def fence(book: Path) -> Standing:
    return next(s for s in shop_now(book).standings() if s.feature == FENCE)


def radius_in(book: Path) -> float:
    mm = shop_now(book).shop.fixture("sled").number("radius")
    assert mm is not None
    return mm / 25.4


def turn(book: Path, rad: float, minutes: float, way: str = "open") -> str:
    return record_move("fence-angle", way, f"{rad * radius_in(book):.4f}", book, at=at(minutes)).id


TAPER = 0.096  # 2e-3 rad in 12 in
FULL = 2e-3


def asked(book: Path) -> tuple[str, str]:
    """What is asked about which run, and the first answer."""
    (question,) = what_stands(book).questions
    return question.about, question.choices[0][0]


def same_belief(one: Standing, two: Standing) -> None:
    assert one.x.value == pytest.approx(two.x.value, abs=2e-5)
    assert one.response is not None and two.response is not None
    assert one.response[0] == pytest.approx(two.response[0], abs=0.03)


def clean(tmp_path: Path, *, ends: float = 0.002) -> Standing:
    """The same session in which nothing slipped."""
    book = tmp_path / "clean.trued"
    describe_shop(SHOP, book)
    cut(book, TAPER, 0)
    turn(book, FULL * 0.92, 20)
    cut(book, ends, 40)
    return fence(book)


def test_a_move_that_was_not_recorded(book: Path, tmp_path: Path) -> None:
    cut(book, TAPER, 0)
    run = cut(book, 0.002, 40)
    assert asked(book) == (run, "forgot")
    assert fence(book).response == pytest.approx((1.0, 0.3))
    view = answer(run[:8], "forgot", book)
    assert view.mended.startswith("Recorded: angle of the fence") and what_stands(book).questions == ()
    same_belief(fence(book), clean(tmp_path))
    with opened(book) as kept:
        (move,) = kept.moves()
    assert at(0) < move.at < at(40) and move.direction == "open"


def test_a_move_recorded_twice(book: Path, tmp_path: Path) -> None:
    cut(book, TAPER, 0)
    turn(book, FULL * 0.92, 20)
    record_move("fence-angle", "open", f"{FULL * 0.92 * radius_in(book):.4f}", book, at=at(21), answers=("twice",))
    run = cut(book, 0.002, 40)
    assert asked(book) == (run, "once")
    assert answer(run[:8], "once", book).mended.startswith("Taken back")
    same_belief(fence(book), clean(tmp_path))


def test_a_move_ten_times_too_big(book: Path, tmp_path: Path) -> None:
    cut(book, TAPER, 0)
    record_move("fence-angle", "open", f"{FULL * 9.2 * radius_in(book):.4f}", book, at=at(20), answers=("typed",))
    run = cut(book, 0.002, 40)
    assert asked(book) == (run, "tenth")
    assert answer(run[:8], "tenth", book).mended.startswith("Put right")
    same_belief(fence(book), clean(tmp_path))


def test_the_other_way(book: Path) -> None:
    cut(book, TAPER, 0)
    turn(book, FULL * 0.92, 20)
    run = cut(book, TAPER * 1.92, 40)
    assert asked(book) == (run, "other-way")
    answer(run[:8], "other-way", book)
    with opened(book) as kept:
        (move,) = kept.moves()
    assert move.direction == "close" and fence(book).asked is None
    assert fence(book).response == pytest.approx((1.0, 0.1), abs=0.1)


def test_ends_of_a_strip_changed_over(book: Path) -> None:
    """Untouched, the contrary of the strip before."""
    cut(book, TAPER, 0)
    run = cut(book, -TAPER * 1.01, 20)
    assert asked(book) == (run, "ends")
    assert fence(book).x.value == pytest.approx(FULL, rel=0.05)  # it waits, and moves nothing
    assert answer(run[:8], "ends", book).mended == "Changed over: fence end and free end of that run."
    now = fence(book)
    assert now.asked is None and now.runs == 2 and now.x.value == pytest.approx(FULL, rel=0.05)


def test_a_screw_that_did_not_touch(book: Path) -> None:
    cut(book, TAPER, 0)
    turn(book, FULL * 0.92, 20)
    run = cut(book, TAPER * 1.04, 40)
    assert asked(book) == (run, "still")
    answer(run[:8], "still", book)
    with opened(book) as kept:
        assert kept.moves() == ()
    now = fence(book)
    assert now.asked is None and now.response == pytest.approx((1.0, 0.3)) and now.runs == 2


def test_all_is_right_as_it_stands(book: Path) -> None:
    """A screw that works the other way round: asked once, then believed."""
    cut(book, TAPER, 0)
    turn(book, FULL * 0.92, 20)
    run = cut(book, TAPER * 1.92, 40)
    view = answer(run[:8], "right", book)
    assert view.mended == ""
    now = fence(book)
    assert now.asked is None and now.response is not None and now.response[0] == pytest.approx(-1.0, abs=0.2)
    assert now.next is not None and now.next.direction == "close"


def test_an_answer_taken_back_is_asked_again(book: Path) -> None:
    from trued.usecases.take_back import take_back

    cut(book, TAPER, 0)
    run = cut(book, 0.002, 40)
    view = answer(run[:8], "right", book)
    assert what_stands(book).questions == ()
    take_back(view.id[:8], book)
    assert asked(book) == (run, "forgot")


def test_what_was_mended_stands_among_what_was_kept(book: Path) -> None:
    cut(book, TAPER, 0)
    run = cut(book, 0.002, 40)
    answer(run[:8], "forgot", book)
    kinds = [one.kind for one in last_kept(book)]
    assert kinds.count("move") == 1 and kinds.count("run") == 2
