"""What is asked about kept rows when a slip explains a run best, and the mend that an answer asks for.

A mend is rows like any other: a move taken back or put right, a move recorded late, a run read the other way round,
readings added to the run whose strip they are of. So nothing is lost, and what is believed follows from the rows alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from trued.advice.slip_question import (
    CODE,
    ENDS,
    ENDS_BEFORE,
    FORGOT,
    ONCE,
    OTHER_WAY,
    SAME,
    STILL,
    TENFOLD,
    TENTH,
    mend_of,
)
from trued.errors import InputRefused, Question
from trued.procedure import take
from trued.standing.feature import feature_of, said
from trued.standing.filtered.filtered_feature import FilteredFeature
from trued.standing.filtered.slip import Arm, Case
from trued.usecases.changes.adjustments import to_type
from trued.usecases.shop.list_checks import one_check
from trued.usecases.shop.shop_now import ShopNow, as_check

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.rows import MoveRow, ReadingRow, StoredRun


def slip_questions(now: ShopNow) -> Iterator[Question]:
    """One for each run that a slip explains best."""
    asked: dict[str, Question] = {}
    for standing in now.standings():
        if standing.asked is not None:
            asked.setdefault(standing.asked.about, standing.asked)
    yield from asked.values()


def mend(book: Book, now: ShopNow, question: Question, word: str) -> str:
    """Do what the answer asks for; what was done, "" where nothing was to be done. Done twice it is done once."""
    held = _held(now, question) if question.code == CODE else None
    if held is None:
        return ""
    feature, arm = held
    case = mend_of(arm, word)
    if case is None:
        return ""
    if word == FORGOT:
        return _recorded(book, now, feature, arm, case)
    if word == SAME:
        return read_again(book, arm.run_before, arm.run)
    if word in (ENDS, ENDS_BEFORE):
        return _changed_over(book, case.about)
    if word in (ONCE, STILL):
        gone = [case.about] if word == ONCE else [move.id for move in arm.moves]
        return " ".join(_taken_back(book, id) for id in gone)
    return _put_right(book, now, case.about, word) if word in (TENTH, TENFOLD, OTHER_WAY) else ""


def _held(now: ShopNow, question: Question) -> tuple[str, Arm] | None:
    """The feature whose run is asked about, and its arm."""
    for standing in now.standings():
        state = now.known.features.get(standing.feature)
        if standing.asked == question and isinstance(state, FilteredFeature) and state.arm is not None:
            return standing.feature, state.arm
    return None


def _recorded(book: Book, now: ShopNow, feature: str, arm: Arm, case: Case) -> str:
    """The move that was made and not written down, just before the run that shows it."""
    from trued.store.ids import id_under
    from trued.store.rows import MoveRow
    from trued.usecases.changes.record_move import amount_of

    known = feature_of(feature)
    ways = known.directions or ("", "")
    typed, way = to_type(abs(case.u), feature, known.unit, now.shop), ways[0] if case.u > 0.0 else ways[1]
    amount, at = amount_of(known, feature, typed, now.shop), _between(book, arm)
    book.add_move(MoveRow(id_under(arm.run, "a move not recorded"), feature, at, typed, amount, known.unit, way))
    return f"Recorded: {said(feature)}, {way.replace('-', ' ')} by {typed}."


def _between(book: Book, arm: Arm) -> datetime:
    """A moment after the run before and before this one; where they say the same moment, that."""
    before, after = book.run(arm.run_before), book.run(arm.run)
    if after is None:
        raise LookupError(arm.run)
    earlier = before.run.taken if before is not None else after.run.taken - timedelta(minutes=2)
    return earlier + (after.run.taken - earlier) / 2


def _move(book: Book, id: str) -> MoveRow | None:
    return next((move for move in book.moves() if move.id == id), None)


def _taken_back(book: Book, id: str) -> str:
    from trued.store.ids import id_under

    move = _move(book, id)
    if move is None:
        return ""
    book.add_move(replace(move, id=id_under(id, "taken back"), supersedes=id, withdrawn=True))
    return f"Taken back: {said(move.feature)}, {move.direction.replace('-', ' ')} by {move.typed}."


def _put_right(book: Book, now: ShopNow, id: str, word: str) -> str:
    """The same move with its point or its way put right."""
    from trued.store.ids import id_under
    from trued.usecases.changes.record_move import amount_of

    move = _move(book, id)
    if move is None:
        return ""
    known, typed, way, amount = feature_of(move.feature), move.typed, move.direction, move.amount
    if word == OTHER_WAY:
        way = next(other for other in known.directions or (way,) if other != way)
    else:
        typed = to_type(move.amount * (0.1 if word == TENTH else 10.0), move.feature, known.unit, now.shop)
        amount = amount_of(known, move.feature, typed, now.shop)
    right = replace(move, id=id_under(id, word), supersedes=id, typed=typed, direction=way, amount=amount)
    book.add_move(right)
    return f"Put right: {said(move.feature)}, {way.replace('-', ' ')} by {typed}."


def _changed_over(book: Book, id: str) -> str:
    """The run with its two ends changed over; one whose check has no such two is taken back, to be typed again."""
    from trued.store.ids import id_under

    stored = book.run(id)
    if stored is None:
        return ""
    ends, new = one_check(stored.run.check).ends, id_under(id, "ends changed over")
    run = replace(stored.run, id=new, supersedes=id)
    if ends is None:
        book.add_run(replace(run, withdrawn=True))
        return "Taken back: that run. Type it again, the right way round."
    other = dict(zip(ends, reversed(ends), strict=True))
    readings = [
        replace(r, id=id_under(new, f"reading {r.seq}"), run=new, name=other.get(r.name, r.name), supersedes=None)
        for r in stored.readings
    ]
    book.add_run(run, readings)
    return f"Changed over: {ends[0].replace('_', ' ')} and {ends[1].replace('_', ' ')} of that run."


def read_again(book: Book, strip: str, again: str) -> str:
    """A kept run that was the strip of another one, read again: its readings go to that one."""
    from trued.store.ids import id_under

    first, second = book.run(strip), book.run(again)
    if first is None or second is None:
        return ""
    with suppress(InputRefused):  # as many as the check takes are there already: this one is only taken back
        add_readings(book, first, second)
    book.add_run(replace(second.run, id=id_under(again, "read again"), supersedes=again, withdrawn=True))
    return "Its readings were added to the run before."


def add_readings(book: Book, first: StoredRun, second: StoredRun) -> StoredRun:
    """More readings of the same strip: they make its reading better, and say nothing of how strips repeat. The run with
    all of them; InputRefused when the check does not take so many."""
    from trued.store.ids import id_under
    from trued.store.rows import StoredRun

    last = max((r.seq for r in first.readings), default=-1)
    rows = [
        replace(
            r,
            id=id_under(second.run.id, f"again {n - 1}"),
            run=first.run.id,
            seq=last + n,
            typed=_in_unit_of(first, r),
            supersedes=None,
        )
        for n, r in enumerate(second.readings, 1)
    ]
    both = StoredRun(first.run, (*first.readings, *rows))
    check, typed, facts = as_check(both)
    take(check, typed, facts, instruments=book.shop().instruments, unit="mm" if first.run.unit == "mm" else "in")
    book.add_run(first.run, rows)
    return both


def _in_unit_of(first: StoredRun, reading: ReadingRow) -> str:
    """A bare number means what it meant in the run it was typed in."""
    bare = not any(sign.isalpha() or sign in "\"'°" for sign in reading.typed)
    return f"{reading.typed} {reading.unit}" if bare and reading.unit != first.run.unit else reading.typed
