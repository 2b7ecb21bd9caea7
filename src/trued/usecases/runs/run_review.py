"""One kept run, worked out again as it stood when it was taken, and what is believed of its features now."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.drawing.shapes import Drawing
from trued.errors import InputRefused
from trued.measure.decision import Conformity
from trued.measure.series.dominant_error import DominantError
from trued.procedure import Finding, examine, take, turn_of
from trued.standing.feature import said
from trued.standing.owner import owner_of
from trued.units import Unit
from trued.usecases.changes.adjustments import amount_shown, amount_to_type, turned_at
from trued.usecases.runs.error_cause import cause_here
from trued.usecases.runs.keep_run import full_names, ground_of, moved_before
from trued.usecases.runs.taking import drawn
from trued.usecases.runs.verdict import Verdict, counted, ordered, verdict_of
from trued.usecases.shop.shop_now import PROOF, ShopNow, as_check, opened, read_now
from trued.usecases.shop.untold_detents import detent_words, told_facts
from trued.usecases.standing.action_queue import in_turn
from trued.usecases.standing.move_instructions import in_words

if TYPE_CHECKING:
    from trued.procedure import Check
    from trued.standing.feature_status import FeatureStatus
    from trued.store.rows import StoredRun


@dataclass(frozen=True, slots=True)
class OneRun:
    """A run as its page tells it.

    typed:     the readings as typed. finding: None when they can no longer be worked out; `refused` says why.
    names:     bare feature -> its name in words; full: bare feature -> its full name.
    latest:    nothing was found or turned since; only then does its advice still hold.
    standings: what is believed of its features now. amounts: full feature -> its next move, as it would be typed, as
               it is written large, and where it is measured.
    cause:     whether what is off comes from the saw or from measuring; None where an older run, or nothing, is off.
    waits:     it is in doubt and does not count yet: nothing is ordered from it.
    moved:     its features of which a move was recorded.
    """

    id: str
    check: Check
    taken: datetime
    fixture: str
    unit: Unit
    facts: Mapping[str, str]
    typed: tuple[str, ...]
    finding: Finding | None
    drawing: Drawing | None
    names: Mapping[str, str]
    full: Mapping[str, str]
    latest: bool
    standings: tuple[FeatureStatus, ...]
    amounts: Mapping[str, tuple[str, str, str]]
    refused: tuple[str, ...] = ()
    cause: DominantError | None = None
    waits: bool = False
    moved: frozenset[str] = frozenset()

    @property
    def verdict(self) -> Verdict | None:
        """What it comes to; None where it can no longer be worked out."""
        if self.finding is None:
            return None
        standings = self.standings if self.latest else ()
        return verdict_of(self.check, self.finding, standings, waits=self.waits)

    @property
    def first(self) -> FeatureStatus | None:
        """The feature whose next step comes first; where nothing is to be done, one of which that is said."""
        waiting = in_turn(self.standings)
        return next(iter(waiting), None) or next((s for s in self.standings if s.next is not None), None)

    @property
    def decided(self) -> Conformity | None:
        """The worst decision among its features; None where there is nothing to decide."""
        verdict = self.verdict
        return verdict.decision if verdict is not None else None


def one_run(id: str, book: Path) -> OneRun:
    """The run of that id; InputRefused when the book has none."""
    with opened(book) as kept:
        stored = kept.run(id)
        if stored is None:
            raise InputRefused.of("run", id, "There is no such run in this book.")
        then = read_now(kept, book, stored.run.taken)
        now = read_now(kept, book)
        told = _told(stored, then, now, told_facts(stored, detent_words(kept.answers())))
        if told.finding is None or not told.latest:
            return told
        return replace(told, cause=cause_here(kept, now, told.check, told.finding, told.full, told.unit, id))


def _told(stored: StoredRun, then: ShopNow, now: ShopNow, turned: Mapping[str, str]) -> OneRun:
    """turned: the facts of the run, with the angle that the person has told of an older one."""
    run = stored.run
    check, typed, facts = as_check(stored)
    unit: Unit = "mm" if run.unit == "mm" else "in"
    full = full_names(check, now.shop, run.fixture, turned)
    standings = in_words(now, (s for s in now.standings() if s.feature in full.values()))
    told = OneRun(
        id=run.id,
        check=check,
        taken=run.taken,
        fixture=run.fixture,
        unit=unit,
        facts=run.facts,
        typed=stored.as_typed,
        finding=None,
        drawing=None,
        names={bare: said(name) for bare, name in full.items()},
        full=full,
        latest=_latest(stored, now, set(full.values())),
        standings=standings,
        amounts={s.feature: _amounts(s) for s in standings},
        moved=moved_before(now, full),
    )
    try:
        scatter = then.scatter(check, owner_of(check.names[0], then.shop, run.fixture))
        taken = take(check, typed, facts, instruments=then.instruments, unit=unit, scatter=scatter)
        finding = examine(taken)
    except InputRefused as refused:
        return replace(told, refused=tuple(fault.text for fault in refused.faults))
    if finding.refused:
        return replace(told, refused=tuple(seen.text for seen in finding.refused))
    finding, waits = counted(finding, run.id, now, full) if run.check != PROOF else (finding, False)
    seen = (*finding.seen, *ground_of(check, then, run.fixture, turn_of(check, turned)))
    drawing = drawn(check, taken, finding, standings, waits=waits)
    shown = replace(finding, seen=seen)
    shown = ordered(shown, standings, full) if told.latest else shown
    return replace(told, finding=shown, drawing=drawing, waits=waits)


def _amounts(standing: FeatureStatus) -> tuple[str, str, str]:
    return amount_to_type(standing), amount_shown(standing), turned_at(standing)


def _latest(stored: StoredRun, now: ShopNow, features: set[str]) -> bool:
    later = [o for o in now.history.observed if o.feature in features and o.at > stored.run.taken]
    turned = [m for m in now.history.moved if m.feature in features and m.at > stored.run.taken]
    return not later and not turned
