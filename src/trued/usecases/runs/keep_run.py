"""Keep a run of a check in the book: the facts of the shop fill in, the scatter learnt here is used."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.equipment.fence_swing import Detents
from trued.equipment.fixture_facts import facts_for
from trued.equipment.shop import Shop
from trued.errors import Faults, InputRefused
from trued.measure.decision import Conformity, ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.procedure import Check, Flag, RunInput, Severity, examine, take, turn_of
from trued.standing.feature import find_feature, full_name
from trued.standing.owner import owner_of
from trued.store.ids import new_id
from trued.store.kept.run_rows import rows_of
from trued.store.rows import ReadingRow, RunRow, StoredRun
from trued.units import Unit
from trued.usecases.changes.slips import add_readings
from trued.usecases.questions.asking import answer_of, keep_answers, settle
from trued.usecases.questions.clock import of_features, time_asked
from trued.usecases.questions.once import place_of_run
from trued.usecases.questions.row_text import time_of
from trued.usecases.runs.error_cause import cause_here
from trued.usecases.runs.kept_facts import with_typed_facts
from trued.usecases.runs.same_strip import CODE, SAME, run_before, strip_question, was_added
from trued.usecases.runs.taking import CheckRun, examined, taken_new
from trued.usecases.runs.verdict import counted, ordered
from trued.usecases.shop.forbidden_work import forbidden_seen
from trued.usecases.shop.list_checks import one_check
from trued.usecases.shop.shop_now import ShopNow, as_check, opened, read_now
from trued.usecases.standing.move_instructions import in_words

if TYPE_CHECKING:
    from trued.store.book import Book


def keep_run(
    check: Check,
    typed: Sequence[str],
    facts: Mapping[str, str],
    path: Path,
    fixture: str | None,
    unit: Unit | None,
    limits: Mapping[str, ToleranceLimits],
    at: datetime | None,
    device: str = "",
    key: str | None = None,
    answers: Sequence[str] = (),
) -> CheckRun:
    """Evaluate a run within a shop and keep it; nothing is kept of a run that is refused."""
    with opened(path) as book:
        now = read_now(book, path, at)
        shop = now.shop
        in_use = fixture_for(check, shop, fixture or "")
        merged = merged_facts(check, facts, shop, in_use)
        thing = owner_of(check.names[0], shop, in_use)
        scatter = now.scatter(check, thing)
        bare = unit or shop.unit
        known, taken = taken_new(
            check,
            typed,
            merged,
            detents_in(shop, in_use),
            instruments=now.instruments,
            unit=bare,
            scatter=scatter,
            limits=limits,
        )
        examined(taken)
        full = full_names(check, shop, in_use, known)
        sent = _Told(now.now, at, in_use, known, device, full.values())
        kept = _kept_once(book, check, taken, sent, key, answers)
        run = kept.id
        if kept.strip is not None:
            taken = _taken_of(kept.strip, now, scatter, limits)
        told = with_typed_facts(check, facts, shop, in_use, bare)
        if told != shop:
            book.save_shop(told)
        after = read_now(book, path, None if at is None else max(at, kept.at))
        shown = examine(replace(taken, scatter=after.scatter(check, thing)))
        shown, waits = counted(shown, run, after, full)
        seen = (*shown.seen, *ground_of(check, after, in_use, turn_of(check, known)))
        believed = in_words(after, (s for s in after.standings() if s.feature in full.values()))
        cause = cause_here(book, after, check, shown, full, bare, run)
        moved = moved_before(after, full)
        finding = ordered(replace(shown, seen=seen), believed, full)
        return CheckRun(check, taken, finding, full, run, believed, cause, waits, moved)


def moved_before(now: ShopNow, full: Mapping[str, str]) -> frozenset[str]:
    """The features of a check of which a move was recorded: how that is done is known."""
    return frozenset(move.feature for move in now.history.moved) & frozenset(full.values())


@dataclass(frozen=True, slots=True)
class _Told:
    """Of a run that is to be kept: when it is (`at` where that was told), with what it was done, and who sends it."""

    now: datetime
    at: datetime | None
    fixture: str
    facts: Mapping[str, str]
    device: str
    features: Collection[str]


@dataclass(frozen=True, slots=True)
class _Kept:
    """The id and time of the run as kept; `strip` the run that it is a second reading of, with all readings of both."""

    id: str
    at: datetime
    strip: StoredRun | None = None


def _kept_once(
    book: Book, check: Check, taken: RunInput, told: _Told, key: str | None, answers: Sequence[str]
) -> _Kept:
    """As it is kept now, or was when it was sent before; or with the run whose strip was read again."""

    def rows(id: str, at: datetime, supersedes: str | None) -> tuple[RunRow, tuple[ReadingRow, ...]]:
        device = told.device or None
        return rows_of(taken, id, at, fixture=told.fixture, facts=told.facts, device=device, supersedes=supersedes)

    place = place_of_run(book, key, *rows(new_id(), told.now, None))
    if place.there is not None:
        return _Kept(place.there.id, time_of(place.there))
    time = time_asked(book, told.at, told.now, of_features(told.features))
    settled = settle((*place.questions, *time.questions), answers)
    slip, at = place.instead_of(settled), time.moment(settled)
    at = slip.taken if isinstance(slip, RunRow) and told.at is None else at
    run, readings = rows(place.id, at, slip.id if slip is not None else None)
    before = run_before(book, check, run)
    if before is not None and was_added(before, run):
        return _Kept(before.run.id, before.run.taken, before)
    asked = strip_question(check, before, run, readings) if before is not None and not settled else None
    if asked is not None and before is not None:
        settled = settle((asked,), answers)
        if answer_of(settled, CODE) == SAME:
            return _Kept(before.run.id, before.run.taken, add_readings(book, before, StoredRun(run, readings)))
    time.mend(book, settled)
    book.add_run(run, readings)
    keep_answers(book, settled, run.id, told.now, told.device)
    return _Kept(run.id, at)


def _taken_of(
    stored: StoredRun, now: ShopNow, scatter: EstimatedSd | None, limits: Mapping[str, ToleranceLimits]
) -> RunInput:
    """A kept run with all of its readings."""
    check, typed, facts = as_check(stored)
    unit: Unit = "mm" if stored.run.unit == "mm" else "in"
    return take(check, typed, facts, instruments=now.instruments, unit=unit, scatter=scatter, limits=limits)


def merged_facts(check: Check, given: Mapping[str, str], shop: Shop, fixture: str) -> dict[str, str]:
    """The shop's facts that the check asks for, with what was given; a fact that contradicts the book is refused."""
    names = {fact.name for fact in check.facts}
    book = {name: text for name, text in (facts_for(shop, fixture) if fixture else {}).items() if name in names}
    faults = Faults()
    for name, text in given.items():
        if name in book and _differs(check, name, text, book[name], shop.unit):
            faults.add(f"--{name}", text, f"The book says {book[name]}; leave --{name} out, or change the shop's file.")
    faults.raise_if_any()
    return book | dict(given)


def _differs(check: Check, name: str, given: str, kept: str, unit: Unit) -> bool:
    """Whether two texts of one fact mean something else: read both the same way."""
    fact = next(f for f in check.facts if f.name == name)
    from trued.procedure.reading import read_fact

    one, two = read_fact(fact, given, unit), read_fact(fact, kept, unit)
    if isinstance(one, float) and isinstance(two, float):
        return abs(one - two) > 1e-6
    return one != two


def full_names(check: Check, shop: Shop, fixture: str, facts: Mapping[str, str]) -> dict[str, str]:
    """The full name of each of its features, in this shop and at the angle that the facts tell."""
    return {bare: full_name(owner_of(bare, shop, fixture), bare, turn_of(check, facts)) for bare in check.names}


def fixture_for(check: Check, shop: Shop, fixture: str) -> str:
    """The fixture with which a check is done, else the shop's sled; "" without one. A wing has no fence and no stop."""
    if not fixture:
        return shop.sled.id if shop.sled is not None else ""
    named = shop.fixture(fixture)
    bare = check.names[0]
    if named.kind == "wing" and not bare.startswith("wing-") and owner_of(bare, shop, named.id) == named.id:
        others = ", ".join(one.id for one in shop.in_use if one.kind != "wing") or "none is described yet"
        raise InputRefused.of("fixture", fixture, f"{fixture} is a wing. Name the sled or gauge: {others}.")
    return named.id


def detents_in(shop: Shop, fixture: str) -> Detents:
    """The named detents of the fixture in use."""
    return next((one.detents for one in shop.fixtures if one.id == fixture), Detents())


def ground_of(check: Check, now: ShopNow, fixture: str, angle: str = "0") -> tuple[Flag, ...]:
    """What must be true before this check means what it says, and is not proven so.

    angle: of the run, as its features' names end; the corner of a cut is the fence's when square, else its detent's.
    """
    standings = now.standings()
    known = {s.feature: s for s in standings}
    states: dict[str, list[str]] = {}
    for named_so in check.ground:
        turned = angle != "0" and "detent-angle" not in check.names  # which itself finds that corner
        bare = "detent-angle" if named_so == "fence-angle" and turned else named_so
        if bare.startswith("detent-") and angle == "0":
            continue  # before the angle is told nothing can be said of its detent
        full = full_name(owner_of(bare, now.shop, fixture), bare, angle)
        standing, name = known.get(full), _ground_name(bare)
        if standing is None:
            states.setdefault("Not checked: {names}. Do {first} first.", []).append(name)
        elif standing.stale:
            states.setdefault("Recheck first: {names}.", []).append(name)
        elif standing.limits is not None and standing.decision is not Conformity.PROVEN_IN:
            states.setdefault("Not shown in tolerance: {names}. Check {first} first.", []).append(name)
    return forbidden_seen(check, now.shop, standings, lambda: now.closed) + tuple(
        Flag("ground", Severity.NOTE, text.format(names=", ".join(dict.fromkeys(names)), first=names[0]))
        for text, names in states.items()
    )


def _ground_name(bare: str) -> str:
    """The check that finds it, as its title begins: one run of it serves all of its features."""
    known = find_feature(bare)
    title = one_check(known.check).title.partition(":")[0] if known is not None else bare.replace("-", " ")
    return title[:1].lower() + title[1:]
