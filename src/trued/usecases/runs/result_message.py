"""What one run of a check comes to, for every surface: verdict, one thing to do, number, what is not checked."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from trued.measure.decision import Conformity
from trued.measure.estimate import interval
from trued.measure.series.dominant_error import Cause, DominantError
from trued.procedure import ONE_RUN, Check, Estimate, Finding, Move
from trued.standing.feature import find_feature, named
from trued.standing.feature_status import ActionKind
from trued.units import Unit
from trued.units.number_format import percent, quantity
from trued.usecases.changes.adjustments import hand_of_move
from trued.usecases.runs.error_cause import cause_said
from trued.usecases.runs.verdict import Says, Verdict
from trued.usecases.standing.action_queue import ActionStep, visits
from trued.words.decisions import NOT_READY, Badge, badge_of, likely_in
from trued.words.figures import figure, first_up, limit_text, short_name, value_text
from trued.words.message import CheckNext, Figure, Fold, Message, Order, Record
from trued.words.orders import again, at_the_saw, before_adjusting, sentences, steps_of

if TYPE_CHECKING:
    from trued.standing.feature_status import FeatureStatus


@dataclass(frozen=True, slots=True)
class ResultFacts:
    """What a result is told from; the fields are those of a run (`taking.CheckRun`, `run_review.OneRun`).

    moved: features of which a move was recorded here: how it is done is known then, and goes behind `--more`.
    """

    check: Check
    finding: Finding
    verdict: Verdict
    standings: Sequence[FeatureStatus]
    unit: Unit
    full: Mapping[str, str] = field(default_factory=dict)
    cause: DominantError | None = None
    run: str | None = None
    moved: Collection[str] = ()


def result_message(facts: ResultFacts) -> Message:
    """The answer. Dangers, questions, orders and warnings are in its front; the budget and reasons lie in its folds."""
    subject = facts.check.title.partition(":")[0]
    verdict = facts.verdict
    if verdict.read_again:
        return _bad_run(subject, facts)
    rows = _rows(facts)
    if verdict.says is Says.ASKS and verdict.question is not None:
        figures = tuple(row.figure(facts.unit) for row in rows)
        lead = "Don't adjust."
        return Message(subject, Badge.NOT_KNOWN, lead, verdict.dangers, (verdict.question.text,), figures=figures)
    orders = tuple(_orders(facts))
    badge = Badge.RECHECK if any(s.stale for s in facts.standings) else badge_of(verdict.decision)
    adjusts = any(order.record is not None or order.steps for order in orders)
    return Message(
        subject,
        badge,
        _lead(badge, facts, adjusts=adjusts, ordered=bool(orders)),
        verdict.dangers,
        (),
        orders,
        tuple(_figures(rows, facts.unit)),
        tuple(dict.fromkeys(_asides(rows, facts))),
        tuple(_folds(rows, facts, orders)),
    )


def _lead(badge: Badge, facts: ResultFacts, *, adjusts: bool, ordered: bool) -> str:
    if badge is Badge.IN or (badge is not Badge.MEASURED and _left(facts) and not ordered):
        return "Leave it." if not ordered else ""
    return "Don't adjust." if badge is Badge.NOT_KNOWN and not adjusts else ""


def _left(facts: ResultFacts) -> bool:
    steps = [s.next for s in facts.standings if s.next is not None]
    return bool(steps) and all(step.do is ActionKind.LEAVE for step in steps)


def _bad_run(subject: str, facts: ResultFacts) -> Message:
    verdict = facts.verdict
    why = [at_the_saw(text) for text in verdict.why]
    if facts.cause is not None:
        why.append(cause_said(facts.cause, tuple(facts.standings)))
    order = Order(f"{first_up(again(facts.check.id, facts.check.minutes, same_setup=True))}.", facts.check.cautions)
    return Message(subject, Badge.BAD_RUN, "Don't adjust.", verdict.dangers, tuple(why), (order,))


@dataclass(frozen=True, slots=True)
class _Row:
    """One feature with what decides it: all runs together where a book has them, else this run."""

    feature: str
    unit: str
    value: float
    interval95: tuple[float, float] | None
    estimate: Estimate | None
    status: FeatureStatus | None
    decision: Conformity | None
    chance: float | None
    source: str
    safety: bool

    def figure(self, unit: Unit, sure: str = "") -> Figure:
        limits = self.status.limits if self.status is not None else self.estimate.limits if self.estimate else None
        return figure(self.feature, self.value, self.interval95, self.unit, unit, limits, sure)


def _rows(facts: ResultFacts) -> list[_Row]:
    known = {s.feature: s for s in facts.standings if s.believed}
    rows = [_row(e, facts.full.get(e.feature, e.feature), known) for e in facts.finding.estimates]
    shown = {row.feature for row in rows}
    return rows + [_of_status(s, None) for s in known.values() if s.feature not in shown]


def _row(e: Estimate, full: str, known: Mapping[str, FeatureStatus]) -> _Row:
    if (status := known.get(full)) is not None:
        return _of_status(status, e)
    return _Row(
        full, e.unit, e.value, e.interval95, e, None, e.decision, e.chance_in, e.scatter_source, safety=e.safety
    )


def _of_status(s: FeatureStatus, e: Estimate | None) -> _Row:
    feature = find_feature(s.feature)
    spread = feature is not None and feature.spread
    alone = e.interval95 if e is not None and s.runs == 1 else None
    within = alone if spread else interval(s.x)
    return _Row(s.feature, s.unit, s.x.value, within, e, s, s.decision, s.chance_in, s.scatter_source, safety=s.safety)


def _figures(rows: Sequence[_Row], unit: Unit) -> Iterator[Figure]:
    """What is out and what is not known has a line of its own; what is in tolerance shares one with its like."""
    inside = [row for row in rows if row.decision is Conformity.PROVEN_IN]
    for row in rows:
        if row.decision is Conformity.PROVEN_IN and len(rows) > 1:
            continue
        sure = f"{percent(row.chance)} sure" if row.decision is Conformity.PROVEN_IN and row.chance is not None else ""
        if row.decision is Conformity.NOT_PROVEN and row.chance is not None and len(rows) > 1:
            sure = likely_in(row.chance, row.source).removesuffix(".")
        yield row.figure(unit, sure)
    if inside and len(rows) > 1:
        yield Figure("In tolerance", ", ".join(short_name(row.feature) for row in inside))


def _asides(rows: Sequence[_Row], facts: ResultFacts) -> Iterator[str]:
    undecided = [row for row in rows if row.decision is Conformity.NOT_PROVEN]
    if len(rows) == 1:
        yield from (likely_in(row.chance, row.source) for row in undecided if row.chance is not None)
    if any(row.safety for row in undecided):
        yield NOT_READY
    yield from (s.next.why for s in facts.standings if s.next is not None and _kept_apart(s))
    dates = [s.look_again for s in facts.standings if s.look_again is not None and s.look_again.date is not None]
    if dates and facts.verdict.decision is Conformity.PROVEN_IN:
        yield min(dates, key=lambda again_at: str(again_at.date)).text
    if facts.cause is not None and facts.cause.cause is Cause.METHOD:
        yield cause_said(facts.cause, tuple(facts.standings))  # what to look at before the next run
    for seen in facts.finding.seen:
        if seen.act != "danger" and seen.code != ONE_RUN.code:
            yield seen.text


def _kept_apart(s: FeatureStatus) -> bool:
    """It is left as it is although it is not proven in: why is no detail then."""
    return s.next is not None and s.next.do is ActionKind.LEAVE and s.decision is not Conformity.PROVEN_IN


def _orders(facts: ResultFacts) -> Iterator[Order]:
    if facts.standings:
        steps = [step for visit in visits(facts.standings) for step in visit.steps]
        yield from (_of_step(step, facts, alone=len(steps) == 1) for step in steps)
        return
    moves = facts.finding.moves
    yield from (_of_move(move, facts, alone=len(moves) == 1) for move in moves)
    if not facts.finding.moves and facts.verdict.decision is Conformity.NOT_PROVEN:
        text = f"{first_up(again(facts.check.id, facts.check.minutes, same_setup=True))}.{_expected(facts)}"
        yield Order(text, facts.check.cautions)


def _expected(facts: ResultFacts) -> str:
    runs = [e.runs_to_decide for e in facts.finding.estimates if e.runs_to_decide is not None]
    return f" Expect {max(runs)} runs in all." if runs else ""


def _of_step(step: ActionStep, facts: ResultFacts, *, alone: bool) -> Order:
    status = step.first
    action = status.next
    if action is None:
        return Order("")
    names = "" if alone else ", ".join(short_name(s.feature) for s in step.serves)
    if action.do is ActionKind.MOVE or action.mends:
        hidden = action.hand is not None and bool(action.hand.at) and status.feature in facts.moved
        record = record_of(status)
        return adjusting_order(
            action.text, status.feature, record, facts.check, names=names, why=action.why, hidden=hidden
        )
    text = at_the_saw(action.text)
    if action.do is ActionKind.MEASURE and action.check == facts.check.id:
        text += _expected(facts)
    return Order(text, facts.check.cautions if action.check == facts.check.id else (), why=action.why)


def _of_move(move: Move, facts: ResultFacts, *, alone: bool) -> Order:
    full = facts.full.get(move.feature, move.feature)
    hand = hand_of_move(move, facts.finding.estimates, full, facts.unit)
    record = Record(typed_name(full), move.direction, hand.typed, full) if facts.run and hand is not None else None
    return adjusting_order(move.text, full, record, facts.check, names="" if alone else short_name(full))


def adjusting_order(
    text: str,
    feature: str,
    record: Record | None,
    check: Check,
    *,
    names: str = "",
    why: str = "",
    hidden: bool = False,
) -> Order:
    """A move or a fix: the order, the warning before the hand, how it is done, and the run that follows.

    names: of the features that it serves, where the sentence does not say. hidden: how it is done is known here, and
           goes behind `--more`.
    """
    first, *how = sentences(at_the_saw(text))
    run = CheckNext(check.id, again(check.id, check.minutes), check.minutes, check.cautions)
    named_so = not names or names.partition(" ")[0] in first.lower()
    lead = first if named_so else f"{first_up(names)}: {first}"
    warnings = (before_adjusting(feature),)
    return Order(
        lead, warnings, () if hidden else steps_of(how), record, run, why if not hidden else f"{why} {' '.join(how)}"
    )


def record_of(status: FeatureStatus) -> Record | None:
    """How the move that is ordered of a feature is written down; None where none is."""
    action = status.next
    if action is None or action.do is not ActionKind.MOVE or not action.direction:
        return None
    typed = action.hand.typed if action.hand is not None else ""
    return Record(typed_name(status.feature), action.direction, typed, status.feature)


def typed_name(full: str) -> str:
    """A feature as it is typed: bare, with its angle where it has several."""
    known, parts = find_feature(full), named(full)
    several = known is not None and known.angles in ("swing", "tilt")
    return f"{parts.feature}@{parts.angle}" if several and parts.angle else parts.feature


def _folds(rows: Sequence[_Row], facts: ResultFacts, orders: Sequence[Order]) -> Iterator[Fold]:
    unit = facts.unit
    why = [text for row in rows for text in _numbers(row, unit)]
    why += [order.why for order in orders if order.why]
    if facts.cause is not None:
        why.append(cause_said(facts.cause, tuple(facts.standings)))
    yield Fold("Why", tuple(dict.fromkeys(text.strip() for text in why)))
    expects = tuple(s.next.expect for s in facts.standings if s.next is not None and s.next.expect)
    if expects:
        yield Fold("Move", expects)
    budget = tuple(_budget(e, facts) for e in facts.finding.estimates if e.components)
    if budget:
        yield Fold("Uncertainty budget (standard uncertainty of this run)", budget)
    if facts.run:
        yield Fold("Run", (facts.run,))


def _numbers(row: _Row, unit: Unit) -> Iterator[str]:
    limits = row.status.limits if row.status is not None else row.estimate.limits if row.estimate is not None else None
    value = value_text(row.feature, row.value, None, row.unit, unit, limits)
    text = f"{first_up(short_name(row.feature))}: {value}."
    if row.interval95 is not None:
        low, high = (quantity(x, row.unit, unit) for x in row.interval95)
        text += f" 95% interval {low} to {high}."
    if limits is not None:
        text += f" Limit {limit_text(limits, row.unit, unit)}."
    if row.chance is not None:
        text += f" {first_up(percent(row.chance))} in tolerance."
    yield text


def _budget(e: Estimate, facts: ResultFacts) -> str:
    parts = [f"{c.label} {quantity(c.u, e.unit, facts.unit)}" for c in e.components if c.u > 0.1 * e.u]
    name = first_up(short_name(facts.full.get(e.feature, e.feature)))
    return f"{name}: {', '.join([*parts, f'combined {quantity(e.u, e.unit, facts.unit)}'])}"
