"""A book's standings with what was kept of it and without: the same, also after a late row and a correction."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.equipment.file.read_shop import read_shop
from trued.store.ids import new_id
from trued.store.rows import EventRow, MoveRow, ReadingRow, RunRow
from trued.usecases.shop import shop_now as module
from trued.usecases.shop import state_cache as kept_known
from trued.usecases.shop.shop_now import opened, read_now, shop_now
from trued.usecases.standing.feature_history import feature_history

BEGIN = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
FENCE = "sled.fence-angle@0"
SHOP = read_shop(
    'trued = 1\nname = "own"\nunit = "in"\n[[fixture]]\nid = "sled"\nkind = "crosscut-sled"\n'
    'fence = "far"\nkeeper = "left"\nradius = "18"\n'
)


def _run(n: int, free: float) -> tuple[RunRow, tuple[ReadingRow, ...]]:
    at = BEGIN + timedelta(hours=n)
    run = RunRow(new_id(), "five-cut", 1, at, at, fixture="sled")
    typed = {"fence_end": "1.0000", "free_end": f"{free:.4f}", "length": "12"}
    readings = (ReadingRow(new_id(), run.id, i, k, v, at, at) for i, (k, v) in enumerate(typed.items()))
    return run, tuple(readings)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "shop.trued"
    with opened(path, create=True) as kept:
        kept.save_shop(SHOP)
        for n in range(60):
            kept.add_run(*_run(n, 1.0 + 0.001 * (n % 7)))
            if n % 20 == 19:
                at = BEGIN + timedelta(hours=n, minutes=30)
                kept.add_move(MoveRow(new_id(), FENCE, at, "0.001", 5e-5, "rad", "open"))
    return path


def _now(path: Path, hours: float = 100.0) -> datetime:
    del path
    return BEGIN + timedelta(hours=hours)


def _from_nothing(path: Path, monkeypatch: pytest.MonkeyPatch, hours: float = 100.0) -> object:
    with monkeypatch.context() as without:
        without.setattr(kept_known, "_read", lambda *_: None)
        without.setattr(kept_known, "WORTH", 10**9)
        return shop_now(path, _now(path, hours)).standings()


def test_kept_is_the_same_as_from_nothing(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = shop_now(book, _now(book)).standings()
    with opened(book) as kept:
        assert kept.state(kept_known.LAST) is not None
        kept.add_run(*_run(70, 1.002))
        tail = kept.history(since=kept.state(kept_known.LAST).upto)  # type: ignore[union-attr]
        assert len(tail.runs) == 1
    second = shop_now(book, _now(book)).standings()
    assert second != first and second == _from_nothing(book, monkeypatch)


def test_a_late_row_and_a_correction_are_not_missed(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shop_now(book, _now(book))
    with opened(book) as kept:
        kept.add_event(EventRow(new_id(), "saw-carried", BEGIN + timedelta(hours=30, minutes=10)))
        assert kept.state(kept_known.LAST) is None
    late = shop_now(book, _now(book)).standings()
    assert late == _from_nothing(book, monkeypatch)
    with opened(book) as kept:
        last = kept.runs()[-1].readings[1]
        at = _now(book)
        kept.correct_reading(replace(last, id=new_id(), typed="1.0100", taken=at, received=at, supersedes=last.id))
    corrected = shop_now(book, _now(book)).standings()
    assert corrected != late and corrected == _from_nothing(book, monkeypatch)


def test_the_past_is_not_told_by_what_came_later(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shop_now(book, _now(book))
    then = shop_now(book, _now(book, 10.2))
    assert then.standings() == _from_nothing(book, monkeypatch, 10.2)
    assert len(then.history.observed) == 11


def test_marks_are_kept_on_the_way(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept_known, "EVERY", 25)
    shop_now(book, _now(book))
    with opened(book) as kept:
        mark = kept.state(kept_known.MARK)
        assert mark is not None and mark.upto < BEGIN + timedelta(hours=60)
        kept.add_run(*_run(58, 1.003))
        assert kept.state(kept_known.LAST) is None and kept.state(kept_known.MARK) == mark
    assert shop_now(book, _now(book)).standings() == _from_nothing(book, monkeypatch)


def test_what_no_longer_fits_is_worked_out_anew(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shop_now(book, _now(book))
    monkeypatch.setattr(kept_known, "VERSION", -1)
    with opened(book) as kept:
        assert read_now(kept, book, _now(book)).known.rows == 63
    with opened(book) as kept:
        state = kept.state(kept_known.LAST)
        assert state is not None
        kept.keep_state(replace(state, json="{"), alone=True)
    assert shop_now(book, _now(book)).standings() == _from_nothing(book, monkeypatch)


def test_the_history_of_a_feature(book: Path) -> None:
    told = feature_history(FENCE, book, at=_now(book))
    assert [line.kind for line in told.lines].count("finding") == 60
    assert [line.kind for line in told.lines].count("move") == 3
    assert told.drawing.title.startswith("History of fence angle") and told.standing.feature == FENCE


def test_a_feature_without_history_is_refused_with_the_nearest(book: Path) -> None:
    from trued.errors import InputRefused

    with pytest.raises(InputRefused, match=r"sled\.fence-angle@0"):
        feature_history("sled.fence-angel@0", book, at=_now(book))


def test_a_long_history_is_read_in_parts(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with opened(book) as kept:
        kept.add_run(*_run(31, 1.004))  # at the same hour as another run
    whole = _from_nothing(book, monkeypatch)
    monkeypatch.setattr(module, "AT_ONCE", 7)
    assert shop_now(book, _now(book)).standings() == whole == shop_now(book, _now(book)).standings()


def test_a_run_that_cannot_be_worked_out_is_named_once(book: Path) -> None:
    with opened(book) as kept:
        run, readings = _run(80, 1.0)
        kept.add_run(run, (replace(readings[0], typed="a lot"), *readings[1:]))
    first, again = shop_now(book, _now(book)), shop_now(book, _now(book))
    assert len(first.left_out) == 1 and again.left_out == first.left_out
