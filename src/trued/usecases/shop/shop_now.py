"""A shop as its book tells it at one moment: the description, the history worked out again, the standings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from trued.advice.closures import FOR_RIPS, INSERT, Closed, closed_of
from trued.advice.statuses import standings_of
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import Instrument
from trued.procedure import Check, Flag, Severity, noticed, take, turn_of
from trued.standing.cuts.cut_errors import CutErrors, cut_errors
from trued.standing.cuts.instruments import with_own_repeat
from trued.standing.feature import feature_of, full_name
from trued.standing.feature_status import FeatureStatus
from trued.standing.filtered.filtered_feature import FilteredFeature
from trued.standing.history.history import Adjustment, Answered, History, Result, ShopEvent, Warned
from trued.standing.learned.learned_state import LearnedState
from trued.standing.owner import owner_of
from trued.standing.stop_history import OFFSET
from trued.units import Unit
from trued.usecases.shop.list_checks import one_check
from trued.usecases.shop.measured_parts import by_setting, set_parts, taught, told_by_hand
from trued.usecases.shop.state_cache import OWN_REPEAT, latest, take_all, take_some
from trued.usecases.shop.untold_detents import detent_words, move_told, told_facts

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.rows import HistoryRows, StoredRun

PROOF = "proof"
SELF_CHECK = "caliper"
AT_ONCE = 4000  # runs that are read at once
RIGHT, ANEW = ("slip", "confirm"), ("same-strip",)  # questions: an answered run counts as it stands, was cut anew


@dataclass(frozen=True)
class ShopNow:
    """What is known at `now`. `left_out` names runs that can no longer be worked out, and why.

    instruments: the shop's own, each with the repeat that its own check has found of it. looked_back: `now` was told,
    so that what is later is no matter.
    """

    path: Path
    shop: Shop
    known: LearnedState
    now: datetime
    left_out: tuple[str, ...] = ()
    instruments: tuple[Instrument, ...] = ()
    looked_back: bool = False

    @property
    def unit(self) -> Unit:
        """What a bare number of this shop means."""
        return self.shop.unit

    @cached_property
    def history(self) -> History:
        """Every finding, move and event until `now`: read when it is asked for, for what is known needs it not."""
        with opened(self.path) as book:
            return history_of(book.history(until=self.now), self.shop, self.instruments)[0]

    @cached_property
    def closed(self) -> tuple[Closed, ...]:
        """What stays closed, from the runs of the checks that show it."""
        from trued.store.rows import HistoryRows

        checks = {id: one_check(id) for id in dict.fromkeys(feature_of(bare).check for bare in (*FOR_RIPS, *INSERT))}
        with opened(self.path) as kept:
            runs = tuple(run for id in checks for run in kept.runs(check=id, until=self.now))
            rows = HistoryRows(runs, kept.moves(until=self.now), kept.events(until=self.now), kept.answers())
        history, _ = history_of(rows, self.shop, self.instruments)
        starts = {id: check.between_runs.start for id, check in checks.items() if check.between_runs is not None}
        return closed_of(history, self.now, self.shop, starts)

    def scatter(self, check: Check, thing: str) -> EstimatedSd | None:
        """What is known of the scatter between runs of a check with one thing."""
        start = check.between_runs.start if check.between_runs is not None else None
        return self.known.scatter(check.id, thing) or start

    def standings(self, limits: Mapping[str, ToleranceLimits] | None = None) -> tuple[FeatureStatus, ...]:
        """What is believed of every feature that was found."""
        from trued.usecases.shop.forbidden_work import withheld

        found = standings_of(self.known, self.now, limits=limits, shop=self.shop)
        return withheld(self.shop, found, lambda: self.closed)

    def set_aside(self, feature: str) -> tuple[str, ...]:
        """Runs that do not count for a feature since it was last touched."""
        state = self.known.features.get(feature)
        return tuple(aside.run for aside in state.aside) if isinstance(state, FilteredFeature) else ()

    def holds(self, fixture: str = "", kerf_mm: float | None = None) -> CutErrors:
        """What the saw holds for cuts made now."""
        return cut_errors(self.shop, self.standings(), fixture=fixture, kerf_mm=kerf_mm)


@contextmanager
def opened(path: Path, *, create: bool = False) -> Iterator[Book]:
    """The book, open; BookRefused in a sentence."""
    from trued.store.opening import open_book

    with open_book(path, create=create) as book:
        yield book


def shop_now(path: Path, now: datetime | None = None) -> ShopNow:
    """Read a whole book."""
    with opened(path) as book:
        return read_now(book, path, now)


def read_now(book: Book, path: Path, now: datetime | None = None) -> ShopNow:
    """The same from a book that is open already."""
    at = now or datetime.now(UTC)
    shop = book.shop()
    instruments = instruments_of(book, shop, at)
    kept = latest(book, shop, instruments, at, answers=book.answers(until=at))
    for rows in _in_parts(book, kept.known.upto, at):
        history, left_out = history_of(rows, shop, instruments)
        take_all(book, kept, kept.go_on(history, left_out))
    return ShopNow(path, shop, kept.known, at, kept.left_out, instruments, now is not None)


def _in_parts(book: Book, since: datetime | None, until: datetime) -> Iterator[HistoryRows]:
    """What is later, some thousand runs at a time: a long history would not fit into the memory."""
    while (part := book.time_of_run(AT_ONCE, since=since, until=until)) is not None:
        yield book.history(until=part, since=since, answers_until=until)
        since = part
    yield book.history(until=until, since=since)


def instruments_of(book: Book, shop: Shop, now: datetime) -> tuple[Instrument, ...]:
    """The shop's instruments, with the repeat that the check of caliper and tape has found of them by `now`."""
    from trued.store.rows import HistoryRows

    kept = latest(book, shop, shop.instruments, now, (OWN_REPEAT,), book.answers(until=now))
    runs = book.runs(check=SELF_CHECK, until=now, since=kept.known.upto)
    if not runs and not kept.known.rows:
        return shop.instruments
    checked, _ = history_of(
        HistoryRows(runs, (), book.events(until=now, since=kept.known.upto), book.answers(until=now)),
        shop,
        shop.instruments,
    )
    take_some(book, kept, kept.go_on(checked, ()), OWN_REPEAT)
    return with_own_repeat(shop.instruments, standings_of(kept.known, now, shop=shop))


def history_of(rows: HistoryRows, shop: Shop, instruments: Sequence[Instrument]) -> tuple[History, tuple[str, ...]]:
    """Every run worked out again from its readings as typed; a run that no longer can be is named, not dropped."""
    observed: list[Result] = []
    left_out: list[str] = []
    told: dict[str, dict[str, str]] = {}
    for answer in rows.answers:
        told.setdefault(answer.about, {})[answer.code] = answer.word
    detents = detent_words(rows.answers)
    for stored in rows.runs:
        try:
            observed += observations(stored, shop, instruments, told.get(stored.run.id, {}), detents)
        except InputRefused as refused:
            left_out.append(f"{stored.run.check} of {stored.run.taken:%Y-%m-%d}: {refused}")
    came = rows.arrived
    moved = tuple(
        Adjustment(m.at, move_told(m.feature, detents), m.amount, m.direction, m.typed, m.id, arrived=came.get(m.id, 0))
        for m in rows.moves
    )
    happened = tuple(ShopEvent(e.at, e.kind, e.subject, e.id, arrived=came.get(e.id, 0)) for e in rows.events)
    observed = [replace(row, arrived=came[row.run]) if row.run in came else row for row in observed]
    answered = tuple(Answered(a.at, a.about, a.code, a.word, a.id) for a in rows.answers)
    right, anew = ({a.about for a in answered if a.code in codes} for codes in (RIGHT, ANEW))
    observed = [replace(row, right=row.run in right, anew=row.run in anew) for row in observed]
    return History(tuple(observed), moved, happened, answered), tuple(left_out)


def observations(
    stored: StoredRun,
    shop: Shop,
    instruments: Sequence[Instrument],
    told: Mapping[str, str] | None = None,
    detents: Mapping[str, str] | None = None,
) -> tuple[Result, ...]:
    """What one kept run found, feature by feature; `told` is what the person has answered about it, by code, `detents`
    at which detent the runs of a fixture were that did not say it."""
    run = stored.run
    check, typed, facts = as_check(stored)
    if not typed:
        return ()
    unit: Unit = "mm" if run.unit == "mm" else "in"
    taken = take(check, typed, facts, instruments=instruments, unit=unit)
    turn = turn_of(check, told_facts(stored, detents or {}))
    seen = noticed(taken) if run.check != PROOF else []
    doubts = _of(Severity.DOUBT, seen)
    cuts = check.parts(taken) if check.parts is not None else ()
    if run.check == PROOF and told:
        cuts = told_by_hand(cuts, by_setting(set_parts(stored)), told)
    return tuple(
        Result(
            run.taken,
            full_name(owner_of(found.feature, shop, run.fixture), found.feature, turn),
            found.unit,
            found.value,
            check.id,
            run.id,
            found.limits,
            doubts=doubts,
            dangers=_of(Severity.DANGER, [one for one in seen if one.is_about(found.feature)]),
            cuts=cuts if found.feature == OFFSET else (),
        )
        for found in (taught(taken) if run.check == PROOF else check.evaluate(taken))
    )


def _of(act: Severity, seen: Sequence[Flag]) -> tuple[Warned, ...]:
    """What the readings of a run show against it, or what of them can hurt someone."""
    return tuple((one.code, one.text) for one in seen if one.act is act)


def as_check(stored: StoredRun) -> tuple[Check, tuple[str, ...], Mapping[str, str]]:
    """A measured part is a reading of the stop's scale: the length found where the stop was set to."""
    run = stored.run
    if run.check != PROOF:
        return one_check(run.check), stored.as_typed, run.facts
    return one_check("stop-scale"), tuple(part.typed for part in set_parts(stored)), {}
