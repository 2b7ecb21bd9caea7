"""What a book's rows have taught, gone on from what was kept of it the last time."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from hashlib import sha256
from typing import TYPE_CHECKING

from trued.equipment.shop import Shop
from trued.errors import BookRefused, InputRefused
from trued.measure.instrument import Instrument
from trued.standing.history.history import History, Row, in_order
from trued.standing.history.old_names import OLD_NAMES
from trued.standing.learned.learned_state import LearnedState
from trued.standing.learned.state_codec import VERSION, decode, encode
from trued.standing.unconfirmed_runs import confirmed_by_hand
from trued.usecases.shop.list_checks import one_check

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.rows import AnswerRow

LAST, MARK, OWN_REPEAT = "shop", "shop:mark", "instruments"
"""Under these names the book keeps the latest, and one every so many rows for when a late row takes the latest away;
and by itself what the instruments' own check has taught."""
WORTH = 40  # rows; fewer are sooner read again than kept
EVERY = 4000


@dataclass(slots=True)
class CachedState:
    """What is known, and runs that could not be worked out. `fits` tells with which shop and instruments it was worked
    out, `versions` with which versions of the checks."""

    known: LearnedState
    left_out: tuple[str, ...]
    fits: str
    versions: dict[str, int] = field(default_factory=dict)

    def go_on(self, history: History, left_out: Sequence[str]) -> list[Row]:
        """Get ready for later rows; these in order."""
        self.left_out = tuple(dict.fromkeys((*self.left_out, *left_out)))  # one after the last row comes again
        for id in sorted({row.check for row in history.observed} - set(self.versions)):
            check = one_check(id)
            self.versions[id] = check.version
            if check.between_runs is not None:
                self.known.starts = {**self.known.starts, id: check.between_runs.start}
        self.known.confirmed = confirmed_by_hand(history)
        return list(in_order(history))

    def text(self) -> str:
        """All of it, to be read back."""
        told = {"fits": self.fits, "versions": self.versions, "left_out": self.left_out, "known": encode(self.known)}
        return json.dumps(told)


def latest(
    book: Book,
    shop: Shop,
    instruments: Sequence[Instrument],
    until: datetime,
    names: Sequence[str] = (LAST, MARK),
    answers: Sequence[AnswerRow] = (),
) -> CachedState:
    """The latest that was kept and still fits; else what is known before any row. `answers` are those given `until`
    then: what was worked out with others no longer fits."""
    fits = _fits(shop, instruments, answers)
    for name in names:
        row = book.state(name, until=until)
        found = _read(row.json, fits) if row is not None else None
        if found is not None:
            return found
    zero_stops = tuple(fixture.id for fixture in shop.fixtures if fixture.word("screw_moves") == "zero-stop")
    return CachedState(LearnedState(zero_stops=zero_stops), (), fits)


def take_all(book: Book, kept: CachedState, rows: Sequence[Row]) -> None:
    """Take the rows, and keep what is known now and then. A book that cannot be written to is only slower."""
    start = 0
    while start < len(rows):
        end = _end_of_part(rows, start + EVERY)
        kept.known.take_all(rows[start:end])
        if end < len(rows):
            _keep(book, kept, MARK)
        start = end
    if len(rows) >= WORTH:
        _keep(book, kept, LAST)


def _end_of_part(rows: Sequence[Row], end: int) -> int:
    """The first place from there on at which time goes on: rows of one moment, as those of one run, stay together."""
    while end < len(rows) and rows[end].at == rows[end - 1].at:
        end += 1
    return min(end, len(rows))


def take_some(book: Book, kept: CachedState, rows: Sequence[Row], name: str) -> None:
    """The same for the rows of one check, kept under a name of its own."""
    kept.known.take_all(rows)
    if len(rows) >= WORTH:
        _keep(book, kept, name)


def _keep(book: Book, kept: CachedState, name: str) -> None:
    from trued.store.rows import StateRow

    known = kept.known
    if known.upto is None:
        return
    try:
        book.keep_state(StateRow(name, known.upto, known.upto_id, kept.text()), alone=name != MARK)
    except (BookRefused, ValueError):
        return


def _read(text: str, fits: str) -> CachedState | None:
    """None for what no longer fits, or no longer is what this program keeps."""
    try:
        kept = json.loads(text)
        versions = dict(kept["versions"])
        if kept["fits"] != fits or any(one_check(id).version != version for id, version in versions.items()):
            return None
        return CachedState(decode(kept["known"]), tuple(kept["left_out"]), fits, versions)
    except (ValueError, KeyError, TypeError, InputRefused):
        return None


def _fits(shop: Shop, instruments: Sequence[Instrument], answers: Sequence[AnswerRow]) -> str:
    answered = tuple((answer.about, answer.code, answer.word) for answer in answers)
    return sha256(repr((VERSION, OLD_NAMES, shop, tuple(instruments), answered)).encode()).hexdigest()
