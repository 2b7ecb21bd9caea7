"""A slip with a move, from the question to its mend, through the book as a person uses it.

The shop is the example's. Strip 12 in long: a taper of 0.096 in is 2e-3 rad (0.096 / (4 × 12)).
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.errors import Asks
from trued.measure.decision import Conformity
from trued.measure.estimate import UncertainValue
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.usecases.changes.answer import answer
from trued.usecases.changes.record_move import record_move
from trued.usecases.changes.undo import last_kept
from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.shop_now import opened, shop_now
from trued.usecases.standing.standing import what_stands

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


def fence(book: Path) -> FeatureStatus:
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


def same_belief(one: FeatureStatus, two: FeatureStatus) -> None:
    assert one.x.value == pytest.approx(two.x.value, abs=2e-5)
    assert one.response is not None and two.response is not None
    assert one.response[0] == pytest.approx(two.response[0], abs=0.03)


def clean(tmp_path: Path, *, ends: float = 0.002) -> FeatureStatus:
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
    assert view.mended.startswith("Recorded: fence angle") and what_stands(book).questions == ()
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
    assert what_stands(book).questions[0].text == "Were the two ends of a strip swapped?"
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
    from trued.usecases.changes.undo import take_back

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


# --- asked before it is kept


def codes(asks: Asks) -> list[tuple[str, list[str]]]:
    return [(question.code, [word for word, _ in question.choices]) for question in asks.questions]


@pytest.mark.parametrize(("way", "share"), [("open", 9.2), ("open", 0.09), ("close", 0.92)])
def test_a_move_far_from_what_was_told_is_asked_and_nothing_is_kept(book: Path, way: str, share: float) -> None:
    cut(book, TAPER, 0)
    with pytest.raises(Asks) as caught:
        turn(book, FULL * share, 20, way)
    assert codes(caught.value) == [("move-unlike-told", ["told", "typed"])]
    with opened(book) as kept:
        assert kept.moves() == () and kept.answers() == ()


@pytest.mark.parametrize("share", [0.45, 0.92, 2.0])
def test_half_and_double_are_a_person_s_choice(book: Path, share: float) -> None:
    cut(book, TAPER, 0)
    assert turn(book, FULL * share, 20)


def test_as_told_or_as_typed(book: Path, tmp_path: Path) -> None:
    cut(book, TAPER, 0)
    advised = fence(book).next
    assert advised is not None and advised.amount is not None
    typed = f"{FULL * 9.2 * radius_in(book):.4f}"
    told = record_move("fence-angle", "open", typed, book, at=at(20), answers=("told",))
    assert told.amount == pytest.approx(advised.amount, rel=0.03) and told.direction == "open"
    other = tmp_path / "other.trued"
    describe_shop(SHOP, other)
    cut(other, TAPER, 0)
    assert record_move("fence-angle", "open", typed, other, at=at(20), answers=("typed",)).amount == pytest.approx(
        FULL * 9.2, rel=0.01
    )


def test_where_nothing_is_to_be_turned_a_large_move_is_asked(book: Path) -> None:
    cut(book, 0.0005, 0)
    assert fence(book).next is not None and fence(book).next.do is not ActionKind.MOVE  # type: ignore[union-attr]
    with pytest.raises(Asks) as caught:
        turn(book, FULL, 20)
    assert codes(caught.value) == [("move-unlike-told", ["typed"])]


def test_the_same_move_again_is_made_once_or_twice(book: Path) -> None:
    cut(book, TAPER, 0)
    first = turn(book, FULL * 0.92, 20)
    again = f"{FULL * 0.92 * radius_in(book):.4f}"
    with pytest.raises(Asks) as caught:
        record_move("fence-angle", "open", again, book, at=at(21))
    assert codes(caught.value) == [("move-again", ["once", "twice"])]
    assert record_move("fence-angle", "open", again, book, at=at(21), answers=("once",)).id == first
    with opened(book) as kept:
        assert len(kept.moves()) == 1
    record_move("fence-angle", "open", again, book, at=at(21), answers=("twice",))
    with opened(book) as kept:
        assert len(kept.moves()) == 2


def test_after_a_run_the_same_move_is_no_wonder(book: Path) -> None:
    cut(book, TAPER, 0)
    turn(book, FULL * 0.46, 20)
    cut(book, TAPER * 0.55, 40)
    assert turn(book, FULL * 0.46, 50)


@pytest.mark.parametrize(("taper", "minutes"), [(0.0010, 3.0), (0.0005, 60.0)])
def test_a_run_too_soon_or_with_the_same_readings_is_asked(book: Path, taper: float, minutes: float) -> None:
    """The finding: today one strip read twice proved the fence in 225 of 300 shops."""
    first = cut(book, 0.0005, 0)
    with pytest.raises(Asks) as caught:
        cut(book, taper, minutes)
    assert codes(caught.value) == [("same-strip", ["anew", "same"])]
    view = run_check("five-cut", strip(taper), {}, book=book, at=at(minutes), answers=("same",))
    assert view.run == first
    with opened(book) as kept:
        (run,) = kept.runs()
    assert len(run.readings) == 10
    now = fence(book)
    scatter = shop_now(book).known.scatter("five-cut", "sled")
    assert now.decision is Conformity.NOT_PROVEN and scatter is not None and scatter.pairs == 0
    assert now.x.value == pytest.approx((0.0005 + taper) / 2 / 48, abs=1e-9)


def test_a_strip_read_again_is_read_better_but_no_surer_of_the_next(book: Path) -> None:
    """Four readings more at the same ends: of the variance only the part of the reading goes down, to the half."""
    cut(book, 0.0005, 0)
    once = fence(book).x
    run_check("five-cut", strip(0.0005), {}, book=book, at=at(3), answers=("same",))
    again = fence(book).x

    def part(x: UncertainValue, key: str) -> float:
        return sum((c * s.u) ** 2 for s, c in x.parts.items() if s.key.startswith(key))

    assert part(again, "run:") == pytest.approx(part(once, "run:"))
    assert part(again, "reading:") < 0.7 * part(once, "reading:")


def test_a_run_cut_anew_is_an_untouched_pair(book: Path) -> None:
    cut(book, 0.0005, 0)
    run_check("five-cut", strip(0.0010), {}, book=book, at=at(3), answers=("anew",))
    scatter = shop_now(book).known.scatter("five-cut", "sled")
    assert scatter is not None and scatter.pairs == 1 and fence(book).asked is None


def test_the_same_strip_sent_twice_is_added_once(book: Path) -> None:
    cut(book, 0.0005, 0)
    for _ in range(2):
        run_check("five-cut", strip(0.0005), {}, book=book, at=at(3), key="e" * 32, answers=("same",))
    with opened(book) as kept:
        (run,) = kept.runs()
    assert len(run.readings) == 10


def test_a_run_in_its_own_time_is_not_asked_about(book: Path) -> None:
    cut(book, 0.0005, 0)
    assert cut(book, 0.0010, 15)


def test_a_second_move_far_beyond_the_first_is_asked(book: Path) -> None:
    """Ten times the move before it, the other way, and nothing measured between."""
    cut(book, TAPER, 0)
    turn(book, FULL * 0.92, 20)
    large = f"{9.2 * FULL * radius_in(book):.4f}"
    with pytest.raises(Asks) as caught:
        record_move("fence-angle", "close", large, book, at=at(21))
    assert codes(caught.value) == [("move-unlike-told", ["typed"])]
    small = f"{0.2 * FULL * radius_in(book):.4f}"
    record_move("fence-angle", "close", small, book, at=at(22))
    with opened(book) as kept:
        assert len(kept.moves()) == 2
